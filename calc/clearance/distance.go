package clearance

import "math"

// Signed is the distance of a point from the outline: positive outside, negative inside
// (then the depth below the nearest side).
func (o Outline) Signed(p Point) float64 { return signed(o.p, p) }

// Distance is the distance of a point from the outline, 0 inside.
func (o Outline) Distance(p Point) float64 { return math.Max(0, signed(o.p, p)) }

// signed works on a convex, counter-clockwise list; a list of one or two points has no inside.
func signed(p []Point, q Point) float64 {
	if len(p) == 1 {
		return math.Hypot(q.X-p[0].X, q.Y-p[0].Y)
	}
	inside, deep, best := len(p) > 2, math.Inf(-1), math.Inf(1)
	a := p[len(p)-1]
	for _, b := range p {
		ex, ey, wx, wy := b.X-a.X, b.Y-a.Y, q.X-a.X, q.Y-a.Y
		l2 := ex*ex + ey*ey
		side := ey*wx - ex*wy // > 0 outside of this side
		if side > 0 {
			inside = false
		}
		if inside {
			deep = math.Max(deep, side/math.Sqrt(l2))
		}
		t := (wx*ex + wy*ey) / l2
		t = math.Max(0, math.Min(1, t))
		dx, dy := wx-t*ex, wy-t*ey
		best = math.Min(best, dx*dx+dy*dy)
		a = b
	}
	if inside {
		return deep
	}
	return math.Sqrt(best)
}

// along is the squared distance of q from the segment ab, and the nearest place on ab.
func along(a, b, q Point) (d2, at float64) {
	ex, ey, wx, wy := b.X-a.X, b.Y-a.Y, q.X-a.X, q.Y-a.Y
	if l2 := ex*ex + ey*ey; l2 > 0 {
		at = math.Max(0, math.Min(1, (wx*ex+wy*ey)/l2))
	}
	dx, dy := wx-at*ex, wy-at*ey
	return dx*dx + dy*dy, at
}

// segment is the distance of ab from a convex, counter-clockwise list, 0 when they touch.
// The segment is cut by the outline's half planes: what is left is inside.
func segment(p []Point, a, b Point) (d, at float64) {
	if len(p) > 2 {
		lo, hi := 0.0, 1.0
		c := p[len(p)-1]
		for _, e := range p {
			sa := (e.Y-c.Y)*(a.X-c.X) - (e.X-c.X)*(a.Y-c.Y)
			sb := (e.Y-c.Y)*(b.X-c.X) - (e.X-c.X)*(b.Y-c.Y)
			switch {
			case sa > 0 && sb > 0:
				lo = 2
			case sa > 0:
				lo = math.Max(lo, sa/(sa-sb))
			case sb > 0:
				hi = math.Min(hi, sa/(sa-sb))
			}
			c = e
		}
		if lo <= hi {
			return 0, lo
		}
	}
	best := math.Inf(1)
	c := p[len(p)-1]
	for _, e := range p {
		if d2, t := along(a, b, e); d2 < best {
			best, at = d2, t
		}
		if d2, _ := along(c, e, a); d2 < best {
			best, at = d2, 0
		}
		if d2, _ := along(c, e, b); d2 < best {
			best, at = d2, 1
		}
		c = e
	}
	return math.Sqrt(best), at
}

// separation is the distance of two convex lists, or, when they share area, the negative
// depth by which they do. Lists of one or two points are points and segments.
func separation(p, q []Point) float64 {
	deep := math.Inf(-1)
	for k := range 2 {
		if len(p) > 1 {
			a := p[len(p)-1]
			for _, b := range p {
				nx, ny := b.Y-a.Y, a.X-b.X
				l := math.Hypot(nx, ny)
				least := math.Inf(1)
				for _, c := range q {
					least = math.Min(least, (nx*(c.X-a.X)+ny*(c.Y-a.Y))/l)
				}
				deep = math.Max(deep, least)
				a = b
			}
		}
		if k == 0 {
			p, q = q, p
		}
	}
	if deep <= 0 && !math.IsInf(deep, -1) {
		return deep
	}
	best := math.Inf(1)
	for range 2 {
		p, q = q, p
		a := p[len(p)-1]
		for _, b := range p {
			for _, c := range q {
				d2, _ := along(a, b, c)
				best = math.Min(best, d2)
			}
			a = b
		}
	}
	return math.Sqrt(best)
}
