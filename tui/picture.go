package tui

import (
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps"
	"fliptrue/tui/canvas"
)

// drawn is one picture of the page. Lines are kept for the size they were made at.
type drawn struct {
	name  string
	shape float64 // cells across for each line, where it shows most
	make  func(w, h int) []string
	lines []string
	w, h  int
}

func (d *drawn) at(w, h int) []string {
	if d.lines == nil || d.w != w || d.h != h {
		d.lines, d.w, d.h = d.make(w, h), w, h
	}
	return d.lines
}

// draw decides which pictures there are, the plot of the readings first. They are
// drawn when shown, once a state and size.
func (m *Model) draw() {
	m.pictures = nil
	sc := m.pg.Scene
	add := func(name string, f func(w, h int) []string) {
		m.pictures = append(m.pictures, drawn{name: name, make: f})
	}
	if sc.Run != nil && len(sc.Run.At) > 0 {
		add("indicator run", func(w, h int) []string { return m.runPicture(sc, w, h) })
	}
	if sc.Ring != nil && len(sc.Ring.Angle) > 0 {
		add("hits off the circle, magnified", func(w, h int) []string {
			r := canvas.Ring{Angle: sc.Ring.Angle, Residual: sc.Ring.Residual, Suspect: sc.Ring.Suspect}
			return canvas.DrawRing(w, h, r, m.t.Inks(), m.mm, m.t.Look.strokes()).Lines(m.paint())
		})
	}
	if sc.Tilt != nil && len(sc.Tilt.Points) > 0 {
		add("floor, high and low", func(w, h int) []string {
			t := canvas.Tilt{Residual: sc.Tilt.Residual, RiseX: sc.Tilt.TiltX, RiseY: sc.Tilt.TiltY, Suspect: sc.Tilt.Suspect}
			for _, p := range sc.Tilt.Points {
				t.At = append(t.At, canvas.Point{X: p.X, Y: p.Y})
			}
			return canvas.DrawTilt(w, h, t, m.t.Inks(), m.t.Look.strokes()).Lines(m.paint())
		})
	}
	if box, ok := closeUp(sc); ok && sc.Ring == nil {
		add("where it is read, from above", func(w, h int) []string { return m.closePicture(sc, box, w, h) })
	}
	if len(sc.Shapes) > 0 {
		add("plan, from above", func(w, h int) []string { return m.planPicture(sc, w, h) })
	}
	if len(sc.Bars) > 0 {
		add("what the uncertainty is made of", func(w, h int) []string {
			var bs []canvas.Bar
			for _, r := range sc.Bars {
				v := r.Bar
				if v == 0 {
					v = r.Value
				}
				bs = append(bs, canvas.Bar{Label: m.t.Say(r.Label), Value: v, Text: m.t.Say(shown(r, m.o.Plan.System())), Ink: Figure})
			}
			return canvas.DrawBars(w, bs[:min(len(bs), max(h, 0))], m.t.Inks(), m.t.Look.ASCII).Lines(m.paint())
		})
	}
	for i := range m.pictures {
		m.pictures[i].shape = 2.1
		if m.pictures[i].name == "indicator run" || len(sc.Bars) > 0 && i == len(m.pictures)-1 {
			m.pictures[i].shape = 7
		}
	}
	if _, ok := m.base.(*readyPage); ok {
		m.readyPictures(func(name string, aspect float64, f func(w, h int) []string) {
			m.pictures = append(m.pictures, drawn{name: name, shape: aspect, make: f})
		})
	}
	if m.picture >= len(m.pictures) {
		m.picture = 0
	}
}

func (m *Model) paint() canvas.Paint {
	return func(k canvas.Ink, s string) string { return m.t.Paint(k, s) }
}

func (m *Model) mm(v float64) string {
	return m.t.Say(unit.Show(v, unit.KLength, m.o.Plan.System(), 0))
}

// nextPicture shows the pictures one after the other over the whole body, then the page again.
func (m *Model) nextPicture() {
	switch {
	case len(m.pictures) == 0:
		m.notice = "there is no picture of this"
	case m.view != PictureView:
		m.view, m.picture = PictureView, 0
	case m.picture+1 < len(m.pictures):
		m.picture++
	default:
		m.view, m.picture = Whole, 0
	}
}

// pictureLines is one picture over the whole body.
func (m *Model) pictureLines(w, h int) []string {
	if len(m.pictures) == 0 || w < 12 || h < 3 {
		return nil
	}
	name := m.pictures[m.picture].name
	if len(m.pictures) > 1 {
		name += ", " + itoa(m.picture+1) + " of " + itoa(len(m.pictures))
	}
	return append([]string{m.t.Paint(Dim, Cut(m.t.Say(name), w))}, m.pictures[m.picture].at(w, h-1)...)
}

// roleOf is the look of a shape.
func roleOf(s steps.Shape) Role {
	if s.Role == steps.RoleConflict {
		return Conflict // what is in the way is more than a verdict
	}
	switch s.Verdict {
	case steps.Pass:
		return Pass
	case steps.Fail:
		return Fail
	case steps.NotProven:
		return NotProven
	case steps.Void:
		return Void
	case steps.Waived:
		return Waived
	}
	switch s.Role {
	case steps.RoleFixture:
		return Fixture
	case steps.RolePocket:
		return Pocket
	case steps.RolePart:
		return Part
	case steps.RoleBore:
		return Bore
	case steps.RoleEdge:
		return Edge
	case steps.RoleHit:
		return Hit
	case steps.RoleNext:
		return NextHit
	case steps.RoleHole:
		return Hole
	case steps.RoleClamp:
		return Clamp
	case steps.RoleJaw:
		return Jaw
	case steps.RoleScrew:
		return Screw
	case steps.RoleFeature:
		return Feature
	case steps.RoleSupport:
		return Support
	case steps.RolePath:
		return Path
	case steps.RoleTap:
		return Tap
	}
	return Text
}

// legend names the marks of the roles that are in the picture.
var legend = []struct {
	role Role
	word string
}{{Hit, "hit"}, {NextHit, "next place"}, {Suspect, "suspect"}, {Conflict, "in the way"}, {Hole, "hole"}, {Screw, "screw"}, {Clamp, "clamp"}, {Feature, "feature"},
	{Pass, "pass"}, {Fail, "fail"}, {NotProven, "not proven"}, {Void, "void"}, {Waived, "waived"}}

// planPicture is the setup from above, the table's directions on its edges.
func (m *Model) planPicture(sc steps.Scene, w, h int) []string {
	box, ok := boxOf(sc.Shapes, func(steps.Shape) bool { return true })
	if !ok {
		return nil
	}
	foot := m.legendOf(sc.Shapes, w, h)
	c := canvas.New(w, h-len(foot), m.t.Look.strokes())
	size := max(box.MaxX-box.MinX, box.MaxY-box.MinY)
	c.Look(box.Grow(size * 0.06))
	m.shapes(c, sc.Shapes)
	if m.taps(sc.Run) {
		m.tapArrow(c, sc, size)
	}
	return append(c.Lines(m.paint()), foot...)
}

// isRead says that a shape is where something was read or is read next.
func isRead(s steps.Shape) bool { return s.Role == steps.RoleHit || s.Role == steps.RoleNext }

// closeUp says that the places of the readings lie so near each other that the plan
// can't tell them apart.
func closeUp(sc steps.Scene) (canvas.Box, bool) {
	all, ok1 := boxOf(sc.Shapes, func(steps.Shape) bool { return true })
	near, ok2 := boxOf(sc.Shapes, isRead)
	n := 0
	for _, s := range sc.Shapes {
		if isRead(s) {
			n++
		}
	}
	size := max(near.MaxX-near.MinX, near.MaxY-near.MinY)
	return near.Grow(max(size, 1) * 0.8), ok1 && ok2 && n > 1 && size*6 < max(all.MaxX-all.MinX, all.MaxY-all.MinY)
}

// closePicture is the plan about the places that are read.
func (m *Model) closePicture(sc steps.Scene, box canvas.Box, w, h int) []string {
	foot := m.legendOf(sc.Shapes, w, h)
	c := canvas.New(w, h-len(foot), m.t.Look.strokes())
	c.Look(box)
	m.shapes(c, sc.Shapes)
	return append(c.Lines(m.paint()), foot...)
}

// boxOf is the box about some of the shapes.
func boxOf(shapes []steps.Shape, which func(steps.Shape) bool) (canvas.Box, bool) {
	var all []canvas.Point
	for _, s := range shapes {
		if !which(s) {
			continue
		}
		for _, p := range s.Points {
			all = append(all, canvas.Point{X: p.X - s.Radius, Y: p.Y - s.Radius}, canvas.Point{X: p.X + s.Radius, Y: p.Y + s.Radius})
		}
	}
	return canvas.Around(all...)
}

// legendOf tells what the marks in the picture are; nothing where there is no room for it.
func (m *Model) legendOf(shapes []steps.Shape, w, h int) []string {
	seen, path := map[Role]bool{}, false
	for _, s := range shapes {
		if len(s.Points) == 1 && s.Radius == 0 {
			seen[roleOf(s)] = true
		}
		path = path || s.Role == steps.RolePath
	}
	var keys []string
	if path {
		keys = append(keys, "--- tool path")
	}
	for _, l := range legend {
		if seen[l.role] {
			keys = append(keys, string(Marker(l.role))+" "+l.word)
		}
	}
	foot := Flow(keys, "  ", w)
	if h-len(foot) < 6 {
		return nil
	}
	for i := range foot {
		foot[i] = m.t.Paint(Dim, foot[i])
	}
	return foot
}

// shapes draws outlines first, the table's directions and marks over them, names where
// there is room left.
func (m *Model) shapes(c *canvas.Canvas, shapes []steps.Shape) {
	for pass := range 3 {
		if pass == 1 {
			c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD YOU", Dim)
		}
		for _, s := range shapes {
			r := roleOf(s)
			pen := Pen(r)
			if base := roleOf(steps.Shape{Role: s.Role}); base != r {
				pen = Pen(base)
				pen.Ink = r
			}
			ps := make([]canvas.Point, len(s.Points))
			for i, p := range s.Points {
				ps[i] = canvas.Point{X: p.X, Y: p.Y}
			}
			switch {
			case len(ps) == 0:
			case pass == 0 && s.Radius > 0:
				c.Circle(ps[0], s.Radius, pen)
			case pass == 0 && len(ps) > 1 && s.Role == steps.RoleTap:
				c.Arrow(ps[0], ps[len(ps)-1], pen)
			case pass == 0 && len(ps) > 1:
				c.Polyline(ps, s.Closed, pen)
			case pass == 1 && len(ps) == 1:
				c.Mark(ps[0], Marker(r), "", r)
			case pass == 2 && len(ps) == 1:
				c.Name(ps[0], m.t.Say(s.Name), r)
			case pass == 2 && s.Name != "" && (s.Role == steps.RoleClamp || s.Role == steps.RoleJaw || s.Role == steps.RoleConflict):
				b, _ := canvas.Around(ps...)
				c.Label(canvas.Point{X: (b.MinX + b.MaxX) / 2, Y: (b.MinY + b.MaxY) / 2}, m.t.Say(s.Name), r)
			}
		}
	}
}

// taps says that a tap is advised: the run does not stand and the amount can be seen.
func (m *Model) taps(r *steps.RunPlot) bool {
	v, judged := m.base.(*verdictPage)
	return r != nil && r.TapEnd != "" && judged && !v.passed && strings.ContainsAny(m.mm(r.Tap), "123456789")
}

// tapArrow is drawn at the end of the edge that is to be tapped.
func (m *Model) tapArrow(c *canvas.Canvas, sc steps.Scene, size float64) {
	var d canvas.Point
	switch sc.Run.TapDir {
	case "AWAY":
		d.Y = 1
	case "TOWARD YOU":
		d.Y = -1
	case "LEFT":
		d.X = -1
	case "RIGHT":
		d.X = 1
	default:
		return
	}
	for _, s := range sc.Shapes {
		if s.Role != steps.RoleEdge || len(s.Points) < 2 {
			continue
		}
		e := s.Points[0]
		for _, p := range s.Points {
			switch sc.Run.TapEnd {
			case "RIGHT":
				if p.X > e.X {
					e = p
				}
			case "LEFT":
				if p.X < e.X {
					e = p
				}
			case "FAR":
				if p.Y > e.Y {
					e = p
				}
			case "NEAR":
				if p.Y < e.Y {
					e = p
				}
			}
		}
		l := size / 7
		from, to := canvas.Point{X: e.X, Y: e.Y}, canvas.Point{X: e.X + d.X*l, Y: e.Y + d.Y*l}
		c.Arrow(from, to, Pen(Tap))
		c.Label(to, "tap", Tap)
		return
	}
}

// runPicture is the indicator run with its tap in words above.
func (m *Model) runPicture(sc steps.Scene, w, h int) []string {
	r := sc.Run
	var head []string
	if m.taps(r) && h > 6 {
		for _, l := range Wrap(m.t.Say("tap the "+r.TapEnd+" end "+r.TapDir+" by "+m.mm(r.Tap)), w) {
			head = append(head, m.t.Paint(Tap, l))
		}
	}
	c := canvas.DrawRun(w, max(h-len(head), 0), canvas.Run{At: r.At, Reading: r.Reading, Fitted: r.Fitted, Suspect: r.Suspect}, m.t.Inks(), m.mm, m.t.Look.strokes())
	return append(head, c.Lines(m.paint())...)
}
