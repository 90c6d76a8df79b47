package canvas

import (
	"math"
	"strings"
)

// Line draws a straight stroke between two points.
func (c *Canvas) Line(a, b Point, p Pen) { c.Polyline([]Point{a, b}, false, p) }

// Polyline draws strokes from point to point, and back to the first when closed.
// The dash runs on round the corners. Points that are no finite number break it.
func (c *Canvas) Polyline(ps []Point, closed bool, p Pen) {
	n := len(ps)
	if n == 0 {
		return
	}
	last := n - 1
	if closed && n > 2 {
		last = n
	}
	step := 0
	if n == 1 {
		if x, y, ok := c.dotAt(ps[0]); ok {
			c.set(x, y, p.Ink)
		}
	}
	for i := range last {
		step = c.stroke(ps[i], ps[(i+1)%n], p, step)
	}
}

func (c *Canvas) dotAt(p Point) (x, y int, ok bool) {
	if !finite(p) {
		return 0, 0, false
	}
	dx, dy := c.dotOf(p)
	if math.Abs(dx) > 1e6 || math.Abs(dy) > 1e6 {
		return 0, 0, false
	}
	return int(math.Round(dx)), int(math.Round(dy)), true
}

// stroke draws one side, clipped to the picture first so that a far end costs
// nothing, and returns how far the dash has come.
func (c *Canvas) stroke(a, b Point, p Pen, step int) int {
	if !finite(a) || !finite(b) {
		return step
	}
	ax, ay := c.dotOf(a)
	bx, by := c.dotOf(b)
	t0, t1, ok := clip(ax, ay, bx, by, float64(2*c.w-1), float64(4*c.h-1))
	length := math.Max(math.Abs(bx-ax), math.Abs(by-ay))
	if !ok {
		return step + int(min(length, 1e6))
	}
	n := int(math.Ceil(length * (t1 - t0)))
	for i := 0; i <= n; i++ {
		t := t0
		if n > 0 {
			t = t0 + (t1-t0)*float64(i)/float64(n)
		}
		at := step + int(math.Round(t*min(length, 1e6)))
		if p.Off > 0 && at%(p.On+p.Off) >= p.On {
			continue
		}
		c.set(int(math.Round(ax+t*(bx-ax))), int(math.Round(ay+t*(by-ay))), p.Ink)
	}
	return step + int(min(length, 1e6))
}

// clip is the Liang-Barsky clip of a segment to [0, w] x [0, h], as parameters of
// the segment (Liang and Barsky 1984; from memory).
func clip(ax, ay, bx, by, w, h float64) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	for _, e := range [4][2]float64{{ax - bx, ax}, {bx - ax, w - ax}, {ay - by, ay}, {by - ay, h - ay}} {
		p, q := e[0], e[1]
		switch {
		case p == 0 && q < 0:
			return 0, 0, false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	return t0, t1, t0 <= t1
}

// Circle draws a circle about a point, r in millimetres.
func (c *Canvas) Circle(at Point, r float64, p Pen) { c.Arc(at, r, 0, 2*math.Pi, p) }

// Arc draws from one angle to another, counter-clockwise, in radians.
func (c *Canvas) Arc(at Point, r, from, to float64, p Pen) {
	if !(r > 0) || math.IsInf(r, 0) || !finite(at) || !finite(Point{from, to}) {
		return
	}
	turn := to - from
	if turn < 0 || turn > 2*math.Pi {
		turn = math.Mod(math.Mod(turn, 2*math.Pi)+2*math.Pi, 2*math.Pi)
	}
	n := int(min(max(math.Ceil(r*c.scale*turn), 8), 2000))
	ps := make([]Point, n+1)
	for i := range ps {
		t := from + turn*float64(i)/float64(n)
		ps[i] = Point{at.X + r*math.Cos(t), at.Y + r*math.Sin(t)}
	}
	c.Polyline(ps, false, p)
}

// Hatch fills a closed outline with slanting strokes every so many dots (at least
// 2); the outline itself is not drawn. Even-odd rule.
func (c *Canvas) Hatch(ps []Point, every int, k Ink) {
	if len(ps) < 3 || every < 2 {
		return
	}
	xs, ys := make([]float64, len(ps)), make([]float64, len(ps))
	for i, p := range ps {
		if !finite(p) {
			return
		}
		xs[i], ys[i] = c.dotOf(p)
	}
	for y := range 4 * c.h {
		for x := range 2 * c.w {
			if (x+y)%every == 0 && inside(float64(x), float64(y), xs, ys) {
				c.set(x, y, k)
			}
		}
	}
}

func inside(x, y float64, xs, ys []float64) bool {
	in := false
	for i, j := 0, len(xs)-1; i < len(xs); j, i = i, i+1 {
		if (ys[i] > y) != (ys[j] > y) && x < (xs[j]-xs[i])*(y-ys[i])/(ys[j]-ys[i])+xs[i] {
			in = !in
		}
	}
	return in
}

// Mark sets a glyph at a point, and its name beside it where there is room: to
// the right, else left, above, below. ok is false if the point is outside.
func (c *Canvas) Mark(p Point, glyph rune, name string, k Ink) (ok bool) {
	x, y, ok := c.Cell(p)
	if !ok {
		return false
	}
	c.Put(x, y, glyph, k)
	c.Name(p, name, k)
	return true
}

// Name writes a name beside a point where there is room: to the right, else left,
// above, below; without room nowhere. A blank stands between it and whatever is beside it;
// only a number stands right at its mark, for a mark and a word would read as another word.
func (c *Canvas) Name(p Point, name string, k Ink) {
	x, y, ok := c.Cell(p)
	n := len([]rune(name))
	if !ok || n == 0 {
		return
	}
	gap := 1
	if '0' <= name[0] && name[0] <= '9' {
		gap = 0
	}
	right, left := x+1+gap, x-gap-n
	switch {
	case c.free(right, y, n) && c.apart(right+1-gap, y, n-1+gap):
		c.Text(right-gap, y, strings.Repeat(" ", gap)+name, k)
	case c.free(left, y, n) && c.apart(left, y, n-1+gap):
		c.Text(left, y, name+strings.Repeat(" ", gap), k)
	case c.apart(x-n/2, y-1, n):
		c.Text(x-n/2, y-1, name, k)
	case c.apart(x-n/2, y+1, n):
		c.Text(x-n/2, y+1, name, k)
	}
}

// apart reports that a text of n cells would stand free: in the picture, and no other
// text or mark in its cells or right beside them.
func (c *Canvas) apart(x, y, n int) bool {
	from, to := max(x-1, 0), min(x+n+1, c.w)
	return x >= 0 && x+n <= c.w && c.free(from, y, to-from)
}

// Label writes a text about a point, kept inside the picture; where others stand, on a
// line nearby, and with none free nowhere.
func (c *Canvas) Label(p Point, s string, k Ink) {
	x, y, _ := c.Cell(p)
	n := len([]rune(s))
	x, y = min(max(x-n/2, 0), max(c.w-n, 0)), min(max(y, 0), c.h-1)
	for _, dy := range []int{0, -1, 1, -2, 2} {
		if c.apart(x, y+dy, n) {
			c.Text(x, y+dy, s, k)
			return
		}
	}
}

// Arrow draws a stroke with a head at its end.
func (c *Canvas) Arrow(from, to Point, p Pen) {
	c.Line(from, to, p)
	x, y, ok := c.Cell(to)
	if !ok {
		return
	}
	c.Put(x, y, Head(to.X-from.X, to.Y-from.Y), p.Ink)
}

// Head is the arrow head for a direction, x right and y up.
func Head(dx, dy float64) rune {
	switch {
	case math.Abs(dx) >= math.Abs(dy) && dx >= 0:
		return '>'
	case math.Abs(dx) >= math.Abs(dy):
		return '<'
	case dy > 0:
		return '^'
	}
	return 'v'
}

// Directions writes the table's directions on the four edges. They come before names and
// labels, which keep off them.
func (c *Canvas) Directions(left, right, away, toward string, k Ink) {
	mid := func(s string) int { return max((c.w-len([]rune(s)))/2, 0) }
	c.Text(mid(away), 0, away, k)
	c.Text(mid(toward), c.h-1, toward, k)
	c.Text(0, c.h/2, left, k)
	c.Text(max(c.w-len([]rune(right)), 0), c.h/2, right, k)
}
