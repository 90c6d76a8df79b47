package pickup

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
)

// ShortArc is the arc below which a centre is refused: its uncertainty explodes (common practice).
const ShortArc = 120 * math.Pi / 180

// Circle is the centre of a bore or a pin from hits on its wall, ball the mean effective
// radius of the stylus, known the scatter of one hit. The naming says what the hits say of
// themselves. Errors are those of fit.NameHit, and an arc that is too short.
func Circle(hits []fit.Point, outside bool, ball float64, known budget.Spread) (Centre, fit.HitNaming, error) {
	feature := fit.Bore
	if outside {
		feature = fit.Boss
	}
	n, err := fit.NameHit(hits, feature, known)
	if err == nil && n.All.Arc < ShortArc {
		err = fmt.Errorf("the hits lie on %.0f deg of the circle; spread them over the whole", n.All.Arc*180/math.Pi)
	}
	if err != nil {
		return Centre{}, n, err
	}
	c := n.All
	s := used(c.S, c.DOF, known)
	cv := c.Covariance(s.S)
	return Centre{At: frame.Vec{X: c.Center.X, Y: c.Center.Y}, Dia: feature.Diameter(c, ball),
		Cov: frame.Cov2{{cv[0][0], cv[0][1]}, {cv[1][0], cv[1][1]}}, Dof: s.Dof}, n, nil
}

// CircleU is the standard uncertainty of each coordinate of the centre of n even hits with
// a scatter of s: s·√(2/n).
func CircleU(s float64, n int) float64 { return s * math.Sqrt(2/float64(n)) }

// FromFirst is the centre by one hit at X+ and one at Y+ of a thing whose size is known.
func (c Contact) FromFirst(x, y, dia float64, outside bool) frame.Vec {
	r := c.Reach(dia, outside)
	return frame.Vec{X: x - r, Y: y - r}
}

// Pin is a gauge pin that slides into a bore, both diameters as given, mm.
type Pin struct{ Bore, Dia float64 }

// Play is how much the pin can move in its bore; negative when it does not go in.
func (p Pin) Play() float64 { return p.Bore - p.Dia }

// PinU is the standard uncertainty of a coordinate found by a pin that has play: anywhere
// in it is equally likely, and s is the readout's.
func PinU(play, s float64) float64 { return math.Hypot(play/2/math.Sqrt(3), s) }

// SweepU is the standard uncertainty of a coordinate found by a swept dial: from is what
// its scale and resolution leave, never below half a graduation, with the readout's step.
func SweepU(from, graduation, readout float64) float64 {
	return math.Hypot(math.Max(math.Abs(from), graduation/2), StepU(readout))
}

// HalfSweep is the coordinate on one axis by a dial read on its plus and its minus side,
// the spindle standing at at, and its standard uncertainty.
func HalfSweep(at, plus, minus float64, scale fit.Scale, graduation, readout float64) (centre, u float64) {
	move := scale.V * (plus - minus) / 2
	return at + move, SweepU(move*scale.Rel, graduation, readout)
}

// SweptCentre is a whole sweep as a centre.
func SweptCentre(s fit.Swept, graduation, readout float64) Centre {
	ux, uy := SweepU(s.U.X, graduation, readout), SweepU(s.U.Y, graduation, readout)
	return Centre{At: frame.Vec{X: s.Center.X, Y: s.Center.Y}, Cov: frame.Cov2{{ux * ux, 0}, {0, uy * uy}}, Dof: TypeB}
}
