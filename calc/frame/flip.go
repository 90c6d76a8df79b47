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

// Flip turns the part upside down: a rotation by 180 degrees, never a mirror. It takes
// side-1 program coordinates to side-2 program coordinates and, being its own inverse, back.
//
//	about X: (X, Y, Z) -> (X, Across - Y, Height - Z)
//	about Y: (X, Y, Z) -> (Across - X, Y, Height - Z)
type Flip struct {
	Axis   Axis
	Across float64 // old plus new coordinate across the axis, mm: part width or length, or twice the pin line
	Height float64 // old plus new Z, mm: see the constructors
}

// OverTop flips a part of finished size (length X, width Y, thickness Z) with both zeros at the
// lower-left corner of the top that is up: Z goes to -Z - thickness. The thickness is the
// finished one; the stock's would be out by the skin.
func OverTop(a Axis, size Vec3) Flip { return Flip{a, across(a, size), -size.Z} }

// OverFloor flips a part whose side-2 Z zero is the pocket floor: the seat face lies on it. seat
// is the height of that face in side-1 coordinates: 0 when side 1's zero face is the seat, the
// height of the shoulder when a shoulder is. Z goes to seat - Z.
func OverFloor(a Axis, size Vec3, seat float64) Flip { return Flip{a, across(a, size), seat} }

// OnPins returns the same flip about a pin line: the line is at that Y (flip about X) or that X
// (flip about Y), mm. An error of the line's place shows twice in the part.
func (f Flip) OnPins(line float64) Flip {
	f.Across = 2 * line
	return f
}

func across(a Axis, size Vec3) float64 {
	if a == AboutX {
		return size.Y
	}
	return size.X
}

// Apply returns the side-2 coordinates of a point given in side-1 coordinates, or back.
func (f Flip) Apply(p Vec3) Vec3 {
	q := f.Plan(p.Plan())
	return Vec3{q.X, q.Y, f.Height - p.Z}
}

// Plan is Apply without Z. Seen from above it is a reflection: through-features reverse
// their sense although the part is turned, not mirrored.
func (f Flip) Plan(p Vec) Vec {
	if f.Axis == AboutX {
		return Vec{p.X, f.Across - p.Y}
	}
	return Vec{f.Across - p.X, p.Y}
}

// Matrix returns the rotation part of the flip, determinant +1.
func (f Flip) Matrix() [3][3]float64 {
	if f.Axis == AboutX {
		return [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}
	}
	return [3][3]float64{{-1, 0, 0}, {0, 1, 0}, {0, 0, -1}}
}

// Angle returns the direction on side 2 of a direction on side 1, in (-π, π]: phi goes to
// -phi about X, to π - phi about Y.
func (f Flip) Angle(phi unit.Angle) unit.Angle {
	a := -float64(phi)
	if f.Axis == AboutY {
		a += math.Pi
	}
	if a = math.Remainder(a, 2*math.Pi); a == -math.Pi {
		a = math.Pi
	}
	return unit.Angle(a)
}

// Wall returns on which side of the flipped part the edge stands that was on side w before.
func (f Flip) Wall(w Wall) Wall {
	if f.Axis == AboutX && w.Dir().Y != 0 || f.Axis == AboutY && w.Dir().X != 0 {
		return w.Opposite()
	}
	return w
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

// Squareness returns what a machine out of square does to the register of the sides at p: error in
// the sense of the package, mm, in side-2 coordinates, zero at the centre c that both sides were picked up from.
// eps is the X error for each mm of Y (a cut at y lands at x + eps*y). It doubles across either flip, and a
// fixture made on the same machine does not cure it.
func Squareness(eps unit.Slope, p, c Vec) Vec { return Vec{-2 * float64(eps) * (p.Y - c.Y), 0} }

// SquarenessOf returns the squareness that explains a register error in X between two places dy apart in Y, both sides cut on the
// machine and compared in side-2 coordinates: half of the mismatch is the machine's. dy must not be 0.
func SquarenessOf(mismatch, dy float64) unit.Slope {
	if dy == 0 {
		panic("frame: squareness wants two places apart in Y")
	}
	return unit.Slope(-mismatch / (2 * dy))
}
