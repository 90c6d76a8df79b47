package pickup

import (
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
)

// Floor is a pocket's floor and its rim, as offsets: machine Z less the length in force
// and the block under the tool. Tilts are ratios, places those of the fixture.
type Floor struct {
	Z            float64 // in the middle of the pocket
	TiltX, TiltY float64
	Rim          float64 // mean of its two places
	Block        float64 // lay under the tool at every touch, 0 under a probe
	U            float64 // standard uncertainty of Z
}

// Length is what lies between the spindle's gauge line and what touches, with its variance.
type Length struct{ V, Var float64 }

// FloorOf is the floor by touches that make a plane, mid the middle of the pocket, about
// which they lie, rim the two touches of the rim (machine Z), s the scatter of one touch.
func FloorOf(p fit.Plane, mid frame.Vec, rim [2]float64, l Length, block, s float64) Floor {
	f := Floor{Z: fit.ZOffset(p.At(mid.X, mid.Y), l.V, block), TiltX: p.B, TiltY: p.C, Block: block}
	f.Rim = (rim[0]+rim[1])/2 - block - l.V
	u := s / math.Sqrt(float64(p.N))
	f.U = math.Sqrt(u*u + l.Var)
	return f
}

// rimCard is the half-width of a card's height of rim over floor, mm (estimate).
const rimCard = 0.005

// FloorByRim is the floor below a part that lies on it: by two touches of the rim and what
// the card says of its height over the floor. It is taken as level.
func FloorByRim(rim [2]float64, height float64, l Length, block, s float64) Floor {
	r := (rim[0] + rim[1]) / 2
	u := math.Sqrt(s*s/2 + rimCard*rimCard/3)
	return Floor{Z: fit.ZOffset(r-height, l.V, block), Rim: r - block - l.V, Block: block, U: math.Sqrt(u*u + l.Var)}
}

// RimAt is what the rim reads at one of its places, as an offset and with the block in it:
// the mean of both places, and the floor's tilt from there.
func (f Floor) RimAt(q, mid frame.Vec) float64 {
	return f.Rim + f.Block + f.TiltX*(q.X-mid.X) + f.TiltY*(q.Y-mid.Y)
}

// At is the floor at a place, from the place where Z was taken.
func (f Floor) At(q, from frame.Vec) float64 {
	return f.Z + f.TiltX*(q.X-from.X) + f.TiltY*(q.Y-from.Y)
}

// Over is how much a tilt rises over a size, at most: from one corner to the opposite one.
func Over(tiltX, tiltY, w, h float64) float64 { return math.Abs(tiltX)*w + math.Abs(tiltY)*h }

// OverU is the standard uncertainty of that at worst, where it leans both ways, for a scatter s of one touch; the
// touches lie evenly, so that the two tilts do not hang together.
func OverU(p fit.Plane, w, h, s float64) float64 {
	q := p.Cofactor
	return s * math.Sqrt(w*w*q[1][1]+h*h*q[2][2])
}

// HighSide is the side on which a tilt is highest, given as rises across the part.
func HighSide(x, y float64) frame.Wall {
	switch {
	case math.Abs(x) >= math.Abs(y) && x > 0:
		return frame.Right
	case math.Abs(x) >= math.Abs(y):
		return frame.Left
	case y > 0:
		return frame.Away
	}
	return frame.Toward
}

// Highest is which of the touches stands highest over a plane of that tilt; -1 without any.
func Highest(ps []fit.Point3, tiltX, tiltY float64) int {
	best, at := math.Inf(-1), -1
	for i, p := range ps {
		if z := p.Z - tiltX*p.X - tiltY*p.Y; z > best {
			best, at = z, i
		}
	}
	return at
}

// Wedge is the lean of a part's top over its seat face, side-2 coordinates, by the slope
// of its thickness in side 1's: turned about X the Y slope changes its sign, about Y the X slope.
func Wedge(slopeX, slopeY float64, flipX bool) (x, y float64) {
	if flipX {
		return slopeX, -slopeY
	}
	return -slopeX, slopeY
}

// Seat is how a part lies, by touches on its top.
type Seat struct {
	Over         float64 // top over the floor in the middle of the part, mm
	TiltX, TiltY float64 // of the top, less the floor's and the part's own wedge
	Lean         float64 // those over the part, mm
}

// SeatOf holds a part's top against its floor. size is the part's in plan.
func SeatOf(top fit.Plane, f Floor, wedgeX, wedgeY float64, l Length, size [2]float64) Seat {
	s := Seat{TiltX: top.B - f.TiltX - wedgeX, TiltY: top.C - f.TiltY - wedgeY}
	s.Over = top.At(size[0]/2, size[1]/2) - l.V - f.Block - f.Z
	s.Lean = Over(s.TiltX, s.TiltY, size[0], size[1])
	return s
}

// Top is the raw top of stock.
type Top struct {
	Lowest   float64 // machine Z at the lowest place, touched or a corner by the plane
	At       int     // which touch; of a corner by the plane, the touch nearest to it
	Zero     float64 // Z0 as an offset: one skin under the lowest place
	Thickest float64 // of the skin
	U        float64 // standard uncertainty of Zero
}

// TopOf sets the zero of side 1 one skin under the lowest place of the raw top, so that no
// corner stays uncut. The first four touches lie near the corners in the order near left,
// near right, far right, far left. size is the stock's in plan, s the scatter of one touch.
func TopOf(p fit.Plane, ps []fit.Point3, skin float64, l Length, block, s float64, size [2]float64) Top {
	t := Top{Lowest: math.Inf(1), At: len(ps) - 1}
	for i, q := range ps {
		if q.Z < t.Lowest {
			t.Lowest, t.At = q.Z, i
		}
	}
	for i, c := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		if z := p.At(c[0]*size[0], c[1]*size[1]); z < t.Lowest {
			t.Lowest, t.At = z, i
		}
	}
	t.Zero = t.Lowest - skin - l.V - block
	for _, q := range ps {
		t.Thickest = math.Max(t.Thickest, t.Skin(q.Z, skin))
	}
	t.U = math.Hypot(s, math.Sqrt(l.Var))
	return t
}

// Skin is what side 1 takes off a place of the top at machine Z z, where it takes skin off
// the lowest one.
func (t Top) Skin(z, skin float64) float64 { return z - t.Lowest + skin }

// Left is what stays for side 2's skin at a place of the top at machine Z z: the stock's
// thickness there, less side 1's skin and the finished part.
func (t Top) Left(z, skin, thickness, finished float64) float64 {
	return thickness - t.Skin(z, skin) - finished
}
