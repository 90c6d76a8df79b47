package register

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// MachineAlpha is steel's expansion per K: what a machine's own scales grow by (Aluminum
// Association and A36 data, verified copies).
const MachineAlpha = 11.7e-6

// Found is the fixture as found: its first bore, and what a second one said.
type Found struct {
	Bore  frame.Vec  // machine coordinates, corrected once, mm
	Cov   frame.Cov4 // of bore X and Y; with Two of skew and scale as well
	Two   bool       // a second bore gave Scale and Skew
	Scale float64
	Skew  unit.Angle
}

// Edge is the direction of the fixture's edge under a dial, with its variance.
type Edge struct {
	Skew     unit.Angle
	Variance float64 // rad²
}

// Fixture puts together what was found: v from the bore to the part zero as made, held the
// place on the part that its walls hold, growth the scale by temperature (1 for none),
// which two bores overrule. An edge overrules the skew of two bores; it knows nothing of
// the bores, so that the skew then hangs together with nothing.
func (b Found) Fixture(v, held frame.Vec, edge *Edge, growth float64) frame.Fixture {
	f := frame.Fixture{Bore: b.Bore, V: v, Q: growth, Held: held}
	if b.Two {
		f.Q, f.Skew, f.Cov = b.Scale, b.Skew, b.Cov
	} else {
		f.Cov[0][0], f.Cov[0][1], f.Cov[1][0], f.Cov[1][1] = b.Cov[0][0], b.Cov[0][1], b.Cov[1][0], b.Cov[1][1]
	}
	if edge != nil {
		f.Skew = edge.Skew
		for i := range f.Cov {
			f.Cov[i][2], f.Cov[2][i] = 0, 0
		}
		f.Cov[2][2] = edge.Variance
	}
	return f
}

// Weighed is the same with the direction as the weighted mean of edge and bores; ok is false where they do not agree, of
// which then neither may overrule the other. A share w of the bores' direction keeps w of its covariance with bore and scale.
func (b Found) Weighed(v, held frame.Vec, edge Edge) (f frame.Fixture, ok bool) {
	m, err := budget.Weigh([]budget.Estimate{{Name: "edge", V: float64(edge.Skew), U: math.Sqrt(edge.Variance)},
		{Name: "two bores", V: float64(b.Skew), U: math.Sqrt(b.Cov[2][2])}})
	if err != nil || !b.Two || !m.Agree {
		return frame.Fixture{}, false
	}
	f = b.Fixture(v, held, nil, 1)
	f.Skew = unit.Angle(m.V)
	for i := range f.Cov {
		f.Cov[i][2], f.Cov[2][i] = m.Weights[1]*f.Cov[i][2], m.Weights[1]*f.Cov[2][i]
	}
	f.Cov[2][2] = m.U * m.U
	return f, true
}

// Offset is a work offset with what it was reckoned from.
type Offset struct {
	Place   frame.Placement
	Z       float64   // mm
	About   frame.Vec // where the placement is exact, program coordinates
	Fixture frame.Fixture
	Dof     float64 // of the bore
}

// Place returns the offset of a fixture for a control, each coordinate rounded to what it
// can hold. One that turns the program (rotates) leaves no feature in error; else the
// placement is exact in the middle of the features, which halves the error of the worst.
// z is the height of the part zero.
func Place(f frame.Fixture, at []frame.Vec, rotates bool, z, step, dof float64) Offset {
	o := Offset{Fixture: f, Dof: dof, Z: Round(z, step)}
	if rotates {
		o.Place = f.Rotated()
	} else {
		o.About = frame.Middle(at)
		o.Place = f.Compromise(o.About)
	}
	o.Place.Offset.X, o.Place.Offset.Y = Round(o.Place.Offset.X, step), Round(o.Place.Offset.Y, step)
	return o
}

// Shown returns what the control shows once the offset is in, rounded to its step: the
// offset itself on its page or, after a preset, the work coordinates over the bore and, in
// Z, zero less the height of the part zero over what was touched.
func (o Offset) Shown(preset bool, zeroOverTouch, step float64) [3]float64 {
	if !preset {
		return [3]float64{o.Place.Offset.X, o.Place.Offset.Y, o.Z}
	}
	b := o.Fixture.BoreAt(o.Place)
	return [3]float64{Round(b.X, step), Round(b.Y, step), Round(0-zeroOverTouch, step)}
}

// Nominal is an offset without error of a fixture that is not found yet, by the standard
// uncertainties that its bore (mm) and its direction (rad) can be found with at best. Its
// scale is taken by temperature.
func Nominal(v, held frame.Vec, u, theta, dof float64) Offset {
	return Offset{Place: frame.Placement{Offset: v}, Dof: dof,
		Fixture: frame.Fixture{V: v, Held: held, Q: 1, Cov: frame.Independent(u, u, theta, 0)}}
}

// NominalShift is a part that has not moved, by witnesses read twice in each of two sets
// with a scatter of s, mm, the two along Y a length apart.
//
//	u = s·√(1/2 + 1/2)   of the turn √2·u/length
func NominalShift(s, length, dof float64) *Shift {
	l := math.Max(length, 1)
	us := s * math.Sqrt(0.5+0.5)
	return &Shift{Dof: dof, Cov: [3][3]float64{{us * us, 0, 0}, {0, us * us, 0}, {0, 0, 2 * us * us / (l * l)}}}
}

// Round takes a value to a step, which is all that a readout shows or a control holds. A
// step that is one part of a whole number of 1 mm is divided by rather than multiplied
// with, so that 0.1 comes out as 0.1.
func Round(v, step float64) float64 {
	n := math.Round(1 / step)
	if math.Abs(n*step-1) < 1e-9 {
		return math.Round(v*n) / n
	}
	return math.Round(v/step) * step
}
