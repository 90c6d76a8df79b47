package desk

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/ncode"
	"fliptrue/steps/fold"
)

// Restart is where a stopped program is run again, as it goes into the record and comes out of it: the record is judged
// by this, whatever becomes of the file.
type Restart struct {
	File    string   `json:"file"`
	Sum     string   `json:"sum,omitempty"`
	Why     string   `json:"why,omitempty"` // it could not be told; then nothing else is there
	Stop    int      `json:"stop,omitempty"`
	Line    int      `json:"line,omitempty"`
	Text    string   `json:"text,omitempty"`
	Top     bool     `json:"top,omitempty"` // from its first line
	Typed   []string `json:"typed,omitempty"`
	Tool    int      `json:"tool,omitempty"`
	Minutes float64  `json:"minutes,omitempty"`
}

// RestartOf reads the program of a role and finds the line to begin at after a stop.
func RestartOf(p *fold.Plan, get GetFact, role, file string, stop ncode.Stop) Restart {
	r := Restart{File: file, Stop: stop.Line}
	in, why := stoppedIn(p, get, role)
	if why != "" {
		r.Why = why
		return r
	}
	r.Sum = in.file.Hash
	n, err := ncode.FindRestart(context.Background(), in.read(), in.how, in.clear, stop)
	if err != nil {
		r.Why = err.Error()
		return r
	}
	turn := ""
	if e := in.held.expect.Placed; e != nil {
		turn = fmt.Sprintf("G68 X0 Y0 R%.4f", e.Rotation*180/math.Pi)
	}
	r.Line, r.Top, r.Typed, r.Minutes = n.Line, n.Top, n.Typed(turn), n.Minutes
	r.Tool = max(n.Before.State.Tool, 0)
	if lines := strings.Split(strings.ReplaceAll(string(in.file.Data), "\r", ""), "\n"); n.Line <= len(lines) {
		r.Text = strings.TrimSpace(lines[n.Line-1])
	}
	return r
}

// Heading is what a person sees of it.
func (r Restart) Heading() string {
	if r.Why != "" {
		return r.File + ": not told"
	}
	return fmt.Sprintf("%s: line %d", r.File, r.Line)
}

// Written is it as a record keeps it.
func (r Restart) Written() string {
	b, err := json.Marshal(r)
	if err != nil || len(b) > maxReading {
		r.Typed, r.Text, r.Why = nil, "", tooLong
		b, _ = json.Marshal(r)
	}
	return r.Heading() + " " + string(b)
}

// ReadRestart reads it from a record.
func ReadRestart(text string) (Restart, bool) { return readKept[Restart](text) }
