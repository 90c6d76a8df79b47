package canvas

import (
	"math"
	"strconv"
	"strings"
)

// Inks are the inks a plot uses.
type Inks struct{ Axis, Line, Data, Suspect, Text Ink }

// Format prints a length in millimetres: the one formatter of the program.
type Format func(mm float64) string

// Run is an indicator run: a reading at each place along the edge, the fitted
// line at the same places, and the reading that is suspected (-1 for none). All in
// millimetres. Slices of different length are cut to the shortest.
type Run struct {
	At, Reading, Fitted []float64
	Suspect             int
}

// DrawRun shows the readings with the fitted line above, and what is left of them
// below, magnified, as bars about zero. The scale of the bars is written beside
// their panel. Below 5 lines only the bars are shown. Fewer than two places, or a
// value that is no number, draw nothing of it.
func DrawRun(w, h int, r Run, k Inks, f Format, ascii bool) *Canvas {
	c := New(w, h, ascii)
	n := min(len(r.At), len(r.Reading), len(r.Fitted))
	if n == 0 || w < 12 || h < 3 {
		return c
	}
	res := make([]float64, n)
	for i := range n {
		res[i] = r.Reading[i] - r.Fitted[i]
	}
	lo, hi := span(r.At[:n])
	barH := h
	if h >= 5 {
		barH = max(h*2/5, 2)
		top := h - barH
		vlo, vhi := span(append(append([]float64{}, r.Reading[:n]...), r.Fitted[:n]...))
		up := c.panel(0, top, lo, hi, vlo, vhi)
		ps := make([]Point, n)
		for i := range n {
			ps[i] = Point{up.x(r.At[i]), up.y(r.Fitted[i])}
		}
		c.raw(ps, Pen{Ink: k.Line})
		for i := range n {
			g, ink := 'o', k.Data
			if i == r.Suspect {
				g, ink = 'X', k.Suspect
			}
			c.rawMark(up.x(r.At[i]), up.y(r.Reading[i]), g, ink)
		}
	}
	big := largest(res)
	if big < nothing {
		big = 0
	}
	dn := c.panel(h-barH, h, lo, hi, -big, big)
	zero := dn.y(0)
	c.raw([]Point{{dn.x(lo), zero}, {dn.x(hi), zero}}, Pen{k.Axis, 1, 2})
	for i := range n {
		ink := k.Data
		if i == r.Suspect {
			ink = k.Suspect
		}
		if big == 0 {
			res[i] = 0
		}
		x, y := dn.x(r.At[i]), dn.y(res[i])
		c.raw([]Point{{x, zero}, {x, y}}, Pen{Ink: ink})
		c.raw([]Point{{x + 1, zero}, {x + 1, y}}, Pen{Ink: ink})
		if i == r.Suspect {
			c.rawMark(x, y, 'X', ink)
		}
	}
	if f != nil && big > 0 {
		c.Text(0, h-barH, "+"+f(big), k.Text)
		c.Text(0, h-1, "-"+f(big), k.Text)
	}
	return c
}

// Ring is a circle's hits: angle in radians, residual outwards in millimetres.
type Ring struct {
	Angle, Residual []float64
	Suspect         int
}

// DrawRing shows the fitted circle and each hit off it, residuals magnified so
// that the largest reaches a third of the radius. Hits are numbered from 1; the
// suspect is an X.
func DrawRing(w, h int, r Ring, k Inks, f Format, ascii bool) *Canvas {
	c := New(w, h, ascii)
	if w < 8 || h < 4 {
		return c
	}
	c.Look(Box{-1.6, -1.4, 1.6, 1.4})
	c.Circle(Point{}, 1, Pen{k.Axis, 1, 1})
	n := min(len(r.Angle), len(r.Residual))
	big := largest(r.Residual[:n])
	for i := range n {
		m := 0.0
		if big > 0 {
			m = r.Residual[i] / big / 3
		}
		cos, sin := math.Cos(r.Angle[i]), math.Sin(r.Angle[i])
		ink, glyph := k.Data, 'o'
		if i == r.Suspect {
			ink, glyph = k.Suspect, 'X'
		}
		at := Point{(1 + m) * cos, (1 + m) * sin}
		c.Line(Point{cos, sin}, at, Pen{Ink: ink})
		c.Mark(at, glyph, strconv.Itoa(i+1), ink)
	}
	c.Mark(Point{}, '+', "", k.Axis)
	if f != nil && big > 0 {
		c.Text(0, h-1, "largest "+f(big), k.Text)
	}
	return c
}

// Tilt is a plane through points: residuals off it, and the way it rises.
type Tilt struct {
	At           []Point
	Residual     []float64
	RiseX, RiseY float64 // slope; only the direction is drawn
	Suspect      int
}

// DrawTilt shows the points in plan with the sign of each residual, and an arrow
// to the high side.
func DrawTilt(w, h int, t Tilt, k Inks, ascii bool) *Canvas {
	c := New(w, h, ascii)
	b, ok := Around(t.At...)
	if !ok || w < 8 || h < 4 {
		return c
	}
	size := max(b.MaxX-b.MinX, b.MaxY-b.MinY, 1e-9)
	c.Look(b.Grow(size / 8))
	c.Polyline([]Point{{b.MinX, b.MinY}, {b.MaxX, b.MinY}, {b.MaxX, b.MaxY}, {b.MinX, b.MaxY}}, true, Pen{k.Axis, 1, 2})
	mid := Point{(b.MinX + b.MaxX) / 2, (b.MinY + b.MaxY) / 2}
	if l := math.Hypot(t.RiseX, t.RiseY); l > 0 {
		u := Point{t.RiseX / l * size / 4, t.RiseY / l * size / 4}
		c.Arrow(Point{mid.X - u.X, mid.Y - u.Y}, Point{mid.X + u.X, mid.Y + u.Y}, Pen{Ink: k.Line})
		if x, y, ok := c.Cell(Point{mid.X + u.X, mid.Y + u.Y}); ok && c.free(x+2, y, len("high")) {
			c.Text(x+2, y, "high", k.Line)
		}
	}
	for i, p := range t.At {
		g, ink := 'o', k.Data
		if i < len(t.Residual) && t.Residual[i] > 0 {
			g = '^'
		} else if i < len(t.Residual) && t.Residual[i] < 0 {
			g = 'v'
		}
		if i == t.Suspect {
			g, ink = 'X', k.Suspect
		}
		c.Mark(p, g, strconv.Itoa(i+1), ink)
	}
	return c
}

// Bar is one line of a bar list.
type Bar struct {
	Label string
	Value float64 // the length of the bar; negative and no number count as 0
	Text  string  // what is printed behind it
	Ink   Ink
}

// DrawBars shows horizontal bars, the longest over all the room between labels
// and texts. The longest is named "largest" when there are several.
func DrawBars(w int, bars []Bar, k Inks, ascii bool) *Canvas {
	c := New(w, len(bars), ascii)
	lw, tw, big, at := 0, 0, 0.0, -1
	for i, b := range bars {
		lw, tw = max(lw, len([]rune(b.Label))), max(tw, len([]rune(b.Text)))
		if b.Value > big && !math.IsInf(b.Value, 0) {
			big, at = b.Value, i
		}
	}
	const word = " largest"
	room := w - lw - 1 - tw - 1
	if len(bars) > 1 {
		room -= len(word)
	}
	for i, b := range bars {
		c.Text(0, i, b.Label, k.Text)
		x := lw + 1
		if room > 0 && big > 0 && b.Value > 0 {
			half := int(math.Round(min(b.Value/big, 1) * float64(2*room)))
			n := half / 2
			if ascii {
				n = (half + 1) / 2
				c.Text(x, i, strings.Repeat("#", n), b.Ink)
			} else {
				c.Text(x, i, strings.Repeat("█", n), b.Ink)
				if half%2 == 1 {
					c.Text(x+n, i, "▌", b.Ink)
				}
			}
		}
		x += max(room, 0) + 1
		c.Text(x+tw-len([]rune(b.Text)), i, b.Text, k.Text)
		if i == at && len(bars) > 1 {
			c.Text(x+tw, i, word, k.Text)
		}
	}
	return c
}

// panel maps two ranges to the dots of some lines, for plots whose directions
// have different scales.
type panel struct{ x0, sx, lo, y1, sy, vlo float64 }

// nothing is a length in millimetres far below what any instrument shows: differences
// under it are noise of the arithmetic and are drawn as none.
const nothing = 1e-7

// margin keeps the scale texts of a run plot clear of its data.
const margin = 8

func (c *Canvas) panel(top, bottom int, lo, hi, vlo, vhi float64) panel {
	p := panel{x0: 2 * margin, lo: lo, y1: float64(4*bottom - 2), vlo: vlo}
	if hi > lo {
		p.sx = float64(2*(c.w-margin)-3) / (hi - lo)
	}
	if vhi-vlo >= nothing {
		p.sy = float64(4*(bottom-top)-3) / (vhi - vlo)
	} else {
		p.y1 = float64(2 * (top + bottom))
	}
	return p
}

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
