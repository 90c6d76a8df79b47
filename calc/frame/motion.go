package frame

import (
	"math"

	"fliptrue/calc/unit"
)

// Motion is a rigid motion in plan: p goes to R(Turn) p + Shift. The zero value moves nothing.
type Motion struct {
	Turn  unit.Angle
	Shift Vec // mm
}

// Apply returns where m takes p.
func (m Motion) Apply(p Vec) Vec { return p.Turned(float64(m.Turn)).Add(m.Shift) }

// Move returns how far m moves p: Apply(p) - p, exact for any angle.
func (m Motion) Move(p Vec) Vec {
	// R - I written by the half angle, so that a small turn keeps its digits.
	sh, ch := math.Sincos(float64(m.Turn) / 2)
	d := Vec{float64(-sh*p.X) - float64(ch*p.Y), float64(ch*p.X) - float64(sh*p.Y)}.Times(2 * sh)
	return d.Add(m.Shift)
}

// Jacobian returns the derivative of Apply(p) by (Shift.X, Shift.Y, Turn). For a small turn
// it is [1 0 -y; 0 1 x]: the lever of an X error is the Y distance, and the other way round.
func (m Motion) Jacobian(p Vec) [2][3]float64 {
	l := p.Turned(float64(m.Turn)).Left()
	return [2][3]float64{{1, 0, l.X}, {0, 1, l.Y}}
}

// CovAt returns the covariance of Apply(p) given that of (Shift.X, Shift.Y, Turn); mm and rad.
func (m Motion) CovAt(p Vec, cov [3][3]float64) Cov2 {
	j := m.Jacobian(p)
	return carry(j[0][:], j[1][:], func(i, k int) float64 { return cov[i][k] })
}
