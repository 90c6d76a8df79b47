package dowel

import (
	"math"

	"fliptrue/calc/frame"
)

// A second look at Lies and LiesPushed: the same by each axis, without a matrix.

// U is its standard uncertainty per axis, the part not pushed: pin 1 evenly in its disc (j1/4 an
// axis), pin 2 a rectangle of half-width j2/2.
//
//	u_X = √((j1/4)² + (y/L)² ((j1/4)² + j2²/12))    u_Y = √((1 - x/L)² (j1/4)² + (x/L)² j2²/12)
func (j Play) U(at frame.Vec) frame.Vec {
	return j.u(at, j.J1/4, j.J1/4, j.J2/2/math.Sqrt(3))
}

func (j Play) u(at frame.Vec, along1, across1, across2 float64) frame.Vec {
	x, y := at.X/j.apart, at.Y/j.apart
	turn := math.Hypot(across1, across2)
	return frame.Vec{X: math.Hypot(along1, y*turn), Y: math.Hypot((1-x)*across1, x*across2)}
}

// Pushed is a part pushed across the line of its pins until both bear: a spring or a thumb. It
// is pushed across only: along the line pin 1 still has its play.
type Pushed struct {
	Shift frame.Vec // signed, at the feature
	U     frame.Vec
}

// Push is where a feature goes and what is left in doubt. way is +1 to push the part toward +Y, -1
// toward -Y; it shifts by j1/2 at pin 1 and j2/2 at pin 2, turning in between.
//
//	Y: way ((1 - x/L) j1/2 + x/L j2/2)      X: -way y (j2 - j1)/(2 L)
func (j Play) Push(at frame.Vec, way float64) Pushed { return j.PushTo(at, way, j.J1/2, j.J2/2) }

// PushTo is Push where the pins come to bear at other shifts across the line: a part that heat has
// moved along it bears at pin 2 after Seat.Pushes already, less than half the play.
func (j Play) PushTo(at frame.Vec, way, shift1, shift2 float64) Pushed {
	w := math.Copysign(1, way)
	x := at.X / j.apart
	return Pushed{Shift: frame.Vec{X: -w * at.Y * (shift2 - shift1) / j.apart, Y: w * ((1-x)*shift1 + x*shift2)},
		U: j.u(at, j.J1/4, ContactU, ContactU)}
}
