package fit

import "math"

// SweptReadings are four readings of a dial in the spindle, its stylus on the wall of a
// bore or on the outside of a pin, at the four directions of the spindle; dial mm.
type SweptReadings struct{ XPlus, XMinus, YPlus, YMinus float64 }

// Swept is a bore or pin centre found that way. No ball, no eccentricity, no lobing: the
// spindle axis itself is measured.
type Swept struct {
	Move       Point   // centre minus spindle axis: the move still to make, mm
	Center     Point   // of the bore or pin, in the coordinates of at
	U          Point   // standard uncertainty from the dial's resolution and the scale, mm
	Redundancy float64 // (X+ + X-) - (Y+ + Y-), dial mm: 0 when round, clean and square
}

// ToSwept finds the centre with the spindle standing at at.
//
//	dx = scale·(I(X+) - I(X-))/2   dy likewise   center = at + (dx, dy)
//	u² = (scale·u_res/√2)² + (dx·u(scale)/scale)²
//
// The scale is a JogScale made at the X+ position. One formula serves inside and outside:
// the distance from the axis to the surface grows with the centre's offset in both, and a
// jog of + takes it back in both, so the jog test gives the sign. Good to second order in
// Move/diameter: move and sweep again until Move is under a graduation; the numbers then
// stand without the scale.
func ToSwept(at Point, r SweptReadings, scale Scale, graduation float64) (Swept, error) {
	if err := finite("sweep reading", 0, at.X, at.Y, r.XPlus, r.XMinus, r.YPlus, r.YMinus, scale.V); err != nil {
		return Swept{}, err
	}
	s := Swept{Move: Point{scale.V * (r.XPlus - r.XMinus) / 2, scale.V * (r.YPlus - r.YMinus) / 2},
		Redundancy: (r.XPlus + r.XMinus) - (r.YPlus + r.YMinus)}
	s.Center = at.Add(s.Move)
	fix := scale.V * resolution(graduation) / math.Sqrt2
	s.U = Point{math.Hypot(fix, s.Move.X*scale.Rel), math.Hypot(fix, s.Move.Y*scale.Rel)}
	return s, nil
}
