package canvas

import (
	"math"

	"fliptrue/calc/chart"
)

// Inks are the inks a plot uses.
type Inks struct{ Axis, Line, Data, Suspect, Text Ink }

// Format prints a length in millimetres: the one formatter of the program.
type Format func(mm float64) string

// Scale is what a plot shows at its end: the limit times the least of a few fixed factors
// that holds all values. So noise within the limit looks like noise, whatever its size, and
// a failure like a failure. Without a limit it is a round number that holds them.
func Scale(limit, largest float64) float64 { return chart.Scale(limit, largest) }

// usable is a limit that something can be held against, 0 for none.
func usable(limit float64) float64 {
	if limit > 0 && !math.IsInf(limit, 0) {
		return limit
	}
	return 0
}

// panel maps two ranges to dots, for plots whose directions have different scales.
type panel struct{ x0, sx, lo, y1, sy, vlo float64 }

// nothing is a length in millimetres far below what any instrument shows: differences
// under it are noise of the arithmetic and are drawn as none.
const nothing = 1e-7

func (p panel) x(v float64) float64 { return p.x0 + p.sx*(v-p.lo) }

func (p panel) y(v float64) float64 { return p.y1 - p.sy*(v-p.vlo) }

// raw draws in dots instead of millimetres.
func (c *Canvas) raw(ps []Point, p Pen) {
	s, ox, oy := c.scale, c.ox, c.oy
	c.scale, c.ox, c.oy = 1, 0, 0
	flip := make([]Point, len(ps))
	for i, q := range ps {
		flip[i] = Point{q.X, -q.Y}
	}
	c.Polyline(flip, false, p)
	c.scale, c.ox, c.oy = s, ox, oy
}

func (c *Canvas) rawMark(x, y float64, r rune, k Ink) {
	if finite(Point{x, y}) && math.Abs(x) < 1e6 && math.Abs(y) < 1e6 {
		c.Put(floorDiv(int(math.Round(x)), 2), floorDiv(int(math.Round(y)), 4), r, k)
	}
}

func span(v []float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, x := range v {
		if !math.IsNaN(x) && !math.IsInf(x, 0) {
			lo, hi = min(lo, x), max(hi, x)
		}
	}
	if lo > hi {
		return 0, 0
	}
	return lo, hi
}

func largest(v []float64) float64 {
	m := 0.0
	for _, x := range v {
		if a := math.Abs(x); a > m && !math.IsInf(a, 0) {
			m = a
		}
	}
	return m
}
