package pickup

import (
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// Heading is the direction of a fixture against its axis, less what it was as made.
type Heading struct {
	Theta float64 // rad, counter-clockwise
	U     float64 // its standard uncertainty, rad
	Lever float64 // from the pivot to the far end, signed along the line, mm
	Rise  float64 // of the far end over the near one, along + of the axis across, mm
}

// ByEdge is the heading by a dial along an edge that was made at zero (rad), lever long.
func ByEdge(e fit.Edge, zero, lever float64) Heading {
	h := Heading{Theta: e.Theta - zero, U: e.UTheta, Lever: lever}
	h.Rise = h.Theta * h.Lever
	if e.AlongY {
		h.Rise = -h.Rise
	}
	return h
}

// ByTwo is the heading by two bores or pins found across the line between them alone: made
// is the way from the first to the second on the card, apart what lies between the two
// readings now, with the standard uncertainty of each. Along the line nothing is read: both
// stand as far apart as made. straightness is the half-width of the axis's own wander.
//
//	along X: theta = asin(apart/L) - asin(made.Y/L)   along Y: acos(apart/L) - acos(made.X/L)
//
// each with the sign of the line's way.
func ByTwo(apart, u1, u2 float64, made frame.Vec, alongY bool, straightness float64) Heading {
	l := made.Len()
	within := func(c float64) float64 { return math.Max(-1, math.Min(1, c/l)) }
	var h Heading
	if alongY {
		h.Lever = made.Y
		h.Theta = math.Copysign(1, made.Y) * (math.Acos(within(apart)) - math.Acos(within(made.X)))
	} else {
		h.Lever = made.X
		h.Theta = math.Copysign(1, made.X) * (math.Asin(within(apart)) - math.Asin(within(made.Y)))
	}
	axis := HalfU(straightness)
	h.U = math.Sqrt(u1*u1+u2*u2+axis*axis) / math.Abs(h.Lever)
	turned := made.Turned(h.Theta).Sub(made)
	h.Rise = turned.Y
	if alongY {
		h.Rise = turned.X
	}
	return h
}

// TwoBores is skew and scale by two whole centres, as frame.TwoBores, each place carrying
// the machine's lost motion as well: a rectangle at either end of the way between them.
func TwoBores(first, second Centre, made frame.Vec, lostMotion float64) (skew unit.Angle, q float64, cov frame.Cov4, err error) {
	skew, q, cov, err = frame.TwoBores(first.At, second.At, made, first.Cov, second.Cov)
	if err != nil {
		return 0, 0, frame.Cov4{}, err
	}
	um := math.Sqrt2 * lostMotion / math.Sqrt(3) / made.Len()
	cov[2][2] += um * um
	cov[3][3] += um * um
	return skew, q, cov, nil
}

// RunU is what a run of a dial over a length can say of a direction before it is read:
// what the axis wanders over it, and the graduation as if n readings lay anywhere along it,
// √((n+1)/(n-1)) times what n even stations leave.
func RunU(straightness, graduation float64, n int, length float64) float64 {
	return math.Hypot(HalfU(straightness)/length, StepU(graduation)*math.Sqrt(12/float64(n))/length)
}

// PairU is the best that two centres a distance apart can say of a direction, u the
// standard uncertainty of each; they count as 1 mm apart at least.
func PairU(u, lostMotion, apart float64) float64 {
	return math.Sqrt2 * math.Hypot(u, HalfU(lostMotion)) / math.Max(apart, 1)
}
