// Package frame moves plane positions between the part, the fixture, the program
// and the machine: rigid motions, the flip of the part, the offset that puts side 2
// over side 1, its covariance, and the words by which a control takes an offset.
//
// Goals: one formula for each idea, so that with control rotation, without it and
// with the centroid compromise are the same code; every error it reports is "where
// the part's feature stands minus where the tool will cut".
//
// Non-goals: it fits nothing (see fit), weighs no uncertainty lines (see budget) and
// knows no step, file or screen.
//
// Positions and vectors are plain millimetres, X to the operator's right, Y away from
// the operator, Z up; angles are unit.Angle, counter-clockwise seen from above.
package frame

import "math"

// Vec is a position or a vector in plan, mm.
type Vec struct{ X, Y float64 }

// Vec3 is a position or a vector in space, mm.
type Vec3 struct{ X, Y, Z float64 }

// Add returns a + b.
func (a Vec) Add(b Vec) Vec { return Vec{a.X + b.X, a.Y + b.Y} }

// Sub returns a - b.
func (a Vec) Sub(b Vec) Vec { return Vec{a.X - b.X, a.Y - b.Y} }

// Times returns s times a.
func (a Vec) Times(s float64) Vec { return Vec{s * a.X, s * a.Y} }

// Dot returns the scalar product of a and b.
func (a Vec) Dot(b Vec) float64 { return float64(a.X*b.X) + float64(a.Y*b.Y) }

// Cross returns the Z component of a x b: positive when b lies counter-clockwise of a.
func (a Vec) Cross(b Vec) float64 { return float64(a.X*b.Y) - float64(a.Y*b.X) }

// Len returns the length of a.
func (a Vec) Len() float64 { return math.Hypot(a.X, a.Y) }

// Left returns a turned by +90 degrees; it is also the derivative of a turning vector by its angle.
func (a Vec) Left() Vec { return Vec{-a.Y, a.X} }

// Turned returns a turned counter-clockwise by theta radians.
func (a Vec) Turned(theta float64) Vec {
	s, c := math.Sincos(theta)
	return Vec{float64(c*a.X) - float64(s*a.Y), float64(s*a.X) + float64(c*a.Y)}
}

// Middle returns the middle of the smallest axis-parallel box that holds all points:
// the pivot that makes the larger of the two end errors smallest. No points give the origin.
func Middle(points []Vec) Vec {
	if len(points) == 0 {
		return Vec{}
	}
	lo, hi := points[0], points[0]
	for _, p := range points[1:] {
		lo = Vec{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}
		hi = Vec{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
	}
	return lo.Add(hi).Times(0.5)
}
