package pickup

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
)

// Tram is the lean of a spindle to its table by a dial carried round.
type Tram struct {
	fit.Sweep
	UX, UY  float64 // of the tilts
	Dof     float64
	Closing float64 // of the dial, back at its first place, dial mm
}

// Sweep is what a dial carried round says: angles in rad from X+, readings and the closing
// one in dial mm, the arm's radius, the dial's scale by a jog of the spindle and its graduation.
//
//	u(tilt)² = (s·√cofactor)² + (closing·scale/√3/radius)² + (tilt·u(scale)/scale)²
//
// s is the graduation's, or the residuals' own where it is larger beyond chance. Errors are
// those of fit.ToSweep.
func Sweep(angles, readings []float64, closing, radius float64, scale fit.Scale, graduation float64) (Tram, error) {
	heights := make([]float64, len(readings))
	for i, r := range readings {
		heights[i] = scale.V * r
	}
	sw, err := fit.ToSweep(angles, heights, radius)
	if err != nil {
		return Tram{}, err
	}
	t := Tram{Sweep: sw, Closing: closing - readings[0]}
	s := used(sw.S, sw.DOF, budget.Spread{S: math.Abs(scale.V) * graduation / math.Sqrt(12), Dof: TypeB})
	drift := math.Abs(t.Closing*scale.V) / math.Sqrt(3) / radius
	t.Dof = s.Dof
	t.UX = math.Hypot(math.Hypot(s.S*math.Sqrt(sw.Cofactor[0][0]), drift), sw.TiltX*scale.Rel)
	t.UY = math.Hypot(math.Hypot(s.S*math.Sqrt(sw.Cofactor[1][1]), drift), sw.TiltY*scale.Rel)
	return t, nil
}

// Unflat is how far the readings are from making a plane, mm: the difference of the sums
// of opposite ones, of four; else 4 times their scatter, which is of the same size. ok is
// false for three, which always make one.
func (t Tram) Unflat() (v float64, ok bool) {
	switch {
	case t.Redundancy.Has:
		return math.Abs(t.Redundancy.V), true
	case t.S.Has:
		return 4 * t.S.V, true
	}
	return 0, false
}

// Shim is the packing under one end of a column's foot of that depth that takes a lean away.
func Shim(tilt, foot float64) float64 { return math.Abs(tilt) * foot }

// SquareU is the standard uncertainty of a squareness by two steps between the sides of a
// flipped part, apart along Y: each a reading of a dial, half of their difference the machine's.
func SquareU(graduation, apart float64) float64 {
	return StepU(graduation) * math.Sqrt2 / (2 * apart)
}
