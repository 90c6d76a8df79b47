package canvas

import (
	"slices"
	"strings"
)

// Section is a cut through what stands on the table, seen from the front: heights to scale,
// widths not. What reaches beyond Lo or Hi is cut off there.
type Section struct {
	Lo, Hi float64 // heights that are shown, mm
	Solids []Solid
	Levels []Level
}

// Solid is an outline in a section, X in shares of its width. Point is how much lower than Lo its middle comes.
type Solid struct {
	X0, X1, Lo, Hi float64
	Point          float64
	Pen            Pen
}

// Level is a height with what it is.
type Level struct {
	Z    float64
	Text string
	Ink  Ink
}

// DrawSection draws the solids left and the levels as dotted lines that end at their texts, in the order of
// their heights, each on a row of its own.
func DrawSection(w, h int, s Section, ascii bool) *Canvas {
	c := New(w, h, ascii)
	if !(s.Hi > s.Lo) || w < 24 || h < 4 {
		return c
	}
	levels := slices.DeleteFunc(slices.Clone(s.Levels), func(l Level) bool { return !(l.Z >= s.Lo && l.Z <= s.Hi) })
	slices.SortStableFunc(levels, func(a, b Level) int {
		if a.Z == b.Z {
			return 0
		} else if a.Z > b.Z {
			return -1
		}
		return 1
	})
	right := 0
	for _, l := range levels {
		right = max(right, cells(l.Text)+1)
	}
	wide := float64(2 * max(w-right, 10))
	y := func(z float64) float64 { return min(max((s.Hi-z)/(s.Hi-s.Lo), 0), 1) * float64(4*h-1) }
	for _, o := range s.Solids {
		c.solid(o, s, wide, y)
	}
	rows := make([]int, len(levels))
	for i, l := range levels {
		rows[i] = min(int(y(l.Z))/4, h-1)
		if i > 0 {
			rows[i] = max(rows[i], rows[i-1]+1)
		}
	}
	for i := len(rows) - 1; i >= 0; i-- { // room is made upwards
		most := h - 1
		if i+1 < len(rows) {
			most = rows[i+1] - 1
		}
		rows[i] = min(rows[i], most)
	}
	for i, l := range levels {
		c.raw([]Point{{0, y(l.Z)}, {wide - 2, y(l.Z)}}, Pen{l.Ink, 1, 3})
		if rows[i] >= 0 {
			c.Text(w-right+1, rows[i], l.Text+strings.Repeat(" ", right-1-cells(l.Text)), l.Ink)
		}
	}
	return c
}

// solid draws an outline; sides that are cut off stay open.
func (c *Canvas) solid(o Solid, s Section, wide float64, y func(float64) float64) {
	x0, x1 := o.X0*(wide-3), o.X1*(wide-3)
	lo, hi := y(o.Lo), y(o.Hi)
	c.raw([]Point{{x0, hi}, {x0, lo}}, o.Pen)
	c.raw([]Point{{x1, hi}, {x1, lo}}, o.Pen)
	if o.Hi <= s.Hi {
		c.raw([]Point{{x0, hi}, {x1, hi}}, o.Pen)
	}
	switch {
	case o.Point > 0:
		c.raw([]Point{{x0, lo}, {(x0 + x1) / 2, y(o.Lo - o.Point)}, {x1, lo}}, o.Pen)
	case o.Lo >= s.Lo:
		c.raw([]Point{{x0, lo}, {x1, lo}}, o.Pen)
	}
}
