package desk

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// Reading is what the reader of programs found in one file, as it goes into the record and comes out of
// it: the record is judged by this, whatever becomes of the file.
type Reading struct {
	File    string      `json:"file"`
	Sum     string      `json:"sum,omitempty"`    // first 16 hex digits of its SHA-256
	Unread  string      `json:"unread,omitempty"` // why it was not read; then nothing else is there
	Bytes   int64       `json:"bytes,omitempty"`
	Lines   int         `json:"lines,omitempty"`
	Against string      `json:"against,omitempty"` // what of the job it was held against
	Box     *[6]float64 `json:"box,omitempty"`     // in W: min x y z, max x y z
	Checks  []readCheck `json:"checks,omitempty"`
	Rows    []readRow   `json:"rows,omitempty"`
	Notes   []string    `json:"notes,omitempty"`
	Named   string      `json:"named,omitempty"`
	More    int         `json:"more,omitempty"` // checks, rows and notes that found no room
}

// readCheck is a check as it is kept.
type readCheck struct {
	ID      string  `json:"id"`
	Why     string  `json:"why"`
	Class   string  `json:"class"`
	Verdict string  `json:"is"`
	Got     float64 `json:"got,omitempty"`
	Max     float64 `json:"max,omitempty"`
	Length  bool    `json:"mm,omitempty"` // the numbers are lengths
	Count   bool    `json:"count,omitempty"`
	Words   string  `json:"says,omitempty"`
}

type readRow struct {
	Label   string `json:"of"`
	Text    string `json:"says"`
	Verdict string `json:"is,omitempty"`
}

var verdictOf = map[string]fold.Verdict{"": fold.NoVerdict, "PASS": fold.Pass, "FAIL": fold.Fail, "NOT PROVEN": fold.NotProven}

var classOf = map[string]fold.Class{"soft": fold.Soft, "hard": fold.Hard, "never": fold.Never}

// maxReading is the longest text that a reading makes; an event of a record holds 4000 bytes.
const maxReading = 3800

// Read is a report as a reading. Against comes from AgainstOf.
func (r *ProgramReport) Read(sum, against string) Reading {
	out := Reading{File: r.File, Sum: sum, Bytes: r.Bytes, Lines: r.Lines, Against: against, Box: r.Box, Notes: r.Notes, Named: r.Named}
	for _, c := range r.Checks {
		out.Checks = append(out.Checks, readCheck{c.Limit.ID, c.Limit.Why, c.Limit.Class.String(), c.Verdict.String(), c.Got, c.Limit.Max,
			c.Limit.Unit == unit.KLength, c.Count, c.Words})
	}
	for _, w := range r.Rows {
		out.Rows = append(out.Rows, readRow{w.Label, w.Text, w.Verdict.String()})
	}
	return out
}

// gravity orders checks by what stops the work.
func gravity(c readCheck) int {
	switch verdictOf[c.Verdict] {
	case fold.Fail:
		return 2
	case fold.NotProven:
		return 1
	}
	return 0
}

// Verdict is the worst of the checks; a file that was not read is not proven.
func (r Reading) Verdict() fold.Verdict {
	if r.Unread != "" {
		return fold.NotProven
	}
	return fold.Worst(r.Found())
}

// Found are the checks.
func (r Reading) Found() (out []fold.Check) {
	for _, c := range r.Checks {
		k := fold.Check{Limit: fold.Limit{ID: c.ID, Why: c.Why, Max: c.Max, Class: classOf[c.Class]}, Got: c.Got, Verdict: verdictOf[c.Verdict],
			Count: c.Count, Words: c.Words}
		if c.Length {
			k.Limit.Unit = unit.KLength
		}
		out = append(out, k)
	}
	return out
}

// Shown are the rows.
func (r Reading) Shown() (out []fold.Row) {
	for _, w := range r.Rows {
		out = append(out, fold.Row{Label: w.Label, Text: w.Text, Verdict: verdictOf[w.Verdict]})
	}
	return out
}

// Text is the reading in one line: a heading for people, then all of it. What finds no room is left out from
// the end, checks that stop the work last.
func (r Reading) Text() string {
	for {
		b, err := json.Marshal(r)
		if err != nil { // a number that is none
			return r.heading() + " {}"
		}
		if text := r.heading() + " " + string(b); len(text) <= maxReading || !r.shorten() {
			return text
		}
	}
}

// shorten drops the least that may go, false when nothing is left.
func (r *Reading) shorten() bool {
	switch {
	case len(r.Notes) > 0:
		r.Notes = r.Notes[:len(r.Notes)-1]
	case len(r.Rows) > 0:
		r.Rows = r.Rows[:len(r.Rows)-1]
	case len(r.Checks) > 1:
		slices.SortStableFunc(r.Checks, func(a, b readCheck) int { return gravity(b) - gravity(a) })
		r.Checks = r.Checks[:len(r.Checks)-1]
	default:
		return false
	}
	r.More++
	return true
}

func (r Reading) heading() string {
	if r.Unread != "" {
		return r.File + ": not read"
	}
	return fmt.Sprintf("%s: %s, %d lines, %d bytes, checksum %s", r.File, r.Verdict(), r.Lines, r.Bytes, r.Sum)
}

// ReadingOf is a reading as it stands in a record; ok is false for a text that is none.
func ReadingOf(text string) (Reading, bool) {
	r, ok := readKept[Reading](text)
	if !ok {
		return Reading{}, false
	}
	for _, c := range r.Checks {
		if _, known := verdictOf[c.Verdict]; !known || c.Verdict == "" {
			return Reading{}, false
		}
		if _, known := classOf[c.Class]; !known {
			return Reading{}, false
		}
	}
	return r, r.Unread != "" || r.Sum != "" && len(r.Checks) > 0
}

// heldKeys begin the keys of job and cards that a program is held against, besides those of the setup.
var heldKeys = []string{"job.unit", "job.tools.", "job.part.size", "job.part.skin", "job.part.given.thickness", "job.part.material",
	"machine.travel", "machine.dialect", "machine.homed", "machine.lengths", "fixture.pocket", "fixture.material", "fixture.support",
	"fixture.as-made.floor", "fixture.as-made.rim", "fixture.as-made.part-zero", "fixture.threads.relief", "fixture.threads.strip"}

// AgainstOf names all of job and cards that a program of the setup is held against, by their text: the same on
// every machine.
func AgainstOf(p *fold.Plan) string {
	flat := jobs.Flatten(p.Job)
	h := sha256.New()
	of := "job.setups." + p.Setup.Name + "."
	for _, k := range slices.Sorted(maps.Keys(flat)) {
		held := strings.HasPrefix(k, of) || slices.ContainsFunc(heldKeys, func(begin string) bool { return strings.HasPrefix(k, begin) })
		if held && !strings.HasSuffix(k, ".name") {
			fmt.Fprintf(h, "%s=%s\n", k, flat[k])
		}
	}
	return hex.EncodeToString(h.Sum(nil))[:8]
}
