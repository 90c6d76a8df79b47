package canvas

import (
	"math"
	"strings"
)

// Clock is a round dial: a share of once round from twelve o'clock on, clockwise.
type Clock struct {
	Name, Text string
	Share      float64 // more than 1: once round and on
	Ink        Ink
}

// DrawClocks draws dials side by side, a hand where each ends, the way there solid and the rest dotted; name and
// text stand under each.
func DrawClocks(w, h int, cs []Clock, k Inks, ascii bool) *Canvas {
	c := New(w, h, ascii)
	if len(cs) == 0 || w < 11*len(cs) || h < 6 {
		return c
	}
	across := w / len(cs)
	for i, q := range cs {
		under := append([]string{q.Name}, strings.Split(q.Text, ", ")...)
		high := h - len(under)
		c.Window(i*across, 0, across-1, high)
		c.Look(Box{-1.15, -1.15, 1.15, 1.15})
		end := math.Pi/2 - 2*math.Pi*math.Min(math.Max(q.Share, 0), 1)
		c.Circle(Point{}, 1, Pen{k.Axis, 1, 3})
		if q.Share > 0 {
			c.Arc(Point{}, 1, end, math.Pi/2, Pen{Ink: q.Ink})
		}
		at := math.Pi/2 - 2*math.Pi*q.Share
		c.Line(Point{}, Point{0.8 * math.Cos(at), 0.8 * math.Sin(at)}, Pen{Ink: q.Ink})
		c.Mark(Point{}, '+', "", q.Ink)
		c.Window(0, 0, w, h)
		for j, t := range under {
			c.Text(i*across+max((across-1-cells(t))/2, 0), high+j, t, q.Ink)
		}
	}
	return c
}
