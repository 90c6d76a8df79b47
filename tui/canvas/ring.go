package canvas

import (
	"math"
	"strconv"
	"strings"
)

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
		if cells(foot) > w {
			foot = "largest " + f(big) + "; dotted " + f(r.Limit)
		}
	}
	c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD YOU", k.Text)
	if foot != "" {
		c.wh--
		c.move(c.h-1, c.h-2)
		c.Text(0, c.h-1, foot, k.Text)
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
