package canvas

import (
	"math"
	"strconv"
	"strings"

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
	top, bottom := "", ""
	if f != nil && big > 0 {
		top, bottom = "+"+f(big), "-"+f(big)
	}
	left := max(len([]rune(top)), len([]rune(r.Up)), len([]rune(r.Down))) + 1
	rise := ""
	if last := r.Fitted[n-1] - zero; f != nil && math.Abs(last) >= nothing && !math.IsInf(last, 0) {
		rise = f(math.Abs(last))
	}
	right := len([]rune(rise)) + 2
	pl := panel{x0: float64(2 * left), lo: lo, y1: float64(4*(h-1) - 2), vlo: -big}
	if hi > lo {
		pl.sx = float64(2*(c.w-left-right)-2) / (hi - lo)
	}
	if big > 0 {
		pl.sy = float64(4*(h-1)-3) / (2 * big)
	} else {
		pl.y1 = float64(2 * (h - 1))
	}
	c.Text(0, 0, top, k.Text)
	c.Text(0, 1, r.Up, k.Text)
	c.Text(0, h-2, bottom, k.Text)
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
	if y := floorDiv(int(math.Round(pl.y(r.Fitted[n-1]-zero))), 4); rise != "" {
		c.Text(w-len([]rune(rise)), min(max(y, 0), h-2), rise, k.Data)
	}
	return c
}

// ends names the two ends of a run on the last line, with their distance and the limit.
func (c *Canvas) ends(r Run, left, right int, length float64, k Inks, f Format) {
	y := c.h - 1
	c.Text(left, y, r.Ends[0], k.Text)
	end := r.Ends[1]
	if f != nil {
		end = strings.TrimSpace(f(length) + " " + end)
	}
	at := max(c.w-right-len([]rune(end))+1, left+len([]rune(r.Ends[0]))+1)
	c.Text(at, y, end, k.Text)
	if s := "dotted: limit"; f != nil && r.Limit > 0 {
		s += " " + f(r.Limit)
		if from := left + len([]rune(r.Ends[0])) + 2; from+len([]rune(s))+2 <= at {
			c.Text(from+(at-from-len([]rune(s)))/2, y, s, k.Text)
		}
	}
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

// Ring is a circle's hits: angle in radians, residual outwards in millimetres, and how many
// hits there are to be.
type Ring struct {
	Angle, Residual []float64
	Suspect         int
	Limit           float64 // of a residual; 0 for none
}

// DrawRing shows the fitted circle, the limit dotted on both sides of it, and each hit off
// it, all magnified alike; what they are is written below. Hits are numbered from 1;
// the suspect is an X.
func DrawRing(w, h int, r Ring, k Inks, f Format, ascii bool) *Canvas {
	c := New(w, h, ascii)
	if w < 24 || h < 6 {
		return c
	}
	r.Limit = usable(r.Limit)
	n := min(len(r.Angle), len(r.Residual))
	big, worst := 0.0, -1
	for i := range n {
		if a := largest(r.Residual[i : i+1]); a > big {
			big, worst = a, i
		}
	}
	scale := Scale(r.Limit, big)
	foot := ""
	if f != nil && worst >= 0 && big >= nothing {
		foot = "largest " + f(big) + ", hit " + strconv.Itoa(worst+1)
	}
	if f != nil && r.Limit > 0 {
		foot = strings.TrimPrefix(foot+"; dotted: limit "+f(r.Limit), "; ")
		if len([]rune(foot)) > w {
			foot = "largest " + f(big) + "; dotted " + f(r.Limit)
		}
	}
	c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD YOU", k.Text)
	if foot != "" {
		c.wh--
		c.move(c.h-1, c.h-2)
		c.Text(0, c.h-1, string([]rune(foot)[:min(len([]rune(foot)), c.w)]), k.Text)
	}
	const deep = 0.35 // of the radius: the end of the scale
	c.Look(Box{-1 - deep, -1 - deep, 1 + deep, 1 + deep})
	c.Circle(Point{}, 1, Pen{Ink: k.Line})
	if r.Limit > 0 && scale > 0 {
		for _, s := range []float64{-1, 1} {
			c.Circle(Point{}, 1+s*deep*r.Limit/scale, Pen{k.Axis, 1, 3})
		}
	}
	c.Mark(Point{}, '+', "", k.Axis)
	for i := range n {
		m := 0.0
		if scale > 0 {
			m = deep * r.Residual[i] / scale
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
	return c
}

// move takes the glyphs of one line to another.
func (c *Canvas) move(from, to int) {
	for i := range c.words {
		if c.words[i].Y == from {
			c.words[i].Y = to
		}
	}
	for x := range c.w {
		c.glyph[to*c.w+x], c.ink[to*c.w+x] = c.glyph[from*c.w+x], c.ink[from*c.w+x]
		c.glyph[from*c.w+x] = 0
	}
}

// Tilt is a plane through points: residuals off it, and the way it rises.
type Tilt struct {
	At           []Point
	Residual     []float64
	RiseX, RiseY float64 // slope
	Suspect      int
	Limit        float64 // of the rise over the points' extent, mm; 0 for none
}

// DrawTilt shows the points in plan, each with its height over their middle, and an arrow
// to the high side where the tilt is more than the limit.
func DrawTilt(w, h int, t Tilt, k Inks, f Format, ascii bool) *Canvas {
	c := New(w, h, ascii)
	b, ok := Around(t.At...)
	if !ok || w < 24 || h < 6 {
		return c
	}
	size := max(b.MaxX-b.MinX, b.MaxY-b.MinY, 1e-9)
	c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD YOU", k.Text)
	c.Look(b.Grow(size / 8))
	c.Polyline([]Point{{b.MinX, b.MinY}, {b.MaxX, b.MinY}, {b.MaxX, b.MaxY}, {b.MinX, b.MaxY}}, true, Pen{k.Axis, 1, 2})
	mid := Point{(b.MinX + b.MaxX) / 2, (b.MinY + b.MaxY) / 2}
	l := math.Hypot(t.RiseX, t.RiseY)
	u := Point{t.RiseX / l * size / 5, t.RiseY / l * size / 5}
	from, to := Point{mid.X - u.X, mid.Y - u.Y}, Point{mid.X + u.X, mid.Y + u.Y}
	tilted := l > 0 && !math.IsInf(l, 0) && l*size > max(t.Limit, nothing)
	if tilted {
		c.Arrow(from, to, Pen{Ink: k.Line})
	}
	for i, p := range t.At {
		g, ink := 'o', k.Data
		if i == t.Suspect {
			g, ink = 'X', k.Suspect
		}
		c.Mark(p, g, strconv.Itoa(i+1), ink)
	}
	for i, p := range t.At {
		if i >= len(t.Residual) || f == nil {
			break
		}
		v := t.Residual[i] + t.RiseX*(p.X-mid.X) + t.RiseY*(p.Y-mid.Y)
		if math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		c.Label(p, signed(v, f), k.Text)
	}
	if tilted {
		c.Label(to, "high", k.Line)
	}
	return c
}

// signed prints a length with its sign; what rounds to nothing has none.
func signed(v float64, f Format) string {
	s := f(math.Abs(v))
	switch {
	case !strings.ContainsAny(s, "123456789"):
		return s
	case v < 0:
		return "-" + s
	}
	return "+" + s
}

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

// Bar is one line of a bar list.
type Bar struct {
	Label string
	Value float64 // the length of the bar; negative and no number count as 0
	Text  string  // what is printed behind it
	Ink   Ink

	Assumed bool // not measured: drawn shaded
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
			switch full := (half + 1) / 2; {
			case ascii && b.Assumed:
				c.Text(x, i, strings.Repeat(":", full), b.Ink)
			case ascii:
				c.Text(x, i, strings.Repeat("#", full), b.Ink)
			case b.Assumed:
				c.Text(x, i, strings.Repeat("▒", full), b.Ink)
			default:
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
