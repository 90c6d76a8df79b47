package register

import (
	"math"

	"fliptrue/calc/fit"
)

// Lean is how far the spindle leans to the table along X and Y (ratios), and about which
// axis the part is flipped.
type Lean struct {
	Tilt  [2]float64
	FlipX bool // about X; else about Y
}

// Kink returns the step between the walls of both sides that the lean leaves on an axis,
// for a wall of height h, mm, not signed: along the flip axis it doubles, across it
// cancels (see fit.Kink).
func (l Lean) Kink(h float64, axis int) float64 {
	if l.FlipX != (axis == 0) {
		return 0
	}
	return fit.Kink(math.Abs(l.Tilt[axis]), h)
}

// Shares of the register allowance (common practice): what machine and fixture may take of
// it before the part goes in, and the most that a skew may.
const (
	FixtureShare = 0.5
	SkewShare    = 0.2
	leastSkew    = 1e-6 // rad: no limit is 0
)

// SkewCap returns the most skew that may stay whatever the offset leaves, rad:
// SkewShare · allowance at the farthest feature, which counts as 1 mm away at least.
func SkewCap(allowance, reach float64) float64 { return SkewShare * allowance / math.Max(reach, 1) }

// SkewLimit returns the skew that may stay in a fixture whose control does not turn the
// program, rad:
//
//	(FixtureShare · allowance - guard) / reach, at most most and never 0
//
// guard is that of the offset at the worst feature. Within it skew · reach + guard keeps to
// the share. Derived.
func SkewLimit(allowance, guard, reach, most float64) float64 {
	left := (FixtureShare*allowance - guard) / math.Max(reach, 1)
	return math.Max(math.Min(left, most), leastSkew)
}
