package jaws

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/given"
	"fliptrue/calc/hold"
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

// PlugMost is how much smaller than the part's inside a plug is, as a diameter or width, mm: a wall then moves by
// half of it at most. Common practice.
const PlugMost = 0.020

// Clamped is a part between two jaws that hold it by friction over a height.
type Clamped struct {
	Force unit.Force  // of a jaw at its least
	Mu    float64     // friction at its low end
	Grip  unit.Length // height gripped, from the floor of the nest
}

// Held is what jaws do against a cut. There is no case with one lost: the screw is one.
type Held struct {
	Slip    float64     // safety against the cut in the plane and upward together
	Tip     float64     // safety against prying the part over the edge of a jaw
	Ceiling unit.Length // deepest cut with GripSF on both
}

// Against judges by the load of a cut and its corner factor, height over the floor of the nest.
//
//	slip = 2 mu P/(cf hypot(Fh, Fa)) >= 2      tip = P grip/(cf Fh (height - grip/2)) >= 2
//
// The pressure of two jaws can move by the height gripped at most before the part turns about an edge. Derived.
func (c Clamped) Against(cut hold.Cut, height unit.Length) (Held, error) {
	if err := given.Above("force of the jaws", float64(c.Force), "friction", c.Mu, "height gripped", float64(c.Grip), "height of the cut",
		float64(height)); err != nil {
		return Held{}, err
	}
	l, err := cut.Load()
	if err != nil {
		return Held{}, err
	}
	fh, fa := cut.Corner*float64(l.Fh), cut.Corner*math.Max(float64(l.Fa), 0)
	h := Held{Slip: 2 * c.Mu * float64(c.Force) / math.Hypot(fh, fa), Tip: math.Inf(1)}
	if arm := float64(height - c.Grip/2); arm > 0 {
		h.Tip = float64(c.Force*unit.Force(c.Grip)) / (fh * arm)
	}
	h.Ceiling = cut.Ap * unit.Length(math.Min(h.Slip, h.Tip)/GripSF) // loads are linear in the depth
	return h, nil
}
