package side2

import (
	"fmt"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// A part that let go in the cut is read again by the witnesses of its sides. Those of its top may be cut away by then:
// heights are told by the next skim.

// LetGoAsks read the fixture's own witness again, and where the part's set is known the sides of the part.
func LetGoAsks(p *fold.Plan, v fold.View, base *fold.Known) []fold.Ask {
	var out []fold.Ask
	for _, a := range setAsks(p, v, base, repeats(p), false) {
		spot := strings.TrimRight(a.Field, ".0123456789")
		switch {
		case spot == "rim" || spot == "z":
		case base == nil && (spot == "px" || spot == "py"):
		default:
			out = append(out, a)
		}
	}
	return out
}

// LetGoReads says that a set can be read again: dials on posts were taken off the table before it was cut.
func LetGoReads(p *fold.Plan, base fold.Known) bool {
	return !posts(p) && len(base.Value) == 3+len(witnesses(p))
}

// FixtureAway is how far the fixture's bore, pin or square stands from where it was; false where it was not read.
func FixtureAway(p *fold.Plan, v fold.View) (float64, bool) {
	first, _ := kit.Targets(p)
	at, _, ok := cross(p, v, first)
	b, was := v.Perhaps("bore")
	if !ok || !was || len(b.Value) < 2 {
		return 0, false
	}
	at, _ = corrected(p, v, at)
	return at.Sub(frame.Vec{X: b.Value[0], Y: b.Value[1]}).Len(), true
}

// LetGoMotion is the motion of the part on its fixture in plan since the set, about the part zero.
func LetGoMotion(p *fold.Plan, v fold.View, base fold.Known) (fit.Motion, error) {
	s := readSet(p, v, false)
	sp := witnesses(p)
	if len(base.Value) != 3+len(sp) {
		return fit.Motion{}, fmt.Errorf("the witness set has %d witnesses and the job %d; go by faces that were cut", len(base.Value)-3, len(sp))
	}
	var ds []fit.Difference
	for i, w := range sp {
		if w.Axis == fit.AxisZ {
			continue
		}
		if len(s.reads[i]) == 0 {
			return fit.Motion{}, fmt.Errorf("witness %q was not read; read it", w.Label)
		}
		ds = append(ds, fit.Difference{Axis: w.Axis, At: w.At, D: kit.Mean(s.reads[i]) - s.refOf(w.Axis) - base.Value[3+i],
			Q: 1/float64(repeats(p)) + 1/float64(len(s.reads[i]))})
	}
	floor, dof := judge.ProbeS(p)
	scatter := budget.Pool(budget.Spread{S: base.Value[1], Dof: base.Value[2]}, s.spread)
	if scatter.Dof == 0 { // nothing was read twice
		scatter.Dof = dof
	}
	scatter = scatter.AtLeast(floor)
	return fit.SolveMotion(ds, [3]float64{2 * sq(s.refU[0]/scatter.S), 2 * sq(s.refU[1]/scatter.S)}, scatter)
}
