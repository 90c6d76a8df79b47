package jaws

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/given"
	"fliptrue/calc/unit"
)

// Limits of a grip, mm. Common practice.
const (
	NestMost   = 0.020 // a nest's width less the part's; 0 at least
	RiseMost   = 0.010 // of the part while the jaws close
	RepeatMost = 0.005 // of the part's place when closed again: the seat's standard uncertainty
	WallShare  = 0.2   // of the register allowance that a wall may move by closing
	GripSF     = 2.0   // required of the friction
)

// Gap is what a nest of its own radius leaves at the end of its arc, the part bearing in the
// middle: a hard nest holds a ring to within it, whatever the force. Negative: the part bears at the ends.
//
//	(R nest - R part)(1 - cos wrap)
func Gap(nest, part unit.Length, wrap unit.Angle) unit.Length {
	return (nest - part) * unit.Length(1-math.Cos(float64(wrap)))
}

// Grip is what force the jaws need and may have.
type Grip struct {
	Needed  unit.Force // sf Fh/(2 mu): friction at both jaws
	Allowed unit.Force
	Gentle  bool // Needed is at most Allowed; else no handle is gentle enough: plug, or do not grip it at all
}

// ToGrip takes the force of the cut in the plane with its corner factor, friction at a jaw at its
// low end, and the force that the ring or the wall allows.
//
//	2 mu P >= sf Fh
func ToGrip(fh unit.Force, mu float64, allowed unit.Force) (Grip, error) {
	if err := given.Above("force of the cut", float64(fh), "friction", mu); err != nil {
		return Grip{}, err
	}
	if !(allowed >= 0) {
		return Grip{}, fmt.Errorf("allowed force %g must be 0 or more; enter it again", float64(allowed))
	}
	g := Grip{Needed: GripSF * fh / unit.Force(2*mu), Allowed: allowed}
	g.Gentle = g.Needed <= g.Allowed
	return g, nil
}

// Closed is one place read each time the jaws were closed to the mark.
type Closed struct {
	Range  float64 // largest less smallest
	Spread budget.Spread
	Keeps  bool // Range is at most RepeatMost
}

// ToClosed takes two or more closings.
func ToClosed(readings []float64) (Closed, error) {
	if len(readings) < 2 {
		return Closed{}, fmt.Errorf("%d closings say nothing of their repeat; open and close once more", len(readings))
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, r := range readings {
		if math.IsNaN(r) || math.IsInf(r, 0) {
			return Closed{}, fmt.Errorf("closing %d is %g: it must be finite; enter it again", i+1, r)
		}
		lo, hi = math.Min(lo, r), math.Max(hi, r)
	}
	c := Closed{Range: hi - lo, Spread: budget.SpreadOf(readings)}
	c.Keeps = budget.Decide(c.Range, 0, budget.AtMost, RepeatMost) == budget.Pass
	return c, nil
}

// WidthEnters says whether the part's width comes into the register across the jaws, the fixed
// jaw lying along X: about Y the same edge lies against it again, about X the other one does.
func WidthEnters(flip frame.Axis) bool { return flip == frame.AboutX }
