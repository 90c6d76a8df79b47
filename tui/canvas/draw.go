package canvas

import (
	"math"
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
	step := 0.0
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
func (c *Canvas) stroke(a, b Point, p Pen, step float64) float64 {
	if !finite(a) || !finite(b) {
		return step
	}
	ax, ay := c.dotOf(a)
	bx, by := c.dotOf(b)
	t0, t1, ok := clip(ax, ay, bx, by, float64(2*c.w-1), float64(4*c.h-1))
	length := math.Max(math.Abs(bx-ax), math.Abs(by-ay))
	if !ok {
		return step + min(length, 1e6)
	}
	n := int(math.Ceil(length * (t1 - t0)))
	for i := 0; i <= n; i++ {
		t := t0
		if n > 0 {
			t = t0 + (t1-t0)*float64(i)/float64(n)
		}
		at := int(math.Round(step + t*min(length, 1e6)))
		if p.Off > 0 && at%(p.On+p.Off) >= p.On {
			continue
		}
		c.set(int(math.Round(ax+t*(bx-ax))), int(math.Round(ay+t*(by-ay))), p.Ink)
	}
	return step + min(length, 1e6)
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

// Directions writes the table's directions on the four edges and keeps all else off
// them: it comes before Look. A narrow picture has left and right at the ends of its last
// line, where they take no columns.
func (c *Canvas) Directions(left, right, away, toward string, k Ink) {
	l, r, y := cells(left)+1, cells(right)+1, c.h/2
	c.Window(l, 1, c.w-l-r, c.h-2)
	if c.w < narrow {
		c.Window(0, 1, c.w, c.h-2)
		y = c.h - 1
	}
	mid := func(s string) int { return max(c.wx+(c.ww-cells(s))/2, 0) }
	c.Text(mid(away), 0, away, k)
	c.Text(mid(toward), c.h-1, toward, k)
	c.Text(0, y, left, k)
	c.Text(max(c.w-r+1, 0), y, right, k)
}

// RowsFor is how many lines a picture of a box wants at a width, with the table's directions
// about it: more would only stand empty.
func RowsFor(b Box, w int) int {
	cols := w
	if w >= narrow {
		cols -= len("LEFT") + len("RIGHT") + 2
	}
	bw, bh := b.MaxX-b.MinX, b.MaxY-b.MinY
	if !(bw > 0) || !(bh > 0) || cols < 1 {
		return 1 << 16
	}
	return int(min(math.Ceil(float64(2*cols)*bh/bw/4), 1<<16)) + 2
}

// narrow is the width from which the words at the sides cost less than they tell.
const narrow = 64

// Swept draws what a tool passes over on some paths. Where passes lie too close together
// to be told apart it is their outline, for a slab of dots would hide what lies under it.
func (c *Canvas) Swept(paths [][]Point, p Pen) {
	mask := New(c.w, c.h, true)
	mask.scale, mask.ox, mask.oy = c.scale, c.ox, c.oy
	for _, ps := range paths {
		mask.Polyline(ps, false, Pen{})
	}
	w, h := 2*c.w, 4*c.h
	on := make([]bool, w*h)
	for y := range h {
		for x := range w {
			on[y*w+x] = mask.dots[y/4*c.w+x/2]&bit[y%4][x%2] != 0
		}
	}
	const reach = 2 // dots: passes nearer than twice that run together
	on = grown(on, w, h, reach, true)
	on = grown(on, w, h, reach, false)
	for y := range h {
		for x := range w {
			inner := on[y*w+x] && x > 0 && y > 0 && x < w-1 && y < h-1 && on[y*w+x-1] && on[y*w+x+1] && on[(y-1)*w+x] && on[(y+1)*w+x]
			if on[y*w+x] && !inner && (p.Off == 0 || (x+y)%(p.On+p.Off) < p.On) {
				c.set(x, y, p.Ink)
			}
		}
	}
}

// grown is a pattern of dots grown by so many on every side, or, with to false, what is
// left of it when its surroundings are. What lies outside the picture is as the edge is.
func grown(on []bool, w, h, by int, to bool) []bool {
	line := func(in []bool, n, stride, start int, out []bool) {
		last := -by - 1 // of the kind that grows
		for i := range n {
			out[start+i*stride] = in[start+i*stride]
			if in[start+i*stride] == to {
				last = i
			}
			if i-last <= by {
				out[start+i*stride] = to
			}
		}
		last = n + by + 1
		for i := n - 1; i >= 0; i-- {
			if in[start+i*stride] == to {
				last = i
			}
			if last-i <= by {
				out[start+i*stride] = to
			}
		}
	}
	rows, all := make([]bool, w*h), make([]bool, w*h)
	for y := range h {
		line(on, w, 1, y*w, rows)
	}
	for x := range w {
		line(rows, h, w, x, all)
	}
	return all
}
