package asmade

import (
	"fmt"
	"math"

	"fliptrue/calc/given"
)

// CornerRelief is a hole of radius R in an inside corner, centred A from both walls, so
// that a sharp corner of the part goes in.
type CornerRelief struct {
	A    float64 // from each wall to its centre
	Most float64 // the largest A that lets a sharp corner in, R/√2
	Eats float64 // of each wall, from the corner: keep pads clear of it
}

// Relieve places it so that the corner is clear by m.
//
//	a = R/√2 - m      eats = a + √(R² - a²)
//
// m from 0 to R/√2. Derived.
func Relieve(r, m float64) (CornerRelief, error) {
	if err := given.Above("radius of the cutter", r); err != nil {
		return CornerRelief{}, err
	}
	c := CornerRelief{Most: r / math.Sqrt2}
	if c.A = c.Most - m; !(m >= 0) || c.A < 0 {
		return CornerRelief{}, fmt.Errorf("a corner cannot be clear by %g with a cutter of radius %g; take 0 to %.3f", m, r, c.Most)
	}
	c.Eats = c.A + math.Sqrt(r*r-c.A*c.A)
	return c, nil
}

// Curing is how long a plastic blank is annealed before the finishing cut, hours.
type Curing struct{ Heat, Cool float64 }

// Anneal is for cast acrylic at 80 C: one hour for each mm, at least two; cooled over a quarter
// hour for each mm. Common practice, from memory.
func Anneal(thick float64) (Curing, error) {
	if err := given.Above("thickness", thick); err != nil {
		return Curing{}, err
	}
	return Curing{Heat: math.Max(2, thick), Cool: thick / 4}, nil
}

// AcrylicDiffusivity is that of heat in cast acrylic, mm²/s: conductivity 0.19 W/(m K) over
// density 1190 and heat 1470 J/(kg K). Data sheets, from memory.
const AcrylicDiffusivity = 0.19 / (1190 * 1470) * 1e6

// Rest is how long a plate that grew warm under the cutter takes to even out, s: L²/diffusivity.
func Rest(thick, diffusivity float64) (float64, error) {
	if err := given.Above("thickness", thick, "diffusivity", diffusivity); err != nil {
		return 0, err
	}
	return thick * thick / diffusivity, nil
}
