package hold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Plate is a rectangular plate under even pressure, for walls and floors that are too wide
// for a strip. nu is 0.3, as in the tables.
type Plate struct {
	Long, Short, Thick unit.Length
	E                  unit.Stress
	Clamped            bool // all edges clamped; else all simply supported
}

// PlateBow is the largest deflection and stress of a plate.
type PlateBow struct {
	Bow     unit.Length
	Stress  unit.Stress
	FarOver bool // bow above half the thickness: the formula ends, the answer is "far too much"
}

// Pressed computes the plate: bow = alpha q b⁴/(E t³), stress = beta q b²/t², b the short side.
// Simply supported: Lévy's series (exact). Clamped: interpolated in b/a between the rows
// of Roark, table 11.4 case 8a (from memory, recomputed here), good to 2 %.
func (p Plate) Pressed(q unit.Stress) (PlateBow, error) {
	if err := positive("long side", float64(p.Long), "short side", float64(p.Short), "thickness", float64(p.Thick), "stiffness", float64(p.E),
		"pressure", float64(q)); err != nil {
		return PlateBow{}, err
	}
	if p.Long < p.Short {
		return PlateBow{}, fmt.Errorf("long side %g is shorter than the short side %g; exchange them", float64(p.Long), float64(p.Short))
	}
	r := float64(p.Long / p.Short)
	alpha, beta := restingPlate(r)
	if p.Clamped {
		alpha, beta = clampedPlate(r)
	}
	b, t := float64(p.Short), float64(p.Thick)
	bow := alpha * float64(q) * math.Pow(b, 4) / (float64(p.E) * math.Pow(t, 3))
	return PlateBow{Bow: unit.Length(bow), Stress: unit.Stress(beta * float64(q) * b * b / (t * t)), FarOver: bow > t/2}, nil
}

const nu = 0.3

// restingPlate returns alpha and beta of Roark, table 11.4 case 1a for side ratio r >= 1
// by Lévy's series:
//
//	w = q b⁴/D Σ (4/(π⁵m⁵) + A cosh + B (mπy/b) sinh) sin(mπx/b),  m odd
//	A = -2(α tanh α + 2)/(π⁵m⁵ cosh α),  B = 2/(π⁵m⁵ cosh α),  α = mπr/2
func restingPlate(r float64) (alpha, beta float64) {
	w, m := 5.0/384, 1.0/8
	sign := 1.0
	for k := 1; k < 80; k += 2 {
		mp := float64(k) * math.Pi
		a := mp * r / 2
		if a > 300 {
			break // cosh overflows far beyond where the terms vanish
		}
		f := 2 / (math.Pow(mp, 5) * math.Cosh(a))
		ca, cb := -f*(a*math.Tanh(a)+2), f
		w += sign * ca
		m += sign * mp * mp * ((1-nu)*ca - 2*nu*cb)
		sign = -sign
	}
	return 12 * (1 - nu*nu) * w, 6 * m
}

// clampedRows are side ratio (0: infinite), alpha, beta at the middle of the long edge, and beta at the centre.
var clampedRows = [...][4]float64{
	{1.0, 0.0138, 0.3078, 0.1386}, {1.2, 0.0188, 0.3834, 0.1794}, {1.4, 0.0226, 0.4356, 0.2094}, {1.6, 0.0251, 0.4680, 0.2286},
	{1.8, 0.0267, 0.4872, 0.2406}, {2.0, 0.0277, 0.4974, 0.2472}, {math.Inf(1), 0.0284, 0.5000, 0.2500},
}

// clampedPlate interpolates in 1/r; the stress is that at the middle of the long edge, the largest.
func clampedPlate(r float64) (alpha, beta float64) {
	x := 1 / r
	for i := 1; i < len(clampedRows); i++ {
		lo, hi := clampedRows[i], clampedRows[i-1]
		if x0, x1 := 1/lo[0], 1/hi[0]; x >= x0 {
			u := (x - x0) / (x1 - x0)
			return lo[1] + u*(hi[1]-lo[1]), lo[2] + u*(hi[2]-lo[2])
		}
	}
	panic("hold: side ratio below 1")
}
