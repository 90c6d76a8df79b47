package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"fliptrue/calc/batch"
	"fliptrue/calc/chart"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"

	"github.com/spf13/cobra"
)

func batchCommand(r *runner) *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use: "batch JOB", Short: "Parts on one mounting: how each came out, what drifts, what the next one reads",
		Long: "Lists the parts of a job with what was found of each, says what drifts from part to part, how often the\nmounting is looked at " +
			"again, and what the next part reads beside its walk. Writes nothing.",
		Args: argsNamed("JOB"),
		RunE: func(_ *cobra.Command, args []string) error { return r.do(batched(r.env, args[0], asJSON)) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON; lengths in mm, times in minutes")
	return c
}

// batchJSON is a job's parts. Lengths in mm, times in minutes; null where it was not found.
type batchJSON struct {
	Job      string      `json:"job"`
	Wanted   int         `json:"wanted"` // 0: the job does not say
	Parts    []batchPart `json:"parts"`
	Drifts   []driftJSON `json:"drifts"`
	Every    int         `json:"every"`    // the mounting is looked at again every so many parts
	Interval float64     `json:"interval"` // the same as a real number
	Next     int         `json:"next"`     // the part to be made next
	Due      []string    `json:"due"`      // what it reads beside its walk
	Suspect  []int       `json:"suspect"`  // parts to be measured before they are finished
	Paused   *float64    `json:"paused"`   // hours since anything was done
}

type batchPart struct {
	Part    int      `json:"part"`
	Record  string   `json:"record"`
	State   string   `json:"state"`
	Taken   bool     `json:"taken"`   // the mounting was taken over from the part before
	Drift   *float64 `json:"drift"`   // of bore and floor since the part before
	High    *float64 `json:"high"`    // the first cut over its program
	X       *float64 `json:"x"`       // mismatch as inspected
	Y       *float64 `json:"y"`       //
	Mishaps int      `json:"mishaps"` // declared
	Waivers int      `json:"waivers"` //
	Moved   bool     `json:"moved"`   // its check of the mounting did not pass
	Suspect bool     `json:"suspect"` // see suspect
	at      time.Time
	grew    jobs.Grew // of the mismatch: by the part's growth
}

// without is a mismatch without what the part's growth made of it.
func (p batchPart) without(found *float64, grew float64) *float64 {
	if found == nil {
		return nil
	}
	v := *found - grew
	return &v
}

type driftJSON struct {
	Of    string   `json:"of"`
	Alarm string   `json:"alarm"` // quiet, level up, stop, too few
	Next  *float64 `json:"next"`  // bound of the next part, 95 %
}

func batched(e *env, path string, asJSON bool) (exit, error) {
	j, err := e.readJob(path)
	if err != nil {
		return exitOf(err), err
	}
	out, err := e.batchOf(j, path)
	if err != nil {
		return exitOf(err), err
	}
	if asJSON {
		e.json(out)
	} else {
		fmt.Fprint(e.out, out.text(j.Unit))
	}
	if len(out.Suspect) > 0 || slices.ContainsFunc(out.Drifts, func(d driftJSON) bool { return d.Alarm == alarms[batch.Stop] }) {
		return exitNo, nil
	}
	return exitOK, nil
}

func (e *env) batchOf(j *jobs.Job, path string) (batchJSON, error) {
	out := batchJSON{Job: j.Name, Wanted: j.Parts, Parts: []batchPart{}, Drifts: []driftJSON{}, Due: []string{}, Suspect: []int{}, Next: 1}
	records, err := jobs.Records(e.disk, path)
	if err != nil {
		return out, err
	}
	for _, rec := range records {
		r, err := e.recordOf(j, path, rec.Path)
		if errors.Is(err, errNotBegun) {
			continue
		}
		if err != nil {
			return out, err
		}
		out.Parts = append(out.Parts, batchPartOf(r, rec))
		if out.Next = rec.Part + 1; out.Parts[len(out.Parts)-1].State != "released" {
			out.Next = rec.Part
		}
	}
	out.suspects()
	out.drifts(j)
	if err := out.interval(j); err != nil {
		return out, &inputError{path, err.Error(), "correct worth and spares in the job"}
	}
	out.due(j)
	if n := len(out.Parts); n > 0 {
		h := e.now().Sub(out.Parts[n-1].at).Hours()
		out.Paused = finite(math.Max(0, h))
	}
	return out, nil
}

// batchPartOf is what a record says of its part.
func batchPartOf(r record, rec jobs.PartRecord) batchPart {
	x := batchPart{Part: rec.Part, Record: rec.Path, State: "not begun"}
	for _, ev := range r.events {
		for key := range ev.Cards {
			x.Taken = x.Taken || ev.Begin != "" && strings.HasPrefix(key, "taken.")
		}
	}
	fate := ""
	for i := range r.setups {
		st := &r.setups[i].state
		if st.LastAt.After(x.at) {
			x.at = st.LastAt
		}
		if f := fateOf(st); f != "" {
			fate = f
		}
		switch s := st.Plan().Setup; {
		case s.Second():
			x.second(st)
		case s.Kind == kit.Inspect:
			if m, ok := facts.Mismatch.By(func(id fold.FactID) (fold.Known, bool) { return st.Fact(id) }); ok {
				x.X, x.Y = finite(float64(m.DX)), finite(float64(m.DY))
			}
			if c, ok := facts.Corrected.By(func(id fold.FactID) (fold.Known, bool) { return st.Fact(id) }); ok {
				x.grew = jobs.Grew{X: float64(c.GrewX), Y: float64(c.GrewY)}
			}
		}
	}
	if fate != "" { // whatever its setups say
		x.State = fate
	}
	return x
}

// fateOf is what the person said becomes of the part, at its inspection or after it let go; "" where it is kept, or nobody said.
func fateOf(st *fold.State) string {
	for _, ss := range st.Steps {
		if ss.Round == nil {
			continue
		}
		switch t, _ := ss.Round.Get("fate"); t.Value {
		case "scrapped", "scrap it":
			return "scrapped"
		case "mended":
			return "mended"
		}
	}
	return ""
}

// second is what its second side says.
func (x *batchPart) second(st *fold.State) {
	if x.State = "held"; st.Released {
		x.State = "released"
	}
	x.Waivers = len(st.Waivers)
	for _, h := range st.Mishaps {
		if h.By == "" {
			x.Mishaps++
		}
	}
	if d, ok := facts.Drift.By(func(id fold.FactID) (fold.Known, bool) { return st.Fact(id) }); ok {
		x.Drift = finite(float64(d.D))
	}
	for _, ss := range st.Steps {
		if ss.ID == "next" && len(ss.Rounds) > 0 && !ss.Verdict.OK() {
			x.Moved = true
		}
		for _, l := range ss.Outcome.Lines {
			if l.Label == highLabel && ss.Verdict.OK() {
				x.High = finite(l.Value)
			}
		}
	}
}

// highLabel is the row of the first cut's height.
const highLabel = "cutter stands high by"

// suspects are the parts since the last good look at the mounting, where one was not: at its beginning a part was looked at by its
// check, or begun from the bare table.
func (out *batchJSON) suspects() {
	for k, p := range out.Parts {
		if !p.Moved {
			continue
		}
		good := k - 1
		for good > 0 && (out.Parts[good].Moved || out.Parts[good].Taken && out.Parts[good].Drift == nil) {
			good--
		}
		for i := max(good, 0); i < k; i++ { // the check came before it was cut
			out.Parts[i].Suspect = true
		}
	}
	for _, p := range out.Parts {
		if p.Suspect {
			out.Suspect = append(out.Suspect, p.Part)
		}
	}
}

const mounting = "mounting"

var alarms = map[batch.Alarm]string{batch.Quiet: "quiet", batch.LevelUp: "level up", batch.Stop: "stop"}

// drifts looks at what was read of each part, in their order.
func (out *batchJSON) drifts(j *jobs.Job) {
	for _, q := range []struct {
		of    string
		limit float64
		u     float64 // standard uncertainty of one value (common practice)
		value func(batchPart) *float64
	}{
		{mounting, 0, 0.0015, func(p batchPart) *float64 { return p.Drift }},
		{"height of the first cut", 0, 0.0025, func(p batchPart) *float64 { return p.High }},
		{"mismatch X", float64(j.Allowance), 0.0015, func(p batchPart) *float64 { return p.without(p.X, p.grew.X) }},
		{"mismatch Y", float64(j.Allowance), 0.0015, func(p batchPart) *float64 { return p.without(p.Y, p.grew.Y) }},
	} {
		var xs []float64
		for _, p := range out.Parts {
			if v := q.value(p); v != nil {
				xs = append(xs, *v)
			}
		}
		if len(xs) == 0 {
			continue
		}
		d := driftJSON{Of: q.of, Alarm: fmt.Sprintf("%d of %d parts: too few to say", len(xs), chart.Enough)}
		target := 0.0
		if q.of == mounting { // how far it is from where it was is never below 0
			for _, v := range xs {
				target += v / float64(len(xs))
			}
		}
		if got, err := batch.ToDrift(xs, target, q.limit, q.u); err == nil {
			d.Alarm, d.Next = alarms[got.Alarm], finite(got.Next)
		}
		out.Drifts = append(out.Drifts, d)
	}
}

// What the check of a mounting costs and how often a mounting moves before a shop has its own (common practice, from memory).
const (
	checkMinutes = 2.0
	movesListed  = 0.01
	worthUnsaid  = 300.0 // min, of a job that gives none
)

// interval weighs a check against the part that is lost where the mounting moved unseen; how often it does is learned.
func (out *batchJSON) interval(j *jobs.Job) error {
	r := batch.Rate{Listed: movesListed}
	for _, p := range out.Parts {
		if p.Drift != nil || p.Moved {
			r.Walks++
		}
		if p.Moved {
			r.Caught++
		}
	}
	p, err := r.Learned()
	if err != nil {
		return err
	}
	w := worthUnsaid
	if j.Worth > 0 {
		w = float64(j.Worth) / float64(1+j.Spares)
	}
	i, err := batch.ToInterval(checkMinutes, p, w)
	out.Every, out.Interval = i.Every, i.Best
	return err
}

// due is what the next part reads beside its own walk (common practice, from memory).
func (out *batchJSON) due(j *jobs.Job) {
	n, done := out.Next, 0
	for _, p := range out.Parts {
		if p.State == "released" {
			done++
		}
	}
	last := j.Parts > 0 && n >= j.Parts
	say := func(when bool, format string, a ...any) {
		if when {
			out.Due = append(out.Due, fmt.Sprintf(format, a...))
		}
	}
	say(true, "number it on its waste: %d", n)
	say(n == 1 && j.Parts > 1, "order: a dummy first, then the worst blank, then the good ones")
	say(n > 1 && out.Every == 1, "fixture recheck before it goes in, at every part")
	say(n > 1 && out.Every > 1, "fixture recheck before it goes in; by drift and worth every %d parts would do", out.Every)
	say(n%3 == 0, "finisher: its length, and the width of a test cut")
	say(n%3 == 0, "chips and dust: empty bin and bag, outside")
	say(n%5 == 0, "rock test or part heights; humidity and temperature")
	switch {
	case n == 1 || last:
		say(true, "inspection in full")
	case n == 2 || n%5 == 0:
		say(true, "inspection, short form")
	}
	say(slices.ContainsFunc(out.Drifts, func(d driftJSON) bool { return d.Alarm == alarms[batch.LevelUp] }),
		"one level more of reading: something drifts")
	if t := j.Fixture.Threads; t.Retire > 0 && j.Parts > 0 && t.Cycles+j.Parts-done > t.Retire {
		say(true, "threads: %d of %d cycles used, %d parts to come: nut bar or inserts first", t.Cycles, t.Retire, j.Parts-done)
	}
}

// row is a part as a line of the table.
func (p batchPart) row(sys unit.System) string {
	signed := func(v *float64) string {
		if v == nil {
			return "-"
		}
		return unit.Signed(*v, unit.KLength, sys, 0)
	}
	from := "anew"
	if p.Taken {
		from = "taken over"
	}
	said := ""
	if p.Mishaps > 0 {
		said += counted(p.Mishaps, "mishap") + " "
	}
	if p.Waivers > 0 {
		said += counted(p.Waivers, "waiver") + " "
	}
	if p.Moved {
		said += "MOUNTING MOVED "
	}
	if p.Suspect {
		said += "SUSPECT"
	}
	return fmt.Sprintf("  %4d  %-9s %-10s %8s %8s %9s %9s  %s\n", p.Part, p.State, from, signed(p.Drift), signed(p.High), signed(p.X),
		signed(p.Y), said)
}

func (out batchJSON) text(sys unit.System) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: ", out.Job)
	if out.Wanted > 0 {
		fmt.Fprintf(&b, "part %d of %d is next\n", out.Next, out.Wanted)
	} else {
		fmt.Fprintf(&b, "part %d is next\n", out.Next)
	}
	if len(out.Parts) > 0 {
		fmt.Fprintf(&b, "\n  %4s  %-9s %-10s %8s %8s %9s %9s  %s\n", "part", "state", "mounting", "moved", "height", "X", "Y",
			unit.UnitName(unit.KLength, sys))
	}
	for _, p := range out.Parts {
		b.WriteString(p.row(sys))
	}
	if len(out.Suspect) > 0 {
		hung(&b, "  ", fmt.Sprintf("SUSPECT: %v. Measure before you finish them.", out.Suspect))
	}
	if len(out.Drifts) > 0 {
		b.WriteString("\n")
	}
	for _, d := range out.Drifts {
		line := d.Of + ": " + d.Alarm
		if d.Next != nil {
			line += ", the next part within " + unit.Show(*d.Next, unit.KLength, sys, 0) + " (95 %)"
		}
		hung(&b, "  ", line)
	}
	fmt.Fprintf(&b, "\nthe next part, beside its walk:\n")
	for _, d := range out.Due {
		hung(&b, "  ", d)
	}
	if out.Paused != nil && *out.Paused >= 1 {
		hung(&b, "", fmt.Sprintf("Nothing was done for %.0f h. That counts as left alone: open --next --nothing-moved reads bore, far end, "+
			"floor and lengths again. Warm the spindle up for 30 min first.", *out.Paused))
	}
	b.WriteString("Counts and cautions stay at every part: routine kills. Gloves off at the machine.\n")
	return b.String()
}
