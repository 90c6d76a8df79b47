package canvas

import (
	"math"
)

// Target is where something lies against what is allowed, mm: a ring of the allowance, the
// error as a dot, and about it the ellipse of its uncertainty.
type Target struct {
	Allowed float64
	X, Y    float64
	UX, UY  float64
}

// DrawTarget shows a target at a scale fixed by what is allowed.
func DrawTarget(w, h int, t Target, ring, guard, dot Pen, text Ink, ascii bool) *Canvas {
	c := New(w, h, ascii)
	if w < 12 || h < 4 || usable(t.Allowed) == 0 || !finite(Point{t.X, t.Y}) {
		return c
	}
	if h >= 8 && w >= 30 {
		c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD YOU", text)
	}
	far := max(math.Abs(t.X)+t.UX, math.Abs(t.Y)+t.UY)
	out := t.Allowed * 1.05
	if far > out {
		out = Scale(t.Allowed, far)
	}
	c.Look(Box{-out, -out, out, out})
	c.Circle(Point{}, t.Allowed, ring)
	c.Mark(Point{}, '+', "", ring.Ink)
	n := 64
	ps := make([]Point, n)
	for i := range ps {
		a := 2 * math.Pi * float64(i) / float64(n)
		ps[i] = Point{t.X + t.UX*math.Cos(a), t.Y + t.UY*math.Sin(a)}
	}
	c.Polyline(ps, true, guard)
	c.Mark(Point{t.X, t.Y}, 'o', "", dot.Ink)
	return c
}
