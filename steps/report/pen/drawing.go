package pen

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"fliptrue/steps/fold"
)

// Drawing is one picture.
type Drawing struct {
	W, H    float64
	What    string // said to who cannot see it
	Strokes []Stroke
	Words   []Word
	taken   []box // where words and marks are
}

// Stroke is one path with a look.
type Stroke struct{ Path, Look string }

// Word is a text in its place. Of names the number that it is, in the JSON of the sheet; As how it is printed.
type Word struct {
	X, Y   float64 // of its baseline
	Text   string
	Anchor string // start, middle or end
	Look   string
	Of, As string
}

// Number is a number to be written, printed already.
type Number struct{ Text, Of, As string }

// Words are written in this size, mm; a letter is taken to be so wide, which holds for the usual faces.
const (
	Size   = 2.2
	letter = 0.6 * Size
)

type box struct{ x0, y0, x1, y1 float64 }

func (b box) hits(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

func (b box) within(w, h float64) bool { return b.x0 >= 0 && b.y0 >= 0 && b.x1 <= w && b.y1 <= h }

func boxOf(x, y float64, n int, anchor string) box {
	w := float64(n) * letter
	switch anchor {
	case "middle":
		x -= w / 2
	case "end":
		x -= w
	}
	return box{x, y - Size, x + w, y + 0.3*Size}
}

func (d *Drawing) stroke(look, path string) {
	if path != "" {
		d.Strokes = append(d.Strokes, Stroke{path, look})
	}
}

// say writes a text where it is told.
func (d *Drawing) say(x, y float64, anchor, look, text string) {
	d.Words = append(d.Words, Word{X: x, Y: y, Text: text, Anchor: anchor, Look: look})
	d.taken = append(d.taken, boxOf(x, y, len([]rune(text)), anchor))
}

// number writes a number where it is told.
func (d *Drawing) number(x, y float64, anchor, look string, n Number) {
	d.say(x, y, anchor, look, n.Text)
	w := &d.Words[len(d.Words)-1]
	w.Of, w.As = n.Of, n.As
}

// name writes a text beside a place where it finds room, and not where it finds none.
func (d *Drawing) name(x, y, off float64, look, text string) bool {
	n := len([]rune(text))
	for _, at := range []struct {
		dx, dy float64
		anchor string
	}{{off, 0.35 * Size, "start"}, {-off, 0.35 * Size, "end"}, {0, -off, "middle"}, {0, off + 0.8*Size, "middle"}, {off, -off, "start"},
		{off, off + 0.8*Size, "start"}, {-off, -off, "end"}, {-off, off + 0.8*Size, "end"}} {
		b := boxOf(x+at.dx, y+at.dy, n, at.anchor)
		if !b.within(d.W, d.H) || slices.ContainsFunc(d.taken, b.hits) {
			continue
		}
		d.say(x+at.dx, y+at.dy, at.anchor, look, text)
		return true
	}
	return false
}

// keep holds a place free of names.
func (d *Drawing) keep(x, y, r float64) {
	d.taken = append(d.taken, box{x - r, y - r, x + r, y + r})
}

// num is a length of paper as it stands in a path.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = 0
	}
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}

// At is a length of paper as it stands in an attribute.
func (w Word) At() [2]string { return [2]string{num(w.X), num(w.Y)} }

// Round is a measure as it stands in an attribute.
func (d Drawing) Round() [2]string { return [2]string{num(d.W), num(d.H)} }

type pt struct{ x, y float64 }

// line is the path through points.
func line(closed bool, ps ...pt) string {
	if len(ps) < 2 {
		return ""
	}
	var b strings.Builder
	for i, p := range ps {
		if i == 0 {
			b.WriteByte('M')
		} else {
			b.WriteByte('L')
		}
		b.WriteString(num(p.x) + " " + num(p.y))
	}
	if closed {
		b.WriteByte('Z')
	}
	return b.String()
}

func circle(x, y, r float64) string { return ellipse(x, y, r, r) }

func ellipse(x, y, rx, ry float64) string {
	if !(rx > 0 && ry > 0) {
		return ""
	}
	a := "A" + num(rx) + " " + num(ry) + " 0 1 1 "
	return "M" + num(x-rx) + " " + num(y) + a + num(x+rx) + " " + num(y) + a + num(x-rx) + " " + num(y) + "Z"
}

func rect(x0, y0, x1, y1 float64) string {
	return line(true, pt{x0, y0}, pt{x1, y0}, pt{x1, y1}, pt{x0, y1})
}

// arrow is a line with a head at its end.
func arrow(from, to pt, head float64) string {
	dx, dy := to.x-from.x, to.y-from.y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return ""
	}
	dx, dy = dx/l*head, dy/l*head
	return line(false, from, to) + line(false, pt{to.x - dx - dy/2, to.y - dy + dx/2}, to, pt{to.x - dx + dy/2, to.y - dy - dx/2})
}

// view takes plan millimetres to paper.
type view struct{ x0, y1, k, ox, oy float64 }

func (v view) at(p fold.XY) pt { return pt{v.ox + (p.X-v.x0)*v.k, v.oy + (v.y1-p.Y)*v.k} }

// Bounds are the least and the greatest place of shapes; ok is false without any.
func Bounds(shapes []fold.Shape) (lo, hi fold.XY, ok bool) {
	lo, hi = fold.XY{X: math.Inf(1), Y: math.Inf(1)}, fold.XY{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, s := range shapes {
		for _, p := range s.Points {
			if math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0) {
				continue
			}
			lo = fold.XY{X: min(lo.X, p.X-s.Radius), Y: min(lo.Y, p.Y-s.Radius)}
			hi = fold.XY{X: max(hi.X, p.X+s.Radius), Y: max(hi.Y, p.Y+s.Radius)}
			ok = true
		}
	}
	return lo, hi, ok
}

// fit is the view that shows all between two places on so much paper, in its middle.
func fit(lo, hi fold.XY, x, y, w, h float64) view {
	dx, dy := max(hi.X-lo.X, 1e-6), max(hi.Y-lo.Y, 1e-6)
	k := min(w/dx, h/dy)
	return view{lo.X, hi.Y, k, x + (w-k*dx)/2, y + (h-k*dy)/2}
}
