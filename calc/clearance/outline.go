package clearance

import (
	"fmt"
	"math"
	"slices"
)

// Point is a place in plan, mm.
type Point struct{ X, Y float64 }

// Point3 is a place of the tool's tip, mm.
type Point3 struct{ X, Y, Z float64 }

func (p Point3) plan() Point { return Point{p.X, p.Y} }

// Box is an axis-parallel box in plan.
type Box struct{ MinX, MinY, MaxX, MaxY float64 }

// gap is the distance of two boxes, 0 when they touch.
func (b Box) gap(c Box) float64 {
	dx := math.Max(0, math.Max(c.MinX-b.MaxX, b.MinX-c.MaxX))
	dy := math.Max(0, math.Max(c.MinY-b.MaxY, b.MinY-c.MaxY))
	return math.Hypot(dx, dy)
}

func boxOf(p []Point) Box {
	b := Box{p[0].X, p[0].Y, p[0].X, p[0].Y}
	for _, q := range p[1:] {
		b.MinX, b.MaxX = math.Min(b.MinX, q.X), math.Max(b.MaxX, q.X)
		b.MinY, b.MaxY = math.Min(b.MinY, q.Y), math.Max(b.MaxY, q.Y)
	}
	return b
}

// Outline is a convex outline in plan: at least three corners, counter-clockwise, none on
// the line of its neighbours. Make one with NewOutline, Rectangle or Disc.
type Outline struct {
	p   []Point
	box Box
}

// Corners returns a copy of the corners, counter-clockwise.
func (o Outline) Corners() []Point { return append([]Point(nil), o.p...) }

// Box returns the bounding box.
func (o Outline) Box() Box { return o.box }

// Shift returns the outline moved by d.
func (o Outline) Shift(d Point) Outline {
	p := make([]Point, len(o.p))
	for i, q := range o.p {
		p[i] = Point{q.X + d.X, q.Y + d.Y}
	}
	return Outline{p, boxOf(p)}
}

// Fault says what is wrong with an outline and at which corner (index into the points
// given), so that a reader of files can name the line.
type Fault struct {
	Corner int
	What   string
}

func (f *Fault) Error() string { return f.What }

// NewOutline checks the points of an outline, taken in order in either sense. Corners on
// a straight side are dropped. The error is a *Fault: fewer than three corners, a corner
// that is not finite or stands twice, sides that cross, no area, or not convex.
func NewOutline(pts []Point) (Outline, error) {
	for _, find := range []func([]Point) *Fault{badCorner, crossing} {
		if f := find(pts); f != nil {
			return Outline{}, f
		}
	}
	area := area(pts)
	b := boxOf(pts)
	if size := math.Hypot(b.MaxX-b.MinX, b.MaxY-b.MinY); math.Abs(area) <= 1e-9*size*size {
		return Outline{}, noArea()
	}
	p, bad := bends(pts, math.Copysign(1, area))
	if bad != nil {
		return Outline{}, bad
	}
	if area < 0 {
		slices.Reverse(p)
	}
	if p = tidy(p); len(p) < 3 {
		return Outline{}, noArea()
	}
	return Outline{p, boxOf(p)}, nil
}

func fault(i int, format string, a ...any) *Fault { return &Fault{i, fmt.Sprintf(format, a...)} }

func noArea() *Fault {
	return fault(0, "outline has no area: its corners lie on one line; check the coordinates")
}

// badCorner is the first corner that can't be one, nil where all can.
func badCorner(pts []Point) *Fault {
	if n := len(pts); n < 3 {
		return fault(0, "outline has %d corners: it needs at least 3; give them in order round the shape", n)
	}
	for i, p := range pts {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
			return fault(i, "corner %d (%g, %g) is not finite; enter it again", i+1, p.X, p.Y)
		}
		for k := range i {
			if math.Hypot(pts[k].X-p.X, pts[k].Y-p.Y) < same {
				return fault(i, "corner %d (%g, %g) stands where corner %d is; give every corner once", i+1, p.X, p.Y, k+1)
			}
		}
	}
	return nil
}

// crossing is the first pair of sides that cross, nil where none do.
func crossing(pts []Point) *Fault {
	n := len(pts)
	for i := range n {
		for k := i + 2; k < n; k++ {
			if i == 0 && k == n-1 {
				continue // neighbours
			}
			if cross(pts[i], pts[(i+1)%n], pts[k], pts[(k+1)%n]) {
				return fault(k, "outline crosses itself: the side after corner %d meets the side after corner %d; give the corners in order round the "+
					"shape", i+1, k+1)
			}
		}
	}
	return nil
}

// area is twice the area within, above 0 where the corners run anticlockwise.
func area(pts []Point) (a float64) {
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		a += (p.X-pts[0].X)*(q.Y-pts[0].Y) - (p.Y-pts[0].Y)*(q.X-pts[0].X)
	}
	return a
}

// bends are the corners at which the outline turns, in its sense; a turn the other way is a fault.
func bends(pts []Point, sense float64) (p []Point, f *Fault) {
	n := len(pts)
	for i, q := range pts {
		a, c := pts[(i+n-1)%n], pts[(i+1)%n]
		turn := sense * ((q.X-a.X)*(c.Y-q.Y) - (q.Y-a.Y)*(c.X-q.X))
		flat := 1e-9 * math.Hypot(q.X-a.X, q.Y-a.Y) * math.Hypot(c.X-q.X, c.Y-q.Y)
		switch {
		case turn < -flat:
			return nil, fault(i, "outline is not convex at corner %d (%g, %g); split it into convex outlines", i+1, q.X, q.Y)
		case turn > flat:
			p = append(p, q)
		}
	}
	return p, nil
}

// same is the distance in mm below which two corners are one: well under anything that
// can be measured, well over the rounding of coordinates up to a kilometre. A shorter side
// has no direction that can be trusted.
const same = 1e-6

// tidy drops corners closer than same to the one before, then those closer than a tenth
// of it to the line of their neighbours. Without it the rounding of a short side would
// decide what is inside.
func tidy(p []Point) []Point {
	var q []Point
	for _, c := range p {
		if len(q) == 0 || math.Hypot(c.X-q[len(q)-1].X, c.Y-q[len(q)-1].Y) >= same {
			q = append(q, c)
		}
	}
	for len(q) > 1 && math.Hypot(q[0].X-q[len(q)-1].X, q[0].Y-q[len(q)-1].Y) < same {
		q = q[:len(q)-1]
	}
	for i := 0; i < len(q) && len(q) > 2; {
		a, c := q[(i+len(q)-1)%len(q)], q[(i+1)%len(q)]
		if d2, _ := along(a, c, q[i]); d2 < same*same/100 {
			q = append(q[:i:i], q[i+1:]...)
			continue
		}
		i++
	}
	return q
}

// cross tells whether the closed segments ab and cd have a point in common.
func cross(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	within := func(p, q, r Point) bool {
		return math.Min(p.X, q.X) <= r.X && r.X <= math.Max(p.X, q.X) && math.Min(p.Y, q.Y) <= r.Y && r.Y <= math.Max(p.Y, q.Y)
	}
	s1, s2, s3, s4 := side(c, d, a), side(c, d, b), side(a, b, c), side(a, b, d)
	if ((s1 > 0 && s2 < 0) || (s1 < 0 && s2 > 0)) && ((s3 > 0 && s4 < 0) || (s3 < 0 && s4 > 0)) {
		return true
	}
	return s1 == 0 && within(c, d, a) || s2 == 0 && within(c, d, b) || s3 == 0 && within(a, b, c) || s4 == 0 && within(a, b, d)
}

// Rectangle is the outline of an axis-parallel rectangle.
func Rectangle(minX, minY, maxX, maxY float64) (Outline, error) {
	return NewOutline([]Point{{minX, minY}, {maxX, minY}, {maxX, maxY}, {minX, maxY}})
}

// Disc is a regular outline of 24 sides round a circle: it holds the whole circle and
// stands out by at most 0.9 % of the radius.
func Disc(centre Point, r float64) (Outline, error) {
	const n = 24
	if !(r > 0) {
		return Outline{}, &Fault{0, fmt.Sprintf("disc has radius %g: it must be greater than 0; measure it again", r)}
	}
	p := make([]Point, n)
	for i := range p {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		p[i] = Point{centre.X + r/math.Cos(math.Pi/n)*c, centre.Y + r/math.Cos(math.Pi/n)*s}
	}
	return NewOutline(p)
}

// Overlaps lists the pairs of outlines that share area, lowest indices first. Outlines
// that only touch do not overlap.
func Overlaps(os []Outline) [][2]int {
	var out [][2]int
	for i, a := range os {
		for k := i + 1; k < len(os); k++ {
			if a.box.gap(os[k].box) == 0 && separation(a.p, os[k].p) < -1e-9 {
				out = append(out, [2]int{i, k})
			}
		}
	}
	return out
}

// Holds tells whether o lies wholly inside or on t.
func (t Outline) Holds(o Outline) bool {
	for _, p := range o.p {
		if t.Signed(p) > 1e-9 {
			return false
		}
	}
	return true
}
