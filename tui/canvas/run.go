package canvas

import (
	"math"
	"strings"
)

// Run is an indicator run: what is read at each place along the edge, the fitted line at the
// same places, and the reading that is suspected (-1 for none). All in millimetres, plus
// is Up. Slices of different length are cut to the shortest.
type Run struct {
	At, Reading, Fitted []float64
	Suspect             int
	Limit               float64   // of the difference between the ends; 0 for none
	Ends                [2]string // LEFT, RIGHT: where the run begins and ends
	Up, Down            string    // AWAY, TOWARD YOU
}

// DrawRun shows the readings and the fitted line against the band of the limit, both counted from
// where the line begins. What the plot reaches is written at its ends, the
// line's rise at its own.
func DrawRun(w, h int, r Run, k Inks, f Format, ascii bool) *Canvas {
	c := New(w, h, ascii)
	n := min(len(r.At), len(r.Reading), len(r.Fitted))
	if n == 0 || w < 24 || h < 4 {
		return c
	}
	r.Limit = usable(r.Limit)
	zero := r.Fitted[0]
	ys, most := make([]float64, n), 0.0
	for i := range n {
		ys[i] = r.Reading[i] - zero
		most = max(most, largest(ys[i:i+1]), largest([]float64{r.Fitted[i] - zero}))
	}
	big := Scale(r.Limit, most)
	lo, hi := span(r.At[:n])
	t := r.texts(big, r.Fitted[n-1]-zero, f, ascii)
	left := max(cells(t.top), cells(r.Up), cells(r.Down), cells(t.bound)) + 1
	right := cells(t.rise) + 2
	pl := panel{x0: float64(2 * left), lo: lo, y1: float64(4*(h-1) - 2), vlo: -big}
	if hi > lo {
		pl.sx = float64(2*(c.w-left-right)-2) / (hi - lo)
	}
	if big > 0 {
		pl.sy = float64(4*(h-1)-3) / (2 * big)
	} else {
		pl.y1 = float64(2 * (h - 1))
	}
	c.Text(0, 0, t.top, k.Text)
	c.Text(0, 1, r.Up, k.Text)
	c.Text(0, h-2, t.bottom, k.Text)
	if h > 5 {
		c.Text(0, h-3, r.Down, k.Text)
	}
	c.ends(r, left, right, hi-lo, k, f)
	c.band(pl, lo, hi, r.Limit, big, k.Axis)
	ps := make([]Point, n)
	for i := range n {
		ps[i] = Point{pl.x(r.At[i]), pl.y(r.Fitted[i] - zero)}
	}
	c.raw(ps, Pen{Ink: k.Line})
	for i := range n {
		g, ink := 'o', k.Data
		if i == r.Suspect {
			g, ink = 'X', k.Suspect
		}
		c.rawMark(pl.x(r.At[i]), pl.y(ys[i]), g, ink)
	}
	if y := floorDiv(int(math.Round(pl.y(r.Fitted[n-1]-zero))), 4); t.rise != "" {
		c.Text(w-cells(t.rise), min(max(y, 0), h-2), t.rise, k.Data)
	}
	c.bound(pl, t.bound, h, k)
	return c
}

// runTexts are what a run writes at its ends: how far it reaches, the rise of its line, the band; "" for none.
type runTexts struct{ top, bottom, rise, bound string }

func (r Run) texts(big, rise float64, f Format, ascii bool) (t runTexts) {
	if f == nil {
		return t
	}
	if big > 0 {
		t.top, t.bottom = "+"+f(big), "-"+f(big)
	}
	if math.Abs(rise) >= nothing && !math.IsInf(rise, 0) {
		t.rise = f(math.Abs(rise))
	}
	if r.Limit > 0 {
		if t.bound = "± " + f(r.Limit); ascii {
			t.bound = "+/- " + f(r.Limit)
		}
	}
	return t
}

// bound writes what the band about zero is, before it.
func (c *Canvas) bound(pl panel, bound string, h int, k Inks) {
	y := min(max(floorDiv(int(math.Round(pl.y(0))), 4), 0), h-2)
	for _, d := range []int{0, 1, -1} {
		if bound != "" && y+d > 0 && y+d < h-1 && c.free(0, y+d, cells(bound)) {
			c.Text(0, y+d, bound, k.Text)
			return
		}
	}
}

// ends names the two ends of a run on the last line, with their distance.
func (c *Canvas) ends(r Run, left, right int, length float64, k Inks, f Format) {
	y := c.h - 1
	c.Text(left, y, r.Ends[0], k.Text)
	end := r.Ends[1]
	if f != nil {
		end = strings.TrimSpace(f(length) + " " + end)
	}
	at := max(c.w-right-cells(end)+1, left+cells(r.Ends[0])+1)
	c.Text(at, y, end, k.Text)
}

// band draws zero and, dotted, the limit on both sides of it.
func (c *Canvas) band(p panel, lo, hi, limit, big float64, k Ink) {
	across := func(v float64, pen Pen) { c.raw([]Point{{p.x(lo), p.y(v)}, {p.x(hi), p.y(v)}}, pen) }
	if limit > 0 && big > 0 {
		across(limit, Pen{k, 1, 2})
		across(-limit, Pen{k, 1, 2})
		return
	}
	across(0, Pen{k, 1, 3})
}
