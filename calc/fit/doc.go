// Package fit turns readings into shapes: a line, an edge under an indicator, a
// circle, a plane, a swept head, a corner, a slot, a ball in its ring, a rigid
// motion. Each fit comes with what the readings themselves say about it: residuals,
// the scatter s with its degrees of freedom, a covariance, and the reading that
// does not belong.
//
// Goals: every number can be reproduced from the formula in its docstring; nothing
// is NaN; a value without redundancy says so (Value.Has); degenerate input is a
// typed error that names the readings.
//
// Non-goals: the package knows no job, no step, no file and no words for a person.
// Amounts are signed; which way a hand has to push is said elsewhere.
//
// Units: lengths in millimetres, angles in radians (counter-clockwise positive seen
// from above), slopes as plain ratios. Any other single length unit works as well,
// except where a default in millimetres is named. X is to the right, Y away from
// the person, Z up, as motion of the tool relative to the part (ISO 841).
//
// Indices in results start at 0 as Go's do; error texts count readings from 1 as
// people do.
package fit

import "math"

// Point is a place in the plane, in mm.
type Point struct{ X, Y float64 }

// Point3 is a place in space, in mm.
type Point3 struct{ X, Y, Z float64 }

// Sub returns p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Len returns the distance from the origin.
func (p Point) Len() float64 { return math.Hypot(p.X, p.Y) }

// Value is a number that may not exist: the scatter of two points about a line, the
// correlation of equal readings. V is 0 when Has is false.
type Value struct {
	V   float64
	Has bool
}

// Known returns v as a value that exists.
func Known(v float64) Value { return Value{V: v, Has: true} }

// largest is the greatest magnitude read as a number: beyond any length, and small
// enough that a product of four stays finite.
const largest = 1e15

// nothing is the sum of squares below which readings do not differ: far below any
// resolution, and large enough that its square and its inverse are still numbers.
const nothing = 1e-100

// finite checks numbers on their way in. what names the list in the error.
func finite(what string, i int, vs ...float64) error {
	for _, v := range vs {
		if !(math.Abs(v) <= largest) {
			return &ValueError{What: what, Index: i + 1, Value: v}
		}
	}
	return nil
}

func finitePoints(what string, ps []Point) error {
	for i, p := range ps {
		if err := finite(what, i, p.X, p.Y); err != nil {
			return err
		}
	}
	return nil
}

// span returns max - min of vs, 0 for none.
func span(vs []float64) float64 {
	if len(vs) == 0 {
		return 0
	}
	lo, hi := vs[0], vs[0]
	for _, v := range vs[1:] {
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	return hi - lo
}

func sumSquares(vs []float64) float64 {
	var s float64
	for _, v := range vs {
		s += float64(v * v)
	}
	return s
}
