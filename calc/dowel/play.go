package dowel

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/given"
)

// PlayMost is the most play that a locating pin is given, mm. Common practice.
const PlayMost = 0.012

// ContactU is the standard uncertainty of a pin that bears against its hole, mm. Common practice, from memory.
const ContactU = 0.002

// Pins are two pins in two holes: diameters of hole and pin each, and the distance of the pins.
type Pins struct {
	Hole1, Pin1 float64 // round, it holds both ways
	Hole2, Pin2 float64 // holds across the line
	Apart       float64
}

// Play is what the pins leave, diametral, mm, and the most that the part may turn, rad.
type Play struct{ J1, J2, Turn, apart float64 }

// Play is hole less pin, and (j1 + j2)/(2 L). A pin that is not smaller than its hole is an error.
func (p Pins) Play() (Play, error) {
	if err := given.Above("hole 1", p.Hole1, "pin 1", p.Pin1, "hole 2", p.Hole2, "pin 2", p.Pin2, "distance of the pins",
		p.Apart); err != nil {
		return Play{}, err
	}
	j := Play{J1: p.Hole1 - p.Pin1, J2: p.Hole2 - p.Pin2, apart: p.Apart}
	for i, v := range [2]float64{j.J1, j.J2} {
		if v <= 0 {
			return Play{}, fmt.Errorf("pin %d is larger than its hole by %.4f: take a smaller one", i+1, -v)
		}
	}
	j.Turn = (j.J1 + j.J2) / (2 * p.Apart)
	return j, nil
}

// Worst is the most that a feature may be out, per axis.
//
//	X: j1/2 √(1 + (y/L)²) + |y|/L j2/2      Y: |1 - x/L| j1/2 + |x/L| j2/2
//
// Pin 1 anywhere in its disc, pin 2 anywhere across within its play. Derived.
func (j Play) Worst(at frame.Vec) frame.Vec {
	x, y := at.X/j.apart, at.Y/j.apart
	return frame.Vec{X: j.J1/2*math.Sqrt(1+y*y) + math.Abs(y)*j.J2/2, Y: math.Abs(1-x)*j.J1/2 + math.Abs(x)*j.J2/2}
}

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

// OffLine is what an error of the line's place does after the flip: twice it.
func OffLine(c float64) float64 { return 2 * c }
