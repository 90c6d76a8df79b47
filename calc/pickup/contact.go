// Package pickup turns touches into places: an edge, a corner, the middle of a thing
// between its sides, a bore by hits on its wall, by a swept dial or by a pin in it, a floor
// with its tilt and its depth, the direction of a fixture, a ball in its ring, the lean of
// a spindle. Each comes with its standard uncertainty.
//
// Goals: one formula for each idea, over fit and frame; every length, block and ball that
// lies between a reading and the surface is taken off once, here.
//
// Non-goals: the package asks nothing, judges nothing, names no step and has no words for
// a person. Which readings are missing is the caller's business.
//
// Units: mm and rad, machine coordinates; a plus side is the one toward + of its axis.
package pickup

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
)

// TypeB are the degrees of freedom given to an instrument whose scatter is known from its
// card or by practice (JCGM 100:2008, G.4.2: some 10 % in doubt).
const TypeB = 50

// Centre is a place in plan as found, with what was measured of its size.
type Centre struct {
	At  frame.Vec
	Dia float64 // 0 when the instrument does not measure it
	Cov frame.Cov2
	Dof float64
}

// Contact is what touches: the distance between spindle axis and surface at contact, and
// the standard deviation of one contact, mm.
type Contact struct{ Radius, S float64 }

// Reach is how far from the middle of a thing the spindle stands at contact: outside is a
// pin, inside a bore.
func (c Contact) Reach(dia float64, outside bool) float64 {
	if outside {
		return dia/2 + c.Radius
	}
	return dia/2 - c.Radius
}

// Middle is the place between two opposed contacts on one axis: whatever the ball, the
// finder or the tool adds on one side it adds on the other.
func Middle(plus, minus float64) float64 { return (plus + minus) / 2 }

// MiddleU is the standard uncertainty of that: S/√2.
func (c Contact) MiddleU() float64 { return c.S / math.Sqrt2 }

// Cross is the middle between two pairs of opposed contacts.
func (c Contact) Cross(x, y [2]float64, dof float64) Centre {
	u2 := c.S * c.S / 2
	return Centre{At: frame.Vec{X: Middle(x[0], x[1]), Y: Middle(y[0], y[1])}, Cov: frame.Cov2{{u2, 0}, {0, u2}}, Dof: dof}
}

// Size is the diameter, or the mean width, that two pairs of opposed contacts measure.
func (c Contact) Size(x, y [2]float64, outside bool) float64 {
	r := c.Radius
	if outside {
		r = -r
	}
	return (math.Abs(x[0]-x[1])+math.Abs(y[0]-y[1]))/2 + 2*r
}

// SizeU is the standard uncertainty of that: four contacts, and a radius known within tipU that counts twice.
func (c Contact) SizeU(tipU float64) float64 { return math.Hypot(c.S, 2*tipU) }

// RadiusOff is the finder's own radius as two pairs of opposed contacts with faces of known
// width say, along X and Y, and by how much the worse one is off, signed; axis 0 is X.
func (c Contact) RadiusOff(x, y [2]float64, width float64, outside bool) (radius [2]float64, off float64, axis int) {
	for i, p := range [2][2]float64{x, y} {
		radius[i] = fit.ToOppositeFaces(p[1], p[0], width, !outside).Radius
		if d := radius[i] - c.Radius; math.Abs(d) > math.Abs(off) {
			off, axis = d, i
		}
	}
	return radius, off, axis
}

// HalfU is the standard uncertainty of a half-width: a rectangle (JCGM 100:2008, 4.3.7).
func HalfU(half float64) float64 { return half / math.Sqrt(3) }

// StepU is that of a reading rounded to a step, such as a readout's or a dial's graduation.
func StepU(step float64) float64 { return step / math.Sqrt(12) }

// Half-widths of what a hand tool says in a shop, mm (common practice).
const (
	Micrometer = 0.003
	Calliper   = 0.02
	Reference  = 0.005 // of a length touched on the tools' reference
)

// Width is a part's width from its two ends, and its standard uncertainty: half of the
// instrument's interval, and of what the ends differ by.
func Width(a, b, half float64) (w, u float64) {
	return (a + b) / 2, math.Hypot(HalfU(half), math.Abs(a-b)/math.Sqrt(12))
}

// EnterRadius is by how much the cutter's radius as entered has to change for a feature that
// came out off its nominal size by off: a larger one keeps the cutter farther from the wall,
// which makes an outline larger and, inside, a bore smaller.
func EnterRadius(off float64, inside bool) float64 {
	if inside {
		return off / 2
	}
	return -off / 2
}

// WorstPair is the largest difference of two touches of one place and where it is; -1
// when all agree to the last bit.
func WorstPair(pairs [][2]float64) (worst float64, at int) {
	at = -1
	for i, p := range pairs {
		if d := math.Abs(p[0] - p[1]); d > worst {
			worst, at = d, i
		}
	}
	return worst, at
}

// used is the scatter to work with: that of many days, or today's own where it is larger
// beyond chance.
func used(today fit.Value, dof int, known budget.Spread) budget.Spread {
	if !today.Has {
		return known
	}
	s, _ := budget.Repeat(budget.Spread{S: today.V, Dof: float64(dof)}, known)
	return s
}
