package tui

import (
	"math"
	"slices"

	"fliptrue/steps/fold"
	"fliptrue/tui/canvas"
)

// plan is a part of the setup from above, the table's directions on its edges, and the lines
// below it that tell what is drawn. A low picture has none.
func (a artist) plan(sc fold.Scene, box canvas.Box, w, h int) (*canvas.Canvas, []string) {
	most := max((h+3)/8, 1)
	c := a.planCanvas(sc, box, w, min(canvas.RowsFor(box, w), h-1))
	if h < 7 {
		return a.planCanvas(sc, box, w, h), nil
	}
	_, high := c.Size()
	most = min(max(most, h-high), h-6) // what the picture leaves is the legend's
	foot := a.legendOf(c, sc.Shapes, w, most)
	if high+len(foot) > h {
		c = a.planCanvas(sc, box, w, h-len(foot))
	}
	return c, foot
}

func (a artist) planCanvas(sc fold.Scene, box canvas.Box, w, h int) *canvas.Canvas {
	c := canvas.New(w, h, a.t.Look.strokes())
	c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD YOU", Dim)
	shapes := sc.Shapes
	size := max(box.MaxX-box.MinX, box.MaxY-box.MinY)
	n := a.magnified(sc)
	if n > 1 {
		shapes = turned(shapes, turn(sc.Run)*float64(n))
		box, _ = boxOf(append(slices.Clone(shapes), sc.Shapes...), func(fold.Shape) bool { return true })
	}
	from, to, taps := a.tapArrow(sc.Run, shapes, size/7)
	if taps { // with room for its head
		box = canvas.Box{MinX: min(box.MinX, to.X-size/20), MinY: min(box.MinY, to.Y-size/20), MaxX: max(box.MaxX, to.X+size/20),
			MaxY: max(box.MaxY, to.Y+size/20)}
	}
	c.Look(box)
	if n > 1 {
		a.ghost(c, sc.Shapes)
	}
	a.strokes(c, shapes)
	a.moves(c, sc.Moves, size/12)
	if n := len(sc.Arrow); n > 1 {
		from, to := canvas.Point{X: sc.Arrow[0].X, Y: sc.Arrow[0].Y}, canvas.Point{X: sc.Arrow[n-1].X, Y: sc.Arrow[n-1].Y}
		c.Arrow(from, to, Pen(Edge))
		c.Name(to, "arrow", Edge)
	}
	a.marks(c, shapes)
	if taps {
		c.Arrow(from, to, Pen(Tap))
		c.Label(to, "tap here", Tap)
	}
	a.names(c, shapes)
	return c
}

// moves are how far places moved, each in a ring of the limit, which is drawn as large as r.
func (a artist) moves(c *canvas.Canvas, m *fold.MovePlot, r float64) {
	if m == nil || !(m.Limit > 0) {
		return
	}
	for i, at := range m.At {
		p := canvas.Point{X: at.X, Y: at.Y}
		by := canvas.Point{X: m.By[i].X * r / m.Limit, Y: m.By[i].Y * r / m.Limit}
		if long := math.Hypot(by.X, by.Y); long > 3*r { // far out is far out
			by.X, by.Y = by.X*3*r/long, by.Y*3*r/long
		}
		c.Circle(p, r, Pen(Bound))
		c.Mark(p, '+', "", Bound)
		if by != (canvas.Point{}) {
			c.Arrow(p, canvas.Point{X: p.X + by.X, Y: p.Y + by.Y}, Pen(Move))
		}
	}
}

func penOf(s fold.Shape) canvas.Pen {
	r := roleOf(s)
	pen := Pen(r)
	if base := roleOf(fold.Shape{Role: s.Role}); base != r {
		pen = Pen(base)
		pen.Ink = r
	}
	return pen
}

func pointsOf(s fold.Shape) []canvas.Point {
	ps := make([]canvas.Point, len(s.Points))
	for i, p := range s.Points {
		ps[i] = canvas.Point{X: p.X, Y: p.Y}
	}
	return ps
}

// strokes draws outlines, the tool's paths under them all.
func (a artist) strokes(c *canvas.Canvas, shapes []fold.Shape) {
	var paths [][]canvas.Point
	for _, s := range shapes {
		if s.Role == fold.RolePath {
			paths = append(paths, pointsOf(s))
		}
	}
	if len(paths) > 0 {
		c.Swept(paths, Pen(Path))
	}
	for _, s := range shapes {
		switch ps := pointsOf(s); {
		case len(ps) == 0 || s.Role == fold.RolePath:
		case s.Radius > 0:
			c.Circle(ps[0], s.Radius, penOf(s))
		case len(ps) > 1 && (s.Role == fold.RoleTap || s.Role == fold.RolePush):
			c.Arrow(ps[0], ps[len(ps)-1], penOf(s))
		case len(ps) > 1:
			c.Polyline(ps, s.Closed, penOf(s))
		}
	}
}
