package fit

// Direction is a way along an axis: the way the tool moved relative to the part when a
// hit was taken, or the way an edge faces.
type Direction int

const (
	XPlus Direction = iota
	XMinus
	YPlus
	YMinus
	ZMinus
)

// Vec returns the unit vector in plan; ZMinus has none and gives zero.
func (d Direction) Vec() Point {
	switch d {
	case XPlus:
		return Point{1, 0}
	case XMinus:
		return Point{-1, 0}
	case YPlus:
		return Point{0, 1}
	case YMinus:
		return Point{0, -1}
	case ZMinus:
		return Point{}
	}
	panic("fit: no such direction")
}

// Sign returns +1 for XPlus and YPlus, else -1.
func (d Direction) Sign() float64 {
	if d == XPlus || d == YPlus {
		return 1
	}
	return -1
}

// AlongX reports whether the direction lies along X.
func (d Direction) AlongX() bool { return d == XPlus || d == XMinus }

// Surface returns where the surface is, from one hit square to an axis.
//
//	moving + : hit + r     moving - : hit - r
//
// For ZMinus r is the ball radius only if the probe's length is measured to the ball
// centre; measured to its bottom, which is usual, r is 0: taking it off twice is an
// error of exactly r. On a face skewed by theta it is r·(1/cos theta - 1) off.
func Surface(hit, r float64, d Direction) float64 { return hit + d.Sign()*r }
