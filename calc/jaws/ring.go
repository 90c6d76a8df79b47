package jaws

import (
	"fmt"
	"math"

	"fliptrue/calc/given"
	"fliptrue/calc/unit"
)

// ThinRing is the most of the wall over the mean radius for which the formulas, which count
// bending alone, are good to some percent. Common practice.
const ThinRing = 0.1

// Ring is a round thin part between two jaws.
type Ring struct {
	Radius unit.Length // mean, of the wall's middle
	Wall   unit.Length
	Height unit.Length // along the axis
	E      unit.Stress
}

// Oval is a ring pressed by a force on each jaw, spread evenly over an arc.
type Oval struct {
	Along  unit.Length // change of the diameter from jaw to jaw; negative
	Across unit.Length // of the one square to it; positive
	Spread unit.Length // largest less smallest diameter: out of round by a two-point measure; half of it by radius (ISO 1101)
	Thick  bool        // the wall is above ThinRing of the radius: off by more than some percent
}

// Valid returns an error for a ring that can't be computed.
func (r Ring) Valid() error {
	if err := given.Above("mean radius", float64(r.Radius), "wall", float64(r.Wall), "height", float64(r.Height), "stiffness",
		float64(r.E)); err != nil {
		return err
	}
	if r.Wall >= 2*r.Radius {
		return fmt.Errorf("wall %g is no wall of a ring of mean radius %g; give the radius of the wall's middle",
			float64(r.Wall), float64(r.Radius))
	}
	return nil
}

// Shares are the changes of the diameters in units of P R³/(E I), pressure spread over an arc
// of ±wrap at either jaw, wrap from 0 (two points) to π/2:
//
//	along  = -(2 - 2 cos β + (π/2 - β) sin β - 4β/π)/(2 sin β)     two points: 2/π - π/4 = -0.1488
//	across =  (4β/π - 2 sin β + β cos β)/(2 sin β)                   two points: 2/π - 1/2 = 0.1366
//
// The influence of two opposite forces, ((π/2 - φ) cos φ + sin φ - 4/π)/2 at an angle φ from them,
// integrated over the arc. Roark, table 9.2 case 1: 0.1488 and 0.1366 (from memory, exact here).
// The pressure follows the ring, as rubber and air do.
func Shares(wrap unit.Angle) (along, across float64, err error) {
	b := float64(wrap)
	if !(b >= 0 && b <= math.Pi/2*(1+1e-12)) {
		return 0, 0, fmt.Errorf("wrap of %.1f deg either way is not from 0 to 90; measure it from the middle of the jaw", b*180/math.Pi)
	}
	if b < 1e-4 {
		return 2/math.Pi - math.Pi/4, 2/math.Pi - 0.5, nil
	}
	sin, cos := math.Sincos(b)
	along = -(2 - 2*cos + (math.Pi/2-b)*sin - 4*b/math.Pi) / (2 * sin)
	across = (4*b/math.Pi - 2*sin + b*cos) / (2 * sin)
	return along, across, nil
}

// Pressed is the ring under a force; let go, it springs back by as much: cut round while
// pressed, it is then larger along the jaws and smaller across.
func (r Ring) Pressed(p unit.Force, wrap unit.Angle) (Oval, error) {
	if err := r.Valid(); err != nil {
		return Oval{}, err
	}
	if err := given.Above("force of the jaws", float64(p)); err != nil {
		return Oval{}, err
	}
	along, across, err := Shares(wrap)
	if err != nil {
		return Oval{}, err
	}
	c := float64(p) / r.stiffness()
	return Oval{Along: unit.Length(along * c), Across: unit.Length(across * c), Spread: unit.Length((across - along) * c),
		Thick: r.Wall > ThinRing*r.Radius}, nil
}

// stiffness is E I/R³, N/mm.
func (r Ring) stiffness() float64 {
	return float64(r.E) * float64(r.Height) * math.Pow(float64(r.Wall), 3) / 12 / math.Pow(float64(r.Radius), 3)
}

// Allowed is the force that a limit of the spread of diameters allows; +Inf where nothing of the
// ring is bent, at a wrap of 90 degrees.
func (r Ring) Allowed(spread unit.Length, wrap unit.Angle) (unit.Force, error) {
	if err := r.Valid(); err != nil {
		return 0, err
	}
	if err := given.Above("limit", float64(spread)); err != nil {
		return 0, err
	}
	along, across, err := Shares(wrap)
	if err != nil {
		return 0, err
	}
	if d := across - along; d > 1e-12 {
		return unit.Force(float64(spread) * r.stiffness() / d), nil
	}
	return unit.Force(math.Inf(1)), nil
}

// Wrap is the least wrap that keeps a force within a limit of the spread, 0 where two points
// already do.
func (r Ring) Wrap(p unit.Force, spread unit.Length) (unit.Angle, error) {
	if err := given.Above("force of the jaws", float64(p)); err != nil {
		return 0, err
	}
	if most, err := r.Allowed(spread, 0); err != nil || most >= p {
		return 0, err
	}
	lo, hi := 0.0, math.Pi/2 // the force allowed rises with the wrap
	for range 60 {
		mid := (lo + hi) / 2
		if most, _ := r.Allowed(spread, unit.Angle(mid)); most >= p {
			hi = mid
		} else {
			lo = mid
		}
	}
	return unit.Angle(hi), nil
}
