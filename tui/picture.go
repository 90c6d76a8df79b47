package tui

import (
	"slices"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/tui/canvas"
)

// drawn is one picture of the page. Lines are kept for the size they were made at.
type drawn struct {
	name  string
	shape float64                                   // cells across for each line, where it shows most
	gain  func(w, h int) float64                    // lines that a place shows of it, where shape does not say
	most  float64                                   // lines beyond which it shows no more, 0 for no such
	make  func(w, h int) (*canvas.Canvas, []string) // nil or a picture, and the lines under it
	paint canvas.Paint
	lines []string
	w, h  int
}

func (d *drawn) at(w, h int) []string {
	if d.lines == nil || d.w != w || d.h != h {
		c, foot := d.make(w, h)
		d.lines, d.w, d.h = foot, w, h
		if c != nil {
			d.lines = append(c.Lines(d.paint), foot...)
		}
	}
	return d.lines
}

// draw decides which pictures there are. They are drawn when shown, once a state and size.
func (m *Model) draw() {
	m.drawnFor = m.inHand()
	m.pictures = m.artist().pictures(m.located(m.pg.Scene))
	if _, ok := m.base.(*readyPage); ok {
		m.pictures = append(m.pictures, m.readyPictures()...)
	}
	for i := range m.pictures {
		if m.pictures[i].shape >= flat {
			m.pictures[i].most = 9
		}
	}
	if m.picture >= len(m.pictures) {
		m.picture = 0
	}
}

// located is a scene with the places of the step's own readings, where they have any: those
// taken, the one of the field in hand, and those to come.
func (m *Model) located(sc fold.Scene) fold.Scene {
	id := m.st.Cursor.Step
	if p, ok := m.base.(*verdictPage); ok {
		id = p.step
	}
	if ss, ok := m.st.Step(id); ok {
		if len(sc.Shapes) == 0 {
			sc.Shapes = kit.Outline(ss)
		}
		return locate(sc, kit.Marks(&m.st, ss, m.inHand()))
	}
	return sc
}

// inHand is the field that is read now, "" for none.
func (m *Model) inHand() string {
	if p, ok := m.base.(*walkPage); ok {
		if a, ok := p.ask(m); ok {
			return a.Field
		}
	}
	return ""
}

// locate puts marks in the place of those that a scene has without a name.
func locate(sc fold.Scene, marks []fold.Shape) fold.Scene {
	if len(marks) == 0 || len(sc.Shapes) == 0 {
		return sc
	}
	shapes := slices.DeleteFunc(slices.Clone(sc.Shapes), func(s fold.Shape) bool {
		return s.Name == "" && (s.Role == fold.RoleHit || s.Role == fold.RoleNext)
	})
	sc.Shapes = append(shapes, marks...)
	return sc
}

func (m *Model) artist() artist {
	v, judged := m.base.(*verdictPage)
	return artist{t: m.t, sys: m.o.Plan.System(), judged: judged && !v.passed}
}

func (m *Model) mm(v float64) string { return m.artist().mm(v) }

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

// artist draws what a step has to show.
type artist struct {
	t      Theme
	sys    unit.System
	judged bool // what does not pass is told: advice has its place in the picture
}

func (a artist) paint() canvas.Paint {
	return func(k canvas.Ink, s string) string { return a.t.Paint(k, s) }
}

func (a artist) mm(v float64) string { return a.t.Say(unit.Show(v, unit.KLength, a.sys, 0)) }

// The shapes of pictures: a plan's and a plot's.
const upright, flat = 2.1, 7

// ofNow is the scene without what does not matter at this moment; asked says that a place is to be read.
func ofNow(sc fold.Scene) (now fold.Scene, asked bool) {
	asked = slices.ContainsFunc(sc.Shapes, func(s fold.Shape) bool { return s.Role == fold.RoleNext })
	if asked {
		sc.Moves = nil // they are known when all is read
	}
	if sc.Moves != nil { // where it was read is no longer what matters
		sc.Shapes = slices.DeleteFunc(slices.Clone(sc.Shapes), isRead)
	}
	if slices.ContainsFunc(sc.Shapes, isRead) { // where something is read, what is not judged yet is in the way
		sc.Shapes = slices.DeleteFunc(slices.Clone(sc.Shapes), func(s fold.Shape) bool { return roleOf(s) == Feature })
	}
	return sc, asked
}

func (a artist) ring(r *fold.RingPlot, w, h int) *canvas.Canvas {
	plot := canvas.Ring{Angle: r.Angle, Residual: r.Residual, Suspect: r.Suspect, Limit: r.Limit}
	return canvas.DrawRing(w, h, plot, a.t.Inks(), a.mm, a.t.Look.strokes())
}

func (a artist) tilt(t *fold.TiltPlot, w, h int) *canvas.Canvas {
	plot := canvas.Tilt{Residual: t.Residual, RiseX: t.TiltX, RiseY: t.TiltY, Suspect: t.Suspect, Limit: t.Limit}
	for _, p := range t.Points {
		plot.At = append(plot.At, canvas.Point{X: p.X, Y: p.Y})
	}
	return canvas.DrawTilt(w, h, plot, a.t.Inks(), a.mm, a.t.Look.strokes())
}

// pictures are those of a scene, the plot of the readings first.
func (a artist) pictures(sc fold.Scene) []drawn {
	sc, asked := ofNow(sc)
	var out []drawn
	add := func(name string, shape float64, f func(w, h int) *canvas.Canvas) {
		out = append(
			out, drawn{name: name, shape: shape, paint: a.paint(), make: func(w, h int) (*canvas.Canvas, []string) { return f(w, h), nil }})
	}
	plan := func(name string, sc fold.Scene, box canvas.Box) {
		out = append(out, drawn{name: name, shape: shapeOf(box), paint: a.paint(),
			make: func(w, h int) (*canvas.Canvas, []string) { return a.plan(sc, box, w, h) }})
	}
	if box, ok := closeUp(sc); ok && (asked || sc.Ring == nil) {
		near := sc
		near.Shapes = slices.DeleteFunc(slices.Clone(sc.Shapes),
			func(s fold.Shape) bool { return roleOf(s) == Fixture }) // a line of it would say nothing
		plan("where it is read, from above", near, box)
	}
	if sc.Cut != nil {
		add(sc.Cut.Name, 3, func(w, h int) *canvas.Canvas { return a.section(sc.Cut, w, h) })
	}
	if sc.Run != nil && len(sc.Run.At) > 1 {
		add("indicator run", flat, func(w, h int) *canvas.Canvas { return a.run(sc.Run, w, h) })
	}
	if len(sc.Clocks) > 0 {
		add(roundsName, 5, func(w, h int) *canvas.Canvas { return a.clocks(sc.Clocks, w, h) })
	}
	if sc.Ring != nil && len(sc.Ring.Angle) > 0 {
		add("hits off the circle, magnified", upright, func(w, h int) *canvas.Canvas { return a.ring(sc.Ring, w, h) })
	}
	if sc.Tilt != nil && len(sc.Tilt.Points) > 0 {
		add("heights, from above", upright, func(w, h int) *canvas.Canvas { return a.tilt(sc.Tilt, w, h) })
	}
	if box, ok := boxOf(sc.Shapes, func(fold.Shape) bool { return true }); ok {
		name := "plan, from above"
		if n := a.magnified(sc); n > 1 {
			name = "plan, the turn " + a.t.Say("× "+itoa(n))
		}
		if m := sc.Moves; m != nil && m.Limit > 0 {
			name = "plan from above, moves in rings of " + a.mm(m.Limit)
		}
		plan(name, sc, box.Grow(max(box.MaxX-box.MinX, box.MaxY-box.MinY)*0.03))
	}
	if len(sc.Bars) > 0 {
		add("what the uncertainty is made of", flat, func(w, h int) *canvas.Canvas { return a.bars(sc.Bars, w, h) })
	}
	return out
}

// roundsName is the name of the clocks of tightening.
const roundsName = "rounds of tightening"

// clocks are rounds of turning, done, now and to come.
func (a artist) clocks(cs []fold.Clock, w, h int) *canvas.Canvas {
	var out []canvas.Clock
	for _, c := range cs {
		out = append(out, canvas.Clock{Name: a.t.Say(c.Name), Text: a.t.Say(c.Text), Share: c.Share, Ink: roleOf(fold.Shape{Role: c.Role})})
	}
	return canvas.DrawClocks(w, h, out, a.t.Inks(), a.t.Look.strokes())
}

// bars are what an uncertainty is made of, the largest first as they come.
func (a artist) bars(rows []fold.Row, w, h int) *canvas.Canvas {
	var bs []canvas.Bar
	for _, r := range rows {
		v := r.Bar
		if v == 0 {
			v = r.Value
		}
		bs = append(bs, canvas.Bar{Label: a.t.Say(r.Label), Value: v, Text: a.t.Say(shown(r, a.sys)), Ink: Figure})
	}
	return canvas.DrawBars(w, bs[:min(len(bs), max(h, 0))], a.t.Inks(), a.t.Look.ASCII)
}

// run is the indicator run in moves of the edge, AWAY up, or RIGHT where the edge runs away from
// the person. Where the dial's way is not known it is the needle that is drawn.
func (a artist) run(r *fold.RunPlot, w, h int) *canvas.Canvas {
	p := canvas.Run{At: r.At, Reading: r.Reading, Fitted: r.Fitted, Suspect: r.Suspect, Limit: r.Limit, Ends: r.Ends, Up: "needle +",
		Down: "needle -"}
	if r.Scale != 0 {
		p.Reading, p.Fitted = moves(r, r.Reading), moves(r, r.Fitted)
		p.Up, p.Down = "AWAY", "TOWARD YOU"
		if r.Ends[0] == "NEAR" {
			p.Up, p.Down = "RIGHT", "LEFT"
		}
	}
	return canvas.DrawRun(w, h, p, a.t.Inks(), a.mm, a.t.Look.strokes())
}

// moves are what readings say that the edge moves, less what it does of itself: a square fixture is level.
func moves(r *fold.RunPlot, v []float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = r.Scale*v[i] - r.AsMade*r.At[i]
	}
	return out
}

// section is a cut, its levels named with their heights.
func (a artist) section(cut *fold.Section, w, h int) *canvas.Canvas {
	s := canvas.Section{Lo: cut.Lo, Hi: cut.Hi}
	for _, o := range cut.Solids {
		s.Solids = append(s.Solids, canvas.Solid{X0: o.X0, X1: o.X1, Lo: o.Lo, Hi: o.Hi, Point: o.Point,
			Pen: Pen(roleOf(fold.Shape{Role: o.Role}))})
	}
	for _, l := range cut.Levels {
		s.Levels = append(s.Levels, canvas.Level{Z: l.Z, Text: a.t.Say(levelText(l, a.sys)), Ink: roleOf(fold.Shape{Role: l.Role})})
	}
	return canvas.DrawSection(w, h, s, a.t.Look.strokes())
}

// levelText is the name of a height, with its number where that is known.
func levelText(l fold.Height, sys unit.System) string {
	if l.Bare {
		return l.Name
	}
	return l.Name + " " + unit.Signed(l.Z, unit.KLength, sys, 0)
}
