package dowel

import (
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// Lying is how a part lies on its pins, as a motion about pin 1: what is known of it, and the
// covariance of X, Y (mm²) and turn.
type Lying struct {
	Motion frame.Motion
	Cov    [3][3]float64
}

// Lies is a part that is not pushed: nothing is known, and what Play.U says of any place.
func (j Play) Lies() Lying { return j.lying(0, 0, j.J1/4, j.J2/2/math.Sqrt(3)) }

// LiesPushed is a part pushed across the line until both pins bear, way as in PushTo, each shift with its
// standard uncertainty beside that of the contact.
//
//	turn (shift2 - shift1)/L      u² = ContactU² + u_shift²
func (j Play) LiesPushed(way float64, shift1, shift2, u1, u2 float64) Lying {
	w := math.Copysign(1, way)
	return j.lying(w*shift1, w*shift2, math.Hypot(ContactU, u1), math.Hypot(ContactU, u2))
}

// lying is across at both pins, along it the play of pin 1.
func (j Play) lying(across1, across2, u1, u2 float64) Lying {
	l := Lying{Motion: frame.Motion{Shift: frame.Vec{Y: across1}, Turn: unit.Angle((across2 - across1) / j.apart)}}
	v1, v2, along := u1*u1, u2*u2, j.J1/4
	l.Cov = [3][3]float64{{along * along, 0, 0}, {0, v1, -v1 / j.apart}, {0, -v1 / j.apart, (v1 + v2) / (j.apart * j.apart)}}
	return l
}

// Turned is the same in a frame in which the line of the pins runs along dir.
func (l Lying) Turned(dir frame.Vec) Lying {
	n := dir.Len()
	c, s := dir.X/n, dir.Y/n
	r := [3][3]float64{{c, -s, 0}, {s, c, 0}, {0, 0, 1}}
	out := Lying{Motion: frame.Motion{Turn: l.Motion.Turn, Shift: frame.Vec{X: c*l.Motion.Shift.X - s*l.Motion.Shift.Y, Y: s*l.Motion.Shift.X +
		c*l.Motion.Shift.Y}}}
	for i := range r {
		for k := range r {
			for a := range r {
				for b := range r {
					out.Cov[i][k] += r[i][a] * l.Cov[a][b] * r[k][b]
				}
			}
		}
	}
	return out
}
