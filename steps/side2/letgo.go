package side2

import (
	"fmt"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/witness"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// A part that let go in the cut is read again by the witnesses of its sides. Those of its top may be cut away by then:
// heights are told by the next skim.

// LetGoAsks read the fixture's own witness again, and where the part's set is known the sides of the part.
func LetGoAsks(p *fold.Plan, v fold.View, base *fold.Known) []fold.Ask {
	var was *facts.BaselineFact
	if base != nil {
		if b, ok := facts.Baseline.Read(*base); ok {
			was = &b
		}
	}
	var out []fold.Ask
	for _, a := range setAsks(p, v, was, repeats(p), false) {
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
	b, ok := facts.Baseline.Read(base)
	return ok && !posts(p) && len(b.D) == len(witnesses(p))
}

// FixtureAway is how far the fixture's bore, pin or square stands from where it was; false where it was not read.
func FixtureAway(p *fold.Plan, v fold.View) (float64, bool) {
	first, _ := kit.Targets(p)
	at, _, ok := cross(p, v, first)
	b, was := facts.Bore.Perhaps(v)
	if !ok || !was {
		return 0, false
	}
	at, _ = corrected(p, v, at)
	return at.Sub(frame.Vec{X: float64(b.X), Y: float64(b.Y)}).Len(), true
}

// LetGoMotion is the motion of the part on its fixture in plan since the set, about the part zero.
func LetGoMotion(p *fold.Plan, v fold.View, base fold.Known) (fit.Motion, error) {
	b, _ := facts.Baseline.Read(base)
	if n := len(witnesses(p)); len(b.D) != n {
		return fit.Motion{}, fmt.Errorf("the witness set has %d witnesses and the job %d; go by faces that were cut", len(b.D), n)
	}
	return moved(p, b, readSet(p, v, false), witness.Plan)
}
