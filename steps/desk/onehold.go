package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// OneHold is a part that one thing holds, screws aside: a face under it, two jaws beside it. It stands against the
// planned cut at the adverse end of what is known. With Why set it is not computed, and Why says what to give.
type OneHold struct {
	Why      string
	Ceiling  unit.Length
	Slip, Up float64    // how many times it is held sideways, and against leaving its seat
	Ask      [2]float64 // what is asked of both
	UpName   string     // of the second: "held up"
	More     []fold.Row
	Rests    []string // what it rests on, and what is left when it goes
	Advice   string   // what would let the planned cut hold
}

// NotHeld is a part of which nothing shows that it is held.
func NotHeld(format string, a ...any) OneHold { return OneHold{Why: fmt.Sprintf(format, a...)} }

// Heaviest is the job's cut at the high end of the material's specific force, or why it is not computed.
func Heaviest(p *fold.Plan) (cut hold.Cut, why string) {
	s := p.Setup
	tool, ok := p.Job.Tools[s.Cut.Tool]
	if s.Cut.Tool == 0 || !ok || tool.Teeth == 0 {
		return cut, "the job states no cut; give cut: {tool, ae, ap, fz} and the tool's teeth"
	}
	part, err := p.Job.Library().Like(p.Job.Part.Material)
	if err != nil {
		return cut, err.Error()
	}
	if !part.Kc11.Known() {
		return cut, fmt.Sprintf("no specific cutting force of %s is known; give materials.%s.kc with its source", part.Name, part.Name)
	}
	cut = plannedCut(p, tool, part.Mc)
	cut.Kc11 = part.Kc11.High
	return cut, ""
}

// CutHeight is the height of the cutting force over the seat.
func CutHeight(p *fold.Plan) float64 {
	if h := p.Setup.Cut.Height; h > 0 {
		return h
	}
	return p.Job.Part.Size[2]
}

// Friction is that under the part, the job's own before the usual, and in words for a source.
func Friction(p *fold.Plan) (r hold.Range, words string) {
	r = friction(p)
	return r, fmt.Sprintf("%g, %s (%s).", r.Low, r.Flag, r.Source)
}

// Newtons is a force in the job's unit.
func Newtons(p *fold.Plan, v unit.Force) string { return newtons(p, float64(v)) }

// Check is retention. What can't be computed, or was not tested, holds nothing.
func (h OneHold) Check(p *fold.Plan) fold.Check {
	c := fold.Check{Limit: fold.Limit{ID: "hold.retention", Why: "depth of cut against slipping and leaving the seat",
		Max: math.Min(float64(h.Ceiling), 100), Class: fold.Never, Unit: unit.KLength},
		Got: p.Setup.Cut.Ap, Verdict: fold.Pass}
	if h.Why != "" {
		c.Verdict, c.Words = fold.Fail, "It counts as held by nothing: "+h.Why+"."
		return c
	}
	if p.Setup.Cut.Ap > float64(h.Ceiling) {
		c.Verdict = fold.Fail
		c.Words = fmt.Sprintf("A part that leaves its seat is thrown. Sideways it is held %.2f times (%g asked), up %.2f (%g).",
			h.Slip, h.Ask[0], h.Up, h.Ask[1])
	}
	return c
}

// Rows show what holds.
func (h OneHold) Rows(p *fold.Plan) []fold.Row {
	if h.Why != "" {
		return nil
	}
	rows := []fold.Row{{Label: DeepestCut, Value: math.Min(float64(h.Ceiling), 100), Unit: unit.KLength, Big: true,
		Verdict: h.Check(p).Verdict},
		{Label: "planned", Value: p.Setup.Cut.Ap, Unit: unit.KLength},
		{Label: "held sideways", Text: fmt.Sprintf("%.2f times, %g asked", h.Slip, h.Ask[0])}, {Label: h.UpName, Text: fmt.Sprintf("%.2f times, %g asked", h.Up, h.Ask[1])}}
	return append(rows, h.More...)
}

// Hold is the same as a kind of setup gives it.
func (h OneHold) Hold(p *fold.Plan) *fold.Hold {
	out := &fold.Hold{Checks: []fold.Check{h.Check(p)}, Rows: h.Rows(p), Advice: h.Advice, Deepest: float64(h.Ceiling), Why: h.Why}
	if h.Why == "" {
		out.Notes = append([]string{Estimate}, h.Rests...)
	}
	return out
}

// held puts what a kind of setup says of its hold into an outcome.
func held(h *fold.Hold, o *fold.Outcome) {
	for _, c := range h.Checks {
		o.Checks = append(o.Checks, c)
		if !c.Verdict.OK() && len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: c.Words + " " + h.Advice})
		}
	}
	o.Lines = append(o.Lines, h.Rows...)
	o.Notes = append(o.Notes, h.Notes...)
}
