package frame

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// SkewLimit is the largest skew that is worked with: beyond it the fixture is squared again,
// with or without a control rotation (common practice, from memory).
const SkewLimit = unit.Angle(0.5 * math.Pi / 180)

// Fixture is a fixture as found on the table: where its bore is, how it is turned and how much it has grown.
type Fixture struct {
	Bore Vec        // bore axis, machine coordinates, mm, one probe correction applied: see AsMade
	V    Vec        // from the bore to the part zero, along the fixture's edge, as made, the part against its walls, mm
	Skew unit.Angle // of the fixture's edge to the machine's X
	Q    float64    // size now over size as made, 1 when unchanged; the part is not in it
	// Held is where the pocket's walls hold the part, part coordinates, mm: up to there the fixture
	// grows, from there on the part, which has not. The zero value holds it at its part zero.
	Held Vec
	Cov  Cov4 // of Bore, Skew and Q together
}

// Placement is what the control is told: a work offset (machine coordinates, mm) and a rotation of the
// program about it, 0 where the control has none.
type Placement struct {
	Offset   Vec
	Rotation unit.Angle
}

// Motion returns the map from program coordinates to machine coordinates.
func (pl Placement) Motion() Motion { return Motion{pl.Rotation, pl.Offset} }

// Rotated returns the placement of a control that turns the program: the offset on the part
// zero, Bore + R(Skew) Q V, and the rotation about it. No feature is left in error.
func (f Fixture) Rotated() Placement { return Placement{f.zero(), f.Skew} }

// Compromise returns the placement of a control without rotation: the offset that is exact at c, the part zero itself
// where c is none. The error is (R - I)(p - c); with c the Middle of the critical features the worst of them is halved.
func (f Fixture) Compromise(c Vec) Placement {
	return Placement{f.zero().Add(Motion{Turn: f.Skew}.Move(c)), 0}
}

// zero is where the part zero stands on the machine.
//
//	Bore + R(Skew) (Q (V + Held) - Held)
func (f Fixture) zero() Vec { return f.Bore.Add(f.grown().Turned(float64(f.Skew))) }

// grown is the part zero from the bore along the fixture's edge, as it is now.
func (f Fixture) grown() Vec { return f.V.Add(f.Held).Times(f.Q).Sub(f.Held) }

// Error returns where the part's feature p stands minus where the tool will cut, mm, for any placement:
// one of the three above, one rounded to the readout, or one typed by somebody. p is in part coordinates.
func (f Fixture) Error(pl Placement, p Vec) Vec {
	// Both terms are kept small before they are subtracted: the digits that count are the last ones.
	zero := f.zero().Sub(pl.Offset)
	return zero.Add(Motion{Turn: f.Skew}.Move(p)).Sub(Motion{Turn: pl.Rotation}.Move(p))
}

// Jacobian returns the derivative of Error at p by bore X, bore Y, skew and scale:
//
//	[ I | R' (Q (V + Held) - Held + p) | R (V + Held) ]
//
// It is the same for each placement. A skew error turns the part about the bore, not about the
// part zero, since the offset stands on both: the lever is the whole way from the bore to the feature.
func (f Fixture) Jacobian(p Vec) [2][4]float64 {
	t := f.grown().Add(p).Turned(float64(f.Skew)).Left()
	s := f.V.Add(f.Held).Turned(float64(f.Skew))
	return [2][4]float64{{1, 0, t.X, s.X}, {0, 1, t.Y, s.Y}}
}

// CovAt returns the covariance of Error at p, J Cov Jᵀ (JCGM 102:2011, 6.2); the offset's own is CovAt(Vec{}).
func (f Fixture) CovAt(p Vec) Cov2 {
	j := f.Jacobian(p)
	return carry(j[0][:], j[1][:], func(i, k int) float64 { return f.Cov[i][k] })
}

// BoreAt returns the bore's own work coordinates under a placement, with no rotation active: what to
// key in as touch-off, readout preset or G92 while standing over the bore. For the offset on the part zero
// it is -R(Skew) Q V.
func (f Fixture) BoreAt(pl Placement) Vec { return f.Bore.Sub(pl.Offset) }

// CheckSkew refuses a skew above SkewLimit.
func (f Fixture) CheckSkew() error {
	if !(math.Abs(float64(f.Skew)) <= float64(SkewLimit)) {
		return fmt.Errorf("skew %.4f deg is above %.1f deg: square the fixture again before setting the offset",
			float64(f.Skew)*180/math.Pi, float64(SkewLimit)*180/math.Pi)
	}
	return nil
}

// Growth returns the scale of a fixture that is dT kelvin warmer than when it was made. alphaMachine is the
// expansion of the machine's own scales, 0 if they were recalibrated at the present temperature.
func Growth(alphaFixture, alphaMachine, dT float64) float64 {
	return 1 + float64((alphaFixture-alphaMachine)*dT)
}
