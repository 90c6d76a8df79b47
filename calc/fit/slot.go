package fit

import (
	"fmt"
	"math"
)

// Across is what two opposed hits measure: a gap or the material between gaps.
type Across int

const (
	Slot Across = iota // the ball is inside, between the walls
	Web                // the ball is outside, on either side
)

// WallHit is a ball centre on a wall: U across the slot, V along it, mm.
type WallHit struct{ U, V float64 }

// Width is a slot or web measured across.
type Width struct {
	Center float64 // across, at the height V of the two opposed hits
	Lean   Value   // of the walls: rise of U per V as an angle, rad; needs a third hit
	Width  float64 // square to the walls if Lean is known, else as if they were square to U
}

// WidthError is a width that the hits cannot have measured.
type WidthError struct {
	Kind  Across
	Width float64
	Why   string
}

func (e *WidthError) Error() string {
	name := [...]string{"slot", "web"}[e.Kind]
	return fmt.Sprintf("%s of width %.4f: %s", name, e.Width, e.Why)
}

// ToWidth measures a slot or web from two opposed hits at one V and, if given, a third on
// the wall of hit a or b at another V.
//
//	center = (a + b)/2 (the radius cancels)   lean = atan(Δu/Δv) of the third hit
//	slot = |b - a|·cos(lean) + 2r   web = |b - a|·cos(lean) - 2r
//
// Lean is positive when the wall goes to larger U with larger V. Lengths in mm. Errors:
// WidthError when both hits are on one wall or the ball does not fit; DegenerateError for
// a third hit at the same V. Derived.
// Slot against web makes an error of 4r in width and none in the centre: only the
// expected width shows it, see MistakenKind.
func ToWidth(kind Across, a, b WallHit, third *WallHit, r float64) (Width, error) {
	if err := finite("wall hit", 0, a.U, a.V, b.U, b.V, r); err != nil {
		return Width{}, err
	}
	span := math.Abs(b.U - a.U)
	w := Width{Center: (a.U + b.U) / 2}
	cos := 1.0
	if third != nil {
		if err := finite("wall hit", 2, third.U, third.V); err != nil {
			return Width{}, err
		}
		on := a
		if math.Abs(third.U-b.U) < math.Abs(third.U-a.U) {
			on = b
		}
		if third.V == on.V {
			i := 1
			if on == b {
				i = 2
			}
			return Width{}, &DegenerateError{What: "lean of the wall", Why: Coincident, I: i, J: 3}
		}
		w.Lean = Known(math.Atan((third.U - on.U) / (third.V - on.V)))
		cos = math.Cos(w.Lean.V)
	}
	if kind == Slot {
		w.Width = span*cos + 2*r
		if span < r/100 {
			return Width{}, &WidthError{kind, w.Width, "it is no wider than the ball: both hits are on the same wall, or the ball does not fit"}
		}
	} else {
		w.Width = span*cos - 2*r
		if w.Width <= 0 {
			return Width{}, &WidthError{kind, w.Width, "the hits are no farther apart than the ball is wide: both on the same wall, or this is a " +
				"slot"}
		}
	}
	return w, nil
}
