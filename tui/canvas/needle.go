package canvas

import "math"

// Needle is a dial rolled out: where its needle stands and where it has to come, mm of the dial.
type Needle struct {
	Now, To float64
	Limit   float64 // about To; 0 for none
}

// DrawNeedle shows a stretch of the dial with both places and an arrow from one to the other. Rising is to the right.
func DrawNeedle(w, h int, n Needle, now, to Pen, k Inks, f Format, ascii bool) *Canvas {
	c := New(w, h, ascii)
	far := math.Abs(n.To - n.Now)
	if f == nil || w < 24 || h < 4 || !(far > nothing) || math.IsInf(far, 0) {
		return c
	}
	lo, hi := math.Min(n.Now, n.To), math.Max(n.Now, n.To)
	a, b := "now "+signed(n.Now, f), "to "+signed(n.To, f)
	left := max(cells(a), cells(b))/2 + 1
	x := func(v float64) int { return left + int(math.Round(float64(w-2*left-1)*(v-lo)/(hi-lo))) }
	y := h / 2
	c.raw([]Point{{0, float64(4*y + 1)}, {float64(2*w - 1), float64(4*y + 1)}}, Pen{k.Axis, 1, 3})
	c.raw([]Point{{float64(2 * x(n.Now)), float64(4*y + 1)}, {float64(2 * x(n.To)), float64(4*y + 1)}}, to)
	head := '>'
	if n.To < n.Now {
		head = '<'
	}
	c.Put(x(n.Now), y, '|', now.Ink)
	c.Put(x(n.To), y, head, to.Ink)
	c.Text(max(x(n.Now)-cells(a)/2, 0), y-1, a, now.Ink)
	c.Text(max(min(x(n.To)-cells(b)/2, w-cells(b)), 0), y+1, b, to.Ink)
	if u := usable(n.Limit); u > 0 && y+2 < h {
		t := "± " + f(u)
		if ascii {
			t = "+/- " + f(u)
		}
		c.Text(max(min(x(n.To)-cells(t)/2, w-cells(t)), 0), y+2, t, k.Text)
	}
	return c
}
