package asmade

import (
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/given"
)

// BiasMost is the most that a bore just cut may be probed off its program, mm: beyond it the
// chain is broken or the probe is. Common practice.
const BiasMost = 0.010

// Deflection is a half-width, mm, of what a finisher's spring adds between a helix and a wall.
// Common practice, from memory.
const Deflection = 0.002

// Bore is a bore just cut, in one chain with the pads, and probed in place.
type Bore struct {
	At, Programmed   frame.Vec // its centre, machine coordinates
	D, ProgrammedD   float64   // diameter
	Eccentricity     frame.Vec // of the probe's ball today: where it says a centre is, less where it is
	UCentre, URadius float64   // standard uncertainties of the fit
	UBall            float64   // of the ball's effective radius; the bore cannot see it
}

// ToBore takes a bore from a circle fitted through ball centres. ball is the effective radius,
// uBall its standard uncertainty (a ring of today), scatter that of one hit, used where the hits
// themselves do not show a larger one (redundant hits).
func ToBore(c fit.Circle, ball, uBall, scatter float64, programmed frame.Vec, programmedD float64, e frame.Vec) Bore {
	if c.S.Has {
		scatter = math.Max(scatter, c.S.V)
	}
	q := c.Covariance(scatter)
	return Bore{At: frame.Vec(c.Center), Programmed: programmed, D: 2 * (c.Radius + ball), ProgrammedD: programmedD, Eccentricity: e,
		UCentre: c.UCenterFor(scatter), URadius: math.Sqrt(q[2][2]), UBall: uBall}
}

// Cut is what the bore says about the cutter and the machine.
type Cut struct {
	Bias    frame.Vec // centre probed less centre programmed; holds the probe's eccentricity
	Machine frame.Vec // the machine's part of it: Bias less the eccentricity
	Small   float64   // the finisher cuts small in radius by so much; negative: large
	USmall  float64   // √(uBall² + uRadius² + deflection²/3)
}

// Measures says what the bore says.
//
//	bias = probed - programmed      machine = bias - eccentricity
//	small = (D programmed - D probed)/2
//
// All walls that the same cutter cut in the same chain stand by Small further into the pocket.
// Later exactly one of the two corrections is used (frame.Correction). An impossible diameter is an error.
func (b Bore) Measures() (Cut, error) {
	if err := given.Above("diameter", b.D, "programmed diameter", b.ProgrammedD); err != nil {
		return Cut{}, err
	}
	if err := given.Finite("bore X", b.At.X, "bore Y", b.At.Y, "programmed X", b.Programmed.X, "programmed Y", b.Programmed.Y,
		"eccentricity X", b.Eccentricity.X, "eccentricity Y", b.Eccentricity.Y); err != nil {
		return Cut{}, err
	}
	c := Cut{Bias: b.At.Sub(b.Programmed), Small: (b.ProgrammedD - b.D) / 2,
		USmall: math.Sqrt(b.UBall*b.UBall + b.URadius*b.URadius + Deflection*Deflection/3)}
	c.Machine = c.Bias.Sub(b.Eccentricity)
	return c, nil
}
