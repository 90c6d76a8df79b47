package tui

import (
	"slices"

	"fliptrue/steps"
	"fliptrue/tui/canvas"
)

// plan is a part of the setup from above, the table's directions on its edges, and the lines
// below it that tell what is drawn. A low picture has none.
func (a artist) plan(sc steps.Scene, box canvas.Box, w, h int) (*canvas.Canvas, []string) {
	h = min(h, canvas.RowsFor(box, w)+max(h/9, 1))
	for rows := max(h/9, 1); rows > 0 && h-rows >= 6; rows-- {
		c := a.planCanvas(sc, box, w, h-rows)
		foot := a.legendOf(c, sc.Shapes, w, rows)
		if len(foot) == rows || rows == 1 { // what the legend leaves is the picture's
			return c, foot
		}
	}
	return a.planCanvas(sc, box, w, h), nil
}

func (a artist) planCanvas(sc steps.Scene, box canvas.Box, w, h int) *canvas.Canvas {
	c := canvas.New(w, h, a.t.Look.strokes())
	c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD YOU", Dim)
	shapes := sc.Shapes
	size := max(box.MaxX-box.MinX, box.MaxY-box.MinY)
	n := a.magnified(sc)
	if n > 1 {
		shapes = turned(shapes, turn(sc.Run)*float64(n))
		box, _ = boxOf(append(slices.Clone(shapes), sc.Shapes...), func(steps.Shape) bool { return true })
	}
	from, to, taps := a.tapArrow(sc.Run, shapes, size/7)
	if taps { // with room for its head
		box = canvas.Box{MinX: min(box.MinX, to.X-size/20), MinY: min(box.MinY, to.Y-size/20), MaxX: max(box.MaxX, to.X+size/20), MaxY: max(box.MaxY, to.Y+size/20)}
	}
	c.Look(box)
	if n > 1 {
		a.ghost(c, sc.Shapes)
	}
	a.strokes(c, shapes)
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

func penOf(s steps.Shape) canvas.Pen {
	r := roleOf(s)
	pen := Pen(r)
	if base := roleOf(steps.Shape{Role: s.Role}); base != r {
		pen = Pen(base)
		pen.Ink = r
	}
	return pen
}

func pointsOf(s steps.Shape) []canvas.Point {
	ps := make([]canvas.Point, len(s.Points))
	for i, p := range s.Points {
		ps[i] = canvas.Point{X: p.X, Y: p.Y}
	}
	return ps
}

// strokes draws outlines, the tool's paths under them all.
func (a artist) strokes(c *canvas.Canvas, shapes []steps.Shape) {
	var paths [][]canvas.Point
	for _, s := range shapes {
		if s.Role == steps.RolePath {
			paths = append(paths, pointsOf(s))
		}
	}
	if len(paths) > 0 {
		c.Swept(paths, Pen(Path))
	}
	for _, s := range shapes {
		switch ps := pointsOf(s); {
		case len(ps) == 0 || s.Role == steps.RolePath:
		case s.Radius > 0:
			c.Circle(ps[0], s.Radius, penOf(s))
		case len(ps) > 1 && s.Role == steps.RoleTap:
			c.Arrow(ps[0], ps[len(ps)-1], penOf(s))
		case len(ps) > 1:
			c.Polyline(ps, s.Closed, penOf(s))
		}
	}
}
