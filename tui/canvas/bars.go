package canvas

import (
	"math"
	"strings"
)

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
		lw, tw = max(lw, cells(b.Label)), max(tw, cells(b.Text))
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
		c.Text(x+tw-cells(b.Text), i, b.Text, k.Text)
		if i == at && len(bars) > 1 {
			c.Text(x+tw, i, word, k.Text)
		}
	}
	return c
}
