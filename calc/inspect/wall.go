package inspect

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/given"
)

// Walls are the thicknesses of the four outer walls, mm.
type Walls struct {
	XPlus, XMinus, YPlus, YMinus float64
	Nominal                      float64
	U                            float64 // standard uncertainty of one, beside the zero
	UZero                        float64 // of the instrument's zero, the same for all
	InsideBySide2                bool    // side 2 cut the cavity; else the outline
}

// Offset is what walls say of the place: side 2's against side 1's.
type Offset struct {
	D       frame.Vec
	Thicker float64 // mean less nominal
	U       float64 // of D, half of a difference: U/√2, free of the zero
	UThick  float64 // of Thicker, a mean of four that share the zero: √(U²/4 + UZero²)
}

// Offset reads the place out of walls.
//
//	outline by side 2: dx = (t X+ - t X-)/2      cavity by side 2: dx = (t X- - t X+)/2
//
// Errors: a thickness not above 0.
func (w Walls) Offset() (Offset, error) {
	for _, t := range []float64{w.XPlus, w.XMinus, w.YPlus, w.YMinus, w.Nominal} {
		if !(t > 0) || math.IsInf(t, 0) {
			return Offset{}, fmt.Errorf("wall thickness %g must be above 0; measure it again", t)
		}
	}
	o := Offset{D: frame.Vec{X: (w.XPlus - w.XMinus) / 2, Y: (w.YPlus - w.YMinus) / 2}, U: w.U / math.Sqrt2,
		UThick:  math.Hypot(w.U/2, w.UZero),
		Thicker: (w.XPlus+w.XMinus+w.YPlus+w.YMinus)/4 - w.Nominal}
	if w.InsideBySide2 {
		o.D = o.D.Times(-1)
	}
	return o, nil
}

// Agrees compares walls with steps: within chance of two comparisons together at 5 %
// (Student's t by Bonferroni). Else the cavity of side 1 is off, not the outline.
func (o Offset) Agrees(m Mismatch) bool {
	u := m.U()
	t := budget.CriticalT(0.05, 2, m.Dof)
	return math.Abs(o.D.X-m.DX) <= t*math.Hypot(o.U, u[0]) && math.Abs(o.D.Y-m.DY) <= t*math.Hypot(o.U, u[1])
}

// Floor is what thicknesses of the floor say.
type Floor struct {
	Thick        float64 // at the middle, less nominal; positive: too thick
	LeanX, LeanY float64 // rise of the thickness per X and per Y (ratios)
	U            [3]float64
	Left         []float64
	S            fit.Value
}

// ToFloor fits a plane to thicknesses (X, Y and Z = thickness) about the part's middle. u is
// the standard uncertainty of one, where the readings do not show a larger scatter; uZero that of the gauge's zero: it lifts the
// plane and does not lean it. Fewer than three places, or all on a line, are a fit.DegenerateError.
func ToFloor(ps []fit.Point3, nominal float64, middle frame.Vec, u, uZero float64) (Floor, error) {
	if err := given.Finite("nominal thickness", nominal, "middle X", middle.X, "middle Y", middle.Y); err != nil {
		return Floor{}, err
	}
	p, err := fit.ToPlane(ps)
	if err != nil {
		return Floor{}, err
	}
	if p.S.Has {
		u = math.Max(u, p.S.V)
	}
	f := Floor{Thick: p.At(middle.X, middle.Y) - nominal, LeanX: p.B, LeanY: p.C, Left: p.Residuals, S: p.S}
	lever := [3]float64{1, middle.X - p.Mean.X, middle.Y - p.Mean.Y}
	for i, row := range [3][3]float64{lever, {0, 1, 0}, {0, 0, 1}} {
		var v float64
		for a := range row {
			for b := range row {
				v += row[a] * row[b] * p.Cofactor[a][b]
			}
		}
		f.U[i] = u * math.Sqrt(v)
	}
	f.U[0] = math.Hypot(f.U[0], uZero)
	return f, nil
}
