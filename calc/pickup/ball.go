package pickup

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
)

// Ball is a ball calibrated in its ring: effective radii along X and Y, and how far it
// stands off the spindle axis, mm.
type Ball struct{ RX, RY, EX, EY float64 }

// BallOf calibrates a ball by four hits in a ring with the spindle's mark to the front and
// four with the spindle turned half round. dia is the ball's. Errors are those of fit.ToRing.
func BallOf(ring, dia float64, front, back fit.Touches) (Ball, error) {
	a, err := fit.ToRing(ring, dia, front)
	if err != nil {
		return Ball{}, err
	}
	b, err := fit.ToRing(ring, dia, back)
	if err != nil {
		return Ball{}, err
	}
	e, _ := fit.EccentricityFromTurn(a.Center, b.Center)
	return Ball{RX: (a.RX + b.RX) / 2, RY: (a.RY + b.RY) / 2, EX: e.X, EY: e.Y}, nil
}

// Mean is the mean effective radius.
func (b Ball) Mean() float64 { return (b.RX + b.RY) / 2 }

// Runs is how far it stands off the axis.
func (b Ball) Runs() float64 { return math.Hypot(b.EX, b.EY) }

// Changed is the larger change of a radius, and how far it stands from where it stood.
func (b Ball) Changed(from Ball) (radius, ecc float64) {
	return math.Max(math.Abs(b.RX-from.RX), math.Abs(b.RY-from.RY)), math.Hypot(b.EX-from.EX, b.EY-from.EY)
}

// MostDof is what a pooled scatter is credited with at most: older hits then count for less
// (common practice).
const MostDof = 200

// HitSpread is the scatter of one hit from here on: today's pairs pooled with the card's,
// or today's alone where they are worse beyond chance (worse), never below the readout's step.
func HitSpread(pairs [][2]float64, card budget.Spread, readout float64) (s budget.Spread, worse bool) {
	var parts []budget.Spread
	for _, p := range pairs {
		parts = append(parts, budget.SpreadOf(p[:]))
	}
	today := budget.Pool(parts...)
	if worse = budget.Worse(today, card, 0.01); worse {
		s = today
	} else {
		s = budget.Pool(card, today)
	}
	s = s.AtLeast(StepU(readout))
	s.Dof = math.Min(s.Dof, MostDof)
	return s, worse
}
