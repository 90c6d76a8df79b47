package frame

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Axis is the machine axis the part is turned about when it is flipped.
type Axis int

const (
	AboutX Axis = iota // the edge that was away comes toward the operator
	AboutY             // left and right change places
)

// Flip turns the part upside down: a rotation by 180 degrees, never a mirror. It takes side-1 program
// coordinates to side-2 program coordinates in plan and, being its own inverse, back.
//
//	about X: (X, Y) -> (X, Across - Y)      about Y: (X, Y) -> (Across - X, Y)
type Flip struct {
	Axis   Axis
	Across float64 // old plus new coordinate across the axis, mm: part width or length
}

// Over flips a part of finished length X and width Y with both zeros at the lower-left corner of the side that is up.
func Over(a Axis, size Vec) Flip {
	if a == AboutX {
		return Flip{a, size.Y}
	}
	return Flip{a, size.X}
}

// Plan is a point of one side on the other. Seen from above it is a reflection: through-features reverse
// their sense although the part is turned, not mirrored.
func (f Flip) Plan(p Vec) Vec {
	if f.Axis == AboutX {
		return Vec{p.X, f.Across - p.Y}
	}
	return Vec{f.Across - p.X, p.Y}
}

// Mirrored says whether a side-2 program is a mirror image of the part: side1 are three points of
// side 1, side2 the same three as the side-2 program has them. The sense of rotation (signed
// area) of side2 is compared with that of side1 mapped by the flip.
//
// Points nearly on one line (height of the triangle below a thousandth of its longest side)
// have no sense of rotation and are refused.
func (f Flip) Mirrored(side1, side2 [3]Vec) (bool, error) {
	var mapped [3]Vec
	for i, p := range side1 {
		mapped[i] = f.Plan(p)
	}
	want, err := sense(mapped)
	if err != nil {
		return false, fmt.Errorf("side 1: %w", err)
	}
	got, err := sense(side2)
	if err != nil {
		return false, fmt.Errorf("side 2: %w", err)
	}
	return want*got < 0, nil
}

// sense returns twice the signed area of a triangle, or an error when it has none to speak of.
func sense(p [3]Vec) (float64, error) {
	a, b := p[1].Sub(p[0]), p[2].Sub(p[0])
	area := a.Cross(b)
	long := math.Max(math.Max(a.Len(), b.Len()), b.Sub(a).Len())
	if !(math.Abs(area) > 1e-3*long*long) {
		return 0, fmt.Errorf("points %v do not show a sense of rotation: take three that are not on one line", p)
	}
	return area, nil
}

// SquarenessOf returns the squareness that explains a register error in X between two places dy apart in Y, both sides cut on the
// machine and compared in side-2 coordinates: half of the mismatch is the machine's. dy must not be 0.
func SquarenessOf(mismatch, dy float64) unit.Slope {
	if dy == 0 {
		panic("frame: squareness wants two places apart in Y")
	}
	return unit.Slope(-mismatch / (2 * dy))
}
