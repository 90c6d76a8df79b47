package canvas

import (
	"math"
	"strconv"
	"strings"
)

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
