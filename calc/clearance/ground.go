package clearance

import (
	"math"
	"slices"
)

// abut is the gap in mm below which two regions of support are one: well under what a
// tip could tell, well over the rounding of coordinates.
const abut = 1e-3

// Ground is solid support, made ready for many questions: convex regions that may overlap
// or abut and then bear as one. Regions that leave less than a micrometre between them abut.
type Ground struct {
	regions []Outline
	rim     [][2]Point // what of the regions' sides is the border of all of them together
}

// NewGround makes the ground of its regions; without any nothing bears.
func NewGround(regions ...Outline) Ground {
	g := Ground{regions: append([]Outline(nil), regions...)}
	for i, o := range g.regions {
		a := o.p[len(o.p)-1]
		for _, b := range o.p {
			g.rim = append(g.rim, g.bare(i, a, b)...)
			a = b
		}
	}
	return g
}

// bare are the pieces of side ab of region i that no other region lies against: the side,
// moved out by abut, less what the others cover of it.
func (g *Ground) bare(i int, a, b Point) [][2]Point {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	nx, ny := (b.Y-a.Y)/l*abut, -(b.X-a.X)/l*abut
	c, d := Point{a.X + nx, a.Y + ny}, Point{b.X + nx, b.Y + ny}
	near := Box{math.Min(c.X, d.X), math.Min(c.Y, d.Y), math.Max(c.X, d.X), math.Max(c.Y, d.Y)}
	var covered [][2]float64
	for k := range g.regions {
		if k == i || g.regions[k].box.gap(near) > 0 {
			continue
		}
		if lo, hi, ok := cutBy(g.regions[k].p, c, d); ok {
			covered = append(covered, [2]float64{lo, hi})
		}
	}
	slices.SortFunc(covered, func(x, y [2]float64) int {
		if x[0] < y[0] {
			return -1
		}
		return 1
	})
	var out [][2]Point
	at := func(t float64) Point { return Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)} }
	from := 0.0
	for _, s := range append(covered, [2]float64{1, 1}) {
		if (s[0]-from)*l > 2*abut {
			out = append(out, [2]Point{at(from), at(s[0])})
		}
		from = math.Max(from, s[1])
	}
	return out
}

// cutBy is the part of the segment ab inside a convex outline, as shares of ab.
func cutBy(p []Point, a, b Point) (lo, hi float64, ok bool) {
	hi = 1
	c := p[len(p)-1]
	for _, e := range p {
		sa := (e.Y-c.Y)*(a.X-c.X) - (e.X-c.X)*(a.Y-c.Y) // > 0 outside of this side
		sb := (e.Y-c.Y)*(b.X-c.X) - (e.X-c.X)*(b.Y-c.Y)
		switch {
		case sa > 0 && sb > 0:
			return 0, 0, false
		case sa > 0:
			lo = math.Max(lo, sa/(sa-sb))
		case sb > 0:
			hi = math.Min(hi, sa/(sa-sb))
		}
		c = e
	}
	return lo, hi, lo < hi
}

// Footing is how far inside the ground a round pad stands: 0 or more is solid all under
// it, negative is the overhang. Minus infinity without regions.
func (g Ground) Footing(tip Point, pad float64) float64 {
	out := math.Inf(1)
	for i := range g.regions {
		out = math.Min(out, signed(g.regions[i].p, tip))
	}
	if out > abut {
		return -out - pad
	}
	rim := math.Inf(1)
	for _, s := range g.rim {
		d2, _ := along(s[0], s[1], tip)
		rim = math.Min(rim, d2)
	}
	if rim = math.Sqrt(rim); out > 0 && rim <= 2*abut {
		return -out - pad // outside, and not in a seam between two regions
	}
	return rim - pad
}

// Span is the free length, in mm, of the strip through a place that does not stand on the
// ground: the least distance from solid to solid in any of 36 directions. over is the
// longer of its two parts. held is false where solid lies on one side at most: span is then
// the least distance to it, infinite without any.
func (g Ground) Span(at Point) (span, over float64, held bool) {
	far := 0.0
	for _, o := range g.regions {
		b := o.box
		far = math.Max(far, math.Hypot(math.Max(math.Abs(b.MinX-at.X), math.Abs(b.MaxX-at.X)),
			math.Max(math.Abs(b.MinY-at.Y), math.Abs(b.MaxY-at.Y))))
	}
	reach := func(dx, dy float64) float64 {
		d := math.Inf(1)
		for _, o := range g.regions {
			if lo, _, ok := cutBy(o.p, at, Point{at.X + dx*far, at.Y + dy*far}); ok {
				d = math.Min(d, lo*far)
			}
		}
		return d
	}
	span, one := math.Inf(1), math.Inf(1)
	for i := range 36 {
		s, c := math.Sincos(math.Pi * float64(i) / 36)
		p, q := reach(c, s), reach(-c, -s)
		one = math.Min(one, math.Min(p, q))
		if p+q < span {
			span, over = p+q, math.Max(p, q)
		}
	}
	if math.IsInf(span, 1) {
		return one, one, false
	}
	return span, over, true
}

// Around is the least convex outline that holds all the points: the seat of a part on
// several regions, for instance. The error is that of NewOutline.
func Around(pts ...Point) (Outline, error) {
	for i, p := range pts {
		if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
			return Outline{}, &Fault{i, "a place is not finite; enter it again"}
		}
	}
	if len(pts) < 3 {
		return NewOutline(pts)
	}
	return NewOutline(hull(append([]Point(nil), pts...)))
}
