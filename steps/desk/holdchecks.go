package desk

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// The limits of hold-down are no lengths of the job's choice: what is planned is held
// against the deepest cut that holds at the adverse end.

// retentionLimit is that a part stays in its seat: no reason mends a part that is thrown.
var retentionLimit = fold.Limit{ID: "hold.retention", Why: "depth of cut against leaving the seat", Class: fold.Never, Unit: unit.KLength}

// depth is a ceiling that can be shown.
func (h *Holding) depth(d unit.Length) float64 {
	most := float64(h.flute)
	if most == 0 {
		most = 100
	}
	return math.Max(0, math.Min(float64(d), most))
}

// Retention judges whether the planned cut leaves the part in its seat.
func (h *Holding) Retention(p *fold.Plan) fold.Check {
	low, high := h.Ends.Low.Retention, h.Ends.High.Retention
	l := retentionLimit
	l.Max = h.depth(low.Ceiling)
	c := judge.Ends(l, p.Setup.Cut.Ap, low.Enough, high.Enough)
	c.Words = fmt.Sprintf("Prying is held %.2f times (2 asked), with one screw lost %.2f (1.5). The thread then "+
		"left alone is held %.2f times (2).", low.PryAll, low.PryLost, low.StripLost)
	switch c.Verdict {
	case fold.NotProven:
		c.Words = fmt.Sprintf("At the favourable end it holds up to %s. ", p.Len(h.depth(high.Ceiling))) + c.Words
	case fold.Fail:
		c.Words = "A part that leaves its seat is thrown. " + c.Words
	}
	return c
}

// Register judges whether the planned cut leaves the part where it lies.
func (h *Holding) Register(p *fold.Plan) fold.Check {
	low, high := h.Ends.Low.Register, h.Ends.High.Register
	l := fold.Limit{ID: "hold.register", Why: "depth of cut against slip and turn", Max: h.depth(h.Ends.Low.Ceiling.Least), Class: fold.Hard,
		Unit: unit.KLength}
	c := judge.Ends(l, p.Setup.Cut.Ap, low.Enough, high.Enough)
	c.Words = fmt.Sprintf("Slip and turning together are held %.2f times (1.5 asked), with one screw lost %.2f (1.2).", low.All, low.AllLost)
	if h.earlier {
		c.Words = fmt.Sprintf("Slip is held %.2f times (1.5 asked), with one screw lost %.2f (1.2). Turning is held %.2f times (1.5), "+
			"one lost %.2f (1.2).", low.SlipAll, low.SlipLost, low.YawAll, low.YawLost)
	}
	if c.Verdict == fold.NotProven {
		c.Words = fmt.Sprintf("At the favourable end it holds up to %s. ", p.Len(h.depth(h.Ends.High.Ceiling.Least))) + c.Words
	}
	return c
}

// Held are both questions, the one that throws a part first.
func (h *Holding) Held(p *fold.Plan) []fold.Check {
	return []fold.Check{h.Retention(p), h.Register(p)}
}

// NotComputed is the check of a retention that nobody computed: it is not proven, and says what to give.
func NotComputed(why string) fold.Check {
	return judge.Unknown(retentionLimit, "Retention not computed: "+why+".")
}

// advice is what would let the planned cut hold, in the order in which to try it.
func (h *Holding) advice() string {
	var words []string
	for i, a := range h.Ends.Advise(h.C.Holding) {
		words = append(words, fmt.Sprintf("%d %s", i+1, a))
	}
	return strings.Join(words, "; ")
}

// first is the first of the advice, for the act; all of it stands in the notes.
func (h *Holding) first() string {
	a := h.Ends.Advise(h.C.Holding)
	if len(a) == 0 {
		return ""
	}
	return fold.Capital(a[0].String()) + "."
}

// DeepestCut labels the row of the hold-down's ceiling; Estimate is the standing word
// beside every computed force.
const (
	DeepestCut = "deepest cut that holds"
	Estimate   = "Calculated forces are estimates (factor 2 for plastics and wood). Prove them with a skim and a stripped sacrificial thread."
)

// HoldDown puts the hold-down into an outcome: register and retention apart, the deepest cut
// beside the planned one, what it rests on, and what to do. What is not computed is not proven
// (a note, to records of the first two walks). only lists the wanted checks.
func HoldDown(p *fold.Plan, w AsFound, o *fold.Outcome, only ...string) {
	if h := p.Holds(); h != nil {
		held(h, o)
		return
	}
	h := Hold(p, w)
	switch {
	case h.Why != "" && w.Earlier:
		o.Notes = append(o.Notes, NotComputed(h.Why).Words)
		return
	case h.Why != "":
		unheld(NotComputed(h.Why), o)
		return
	}
	failed := false
	for _, c := range h.Held(p) {
		if len(only) > 0 && !slices.Contains(only, c.Limit.ID) {
			continue
		}
		failed = failed || !c.Verdict.OK()
		o.Checks = append(o.Checks, c)
	}
	if failed && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "round", Words: fmt.Sprintf("Do not cut at %s. %s Or change the job's cut; then count again.",
			p.Len(p.Setup.Cut.Ap), h.first())})
	}
	if failed {
		o.Notes = append(o.Notes, "What would let it hold, in this order: "+h.advice()+".")
	}
	rows := h.CeilingRows(p)
	if len(only) > 0 {
		rows = rows[:2]
	}
	o.Lines = append(o.Lines, rows...)
	o.Notes = append(o.Notes, h.sources(p)...)
}

// unheld puts a check of what is not computed into an outcome, with what to do.
func unheld(c fold.Check, o *fold.Outcome) {
	o.Checks = append(o.Checks, c)
	if len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "round", Words: c.Words + " Put it into the job or its cards first."})
	}
}

// CeilingRows show the deepest cut that holds beside the planned one, at both ends.
func (h *Holding) CeilingRows(p *fold.Plan) []fold.Row {
	low, high, planned := h.ceiling(h.Ends.Low), h.ceiling(h.Ends.High), p.Setup.Cut.Ap
	row := func(label string, d float64) fold.Row { return fold.Row{Label: label, Value: d, Unit: unit.KLength} }
	deepest := row(DeepestCut, low)
	deepest.Big, deepest.Bar = true, math.Min(1, planned/math.Max(low, 1e-9))
	deepest.Verdict = judge.Ends(fold.Limit{}, planned, planned <= low, planned <= high).Verdict
	c := h.Ends.Low.Ceiling
	rows := []fold.Row{deepest, row("planned", planned), row("at the favourable end", high),
		row("leaves its seat above", h.depth(h.Ends.Low.Retention.Ceiling))}
	if h.earlier {
		rows = append(rows, row("slips above, all screws", h.depth(c.SlipAll)), row("slips above, one lost", h.depth(c.SlipLost)),
			row("turns above, all screws", h.depth(c.YawAll)), row("turns above, one lost", h.depth(c.YawLost)))
	} else {
		rows = append(rows, row("slips and turns above, all screws", h.depth(c.All)), row("slips and turns above, one lost", h.depth(c.AllLost)))
	}
	if h.lost > 0 {
		rows = append(rows, fold.Row{Label: "screws that count 0", Text: fmt.Sprint(h.lost)})
	}
	return rows
}

// sources say what the numbers rest on, and which of them nobody could source.
func (h *Holding) sources(p *fold.Plan) []string {
	out := append([]string{Estimate}, h.notes...)
	if s := h.Set; !h.earlier && (s.Apart || s.NoAngle != "") {
		out = append(out, h.AngleNote())
	}
	for i, r := range h.rows {
		kind := unit.KStress
		if strings.HasPrefix(h.names[i], "friction") {
			kind = unit.Scalar
		}
		v := unit.Rough(r.Low, kind, p.Job.Unit)
		if r.High != r.Low {
			v += " to " + unit.Rough(r.High, kind, p.Job.Unit)
		}
		if u := unit.UnitName(kind, p.Job.Unit); u != "" {
			v += " " + u
		}
		words := fold.Capital(r.Flag.String())
		if r.Source != "" {
			words += ": " + r.Source
		}
		out = append(out, fmt.Sprintf("%s: %s. %s.", fold.Capital(h.names[i]), v, words))
	}
	if in := h.C.Joint.Insert; in != nil {
		out = append(out, fmt.Sprintf("Pull-out of an insert: %s, given by the shop (%s). No published table of such loads exists.",
			newtons(p, float64(in.PullOut)), in.Source))
	}
	return out
}

// deskHold judges the hold-down as planned: what the threads can't hold is known before
// anything is mounted.
func deskHold(p *fold.Plan, d *Desk) {
	if h := p.Holds(); h != nil {
		d.HoldDown, d.Sources = h.Rows, h.Notes
		d.judged(h.Checks...)
		return
	}
	h := Hold(p, AsFound{})
	if h.Why != "" {
		c := NotComputed(h.Why)
		d.Checks, d.Findings = append(d.Checks, c), append(d.Findings, c.Words)
		return
	}
	d.HoldDown = append(h.CeilingRows(p), h.PreloadRows(p)...)
	d.Sources = h.sources(p)
	for _, c := range h.Held(p) {
		d.Checks = append(d.Checks, c)
		if c.Verdict.OK() {
			continue
		}
		what, word := "The part may slip or turn", "fails"
		if c.Limit.ID == retentionLimit.ID {
			what = "The part may leave its seat"
		}
		if c.Verdict == fold.NotProven {
			word = "is not proven"
		}
		d.Findings = append(d.Findings, fmt.Sprintf("%s: a cut of %s %s, the deepest that holds is %s. %s", what, p.Len(c.Got), word,
			p.Len(c.Limit.Max), c.Words))
	}
	if a := h.advice(); a != "" {
		d.Findings = append(d.Findings, "In this order: "+a+".")
	}
}
