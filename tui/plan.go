package tui

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fliptrue/steps"
	"fliptrue/steps/fold"
	"fliptrue/tui/canvas"
)

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
	if int(s.Role) < len(rolesOf) {
		return rolesOf[s.Role]
	}
	return Text
}

var rolesOf = [...]Role{steps.RoleFixture: Fixture, steps.RolePocket: Pocket, steps.RolePart: Part, steps.RoleBore: Bore, steps.RoleEdge: Edge,
	steps.RoleHit: Hit, steps.RoleNext: NextHit, steps.RoleHole: Hole, steps.RoleClamp: Clamp, steps.RoleScrew: Screw, steps.RoleFeature: Feature,
	steps.RoleSupport: Support, steps.RoleJaw: Jaw, steps.RolePath: Path, steps.RoleConflict: Conflict, steps.RoleTap: Tap, fold.RoleLater: Later}

// legend names the marks and the strokes of a plan, in the order in which they are told.
var legend = []struct {
	role Role
	word string
}{{NextHit, "now"}, {Hit, "taken"}, {Later, "to come"}, {Suspect, "suspect"}, {Conflict, "in the way"}, {Tap, "tap"}, {Hole, "hole"}, {Screw, "screw"}, {Clamp, "clamp"},
	{Feature, "feature"}, {Pass, "pass"}, {Fail, "fail"}, {NotProven, "not proven"}, {Void, "void"}, {Waived, "waived"}, {Path, "tool path"},
	{Part, "part"}, {Bore, "bores"}, {Edge, "edge"}, {Pocket, "pocket"}, {Fixture, "fixture"}, {Jaw, "jaw"}, {Support, "support"}, {Rule, "without the turn"}}

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

// isRead says that a shape is a place of a reading.
func isRead(s steps.Shape) bool {
	return s.Role == steps.RoleHit || s.Role == steps.RoleNext || s.Role == fold.RoleLater
}

// closeUp says that the places of the readings lie so near each other that the plan
// can't tell them apart, and gives the box about them and about what they are read on.
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
	if !ok1 || !ok2 || n < 2 || size*6 >= max(all.MaxX-all.MinX, all.MaxY-all.MinY) {
		return canvas.Box{}, false
	}
	size = max(size, 1)
	out := near
	for _, s := range sc.Shapes { // whole, not cut off
		b, ok := boxOf([]steps.Shape{s}, func(steps.Shape) bool { return true })
		if ok && !isRead(s) && max(b.MaxX-b.MinX, b.MaxY-b.MinY) <= 3*size && b.MinX <= near.MaxX && b.MaxX >= near.MinX && b.MinY <= near.MaxY && b.MaxY >= near.MinY {
			out = canvas.Box{MinX: min(out.MinX, b.MinX), MinY: min(out.MinY, b.MinY), MaxX: max(out.MaxX, b.MaxX), MaxY: max(out.MaxY, b.MaxY)}
		}
	}
	return out.Grow(size * 0.4), true
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

// legendOf tells what is in the picture, and only that, in as many lines.
func (a artist) legendOf(c *canvas.Canvas, shapes []steps.Shape, w, rows int) []string {
	marked := map[Role]bool{}
	for _, s := range shapes {
		if len(s.Points) == 1 && s.Radius == 0 {
			marked[roleOf(s)] = true
		}
	}
	used := c.Used()
	var lines []string
	line, wide := "", 0
	for _, l := range legend {
		if !used[l.role] {
			continue
		}
		sample := string(Marker(l.role))
		if !marked[l.role] && l.role != Tap {
			sample = canvas.Sample(4, Pen(l.role), a.t.Look.strokes())
		}
		n := Width(sample) + 1 + Width(l.word)
		if wide > 0 && wide+2+n > w {
			lines, line, wide = append(lines, line), "", 0
			if len(lines) == rows {
				return lines
			}
		}
		if wide > 0 {
			line, wide = line+"  ", wide+2
		}
		line, wide = line+a.t.Paint(l.role, sample)+a.t.Paint(Dim, " "+l.word), wide+n
	}
	if wide > 0 {
		lines = append(lines, line)
	}
	return lines
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

// marks sets the glyphs of single points, what is asked now over all others. Places of readings are numbered
// in their order.
func (a artist) marks(c *canvas.Canvas, shapes []steps.Shape) {
	for _, s := range shapes {
		if len(s.Points) == 1 && s.Radius == 0 && s.Role != steps.RoleNext {
			c.Mark(pointsOf(s)[0], Marker(roleOf(s)), "", roleOf(s))
		}
	}
	for _, s := range shapes {
		if len(s.Points) == 1 && s.Radius == 0 && s.Role == steps.RoleNext {
			c.Mark(pointsOf(s)[0], Marker(roleOf(s)), "", roleOf(s))
		}
	}
	for i, s := range places(shapes) {
		if s.Name == "" {
			c.Name(pointsOf(s)[0], itoa(i+1), roleOf(s))
		}
	}
}

// places are where readings are taken, in their order.
func places(shapes []steps.Shape) []steps.Shape {
	var out []steps.Shape
	for _, s := range shapes {
		if len(s.Points) == 1 && s.Radius == 0 && isRead(s) {
			out = append(out, s)
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

// names are written last, where lines and marks leave room: first those of what is asked, then
// of what is in the way, then the others.
func (a artist) names(c *canvas.Canvas, shapes []steps.Shape) {
	order := slices.Clone(shapes)
	rank := func(s steps.Shape) int {
		switch s.Role {
		case steps.RoleNext, steps.RoleTap:
			return 0
		case steps.RoleConflict:
			return 1
		case steps.RoleScrew, steps.RoleHit:
			return 2
		}
		return 3
	}
	slices.SortStableFunc(order, func(x, y steps.Shape) int { return rank(x) - rank(y) })
	told := map[string]bool{} // what reaches over several heights is named once
	for _, s := range order {
		name := a.t.Say(s.Name)
		if s.Role == steps.RoleClamp && name != "" && !strings.Contains(name, "clamp") {
			name = "clamp " + name // one called left is not the table's LEFT
		}
		switch ps := pointsOf(s); {
		case name == "" || len(ps) == 0:
		case len(ps) == 1 && s.Radius == 0:
			c.Name(ps[0], name, roleOf(s))
		case told[name]:
		case s.Role == steps.RoleClamp || s.Role == steps.RoleJaw || s.Role == steps.RoleConflict:
			told[name] = true
			b, _ := canvas.Around(ps...)
			c.Label(canvas.Point{X: (b.MinX + b.MaxX) / 2, Y: (b.MinY + b.MaxY) / 2}, name, roleOf(s))
		}
	}
}

// turn is what a run says that the fixture is turned by, counter-clockwise in rad. The advice
// tells the side: the end to be tapped lies where it is not tapped to.
func turn(r *steps.RunPlot) float64 {
	n := len(r.At)
	if n < 2 || r.At[n-1] == r.At[0] {
		return 0
	}
	t := r.Tap / (r.At[n-1] - r.At[0])
	if r.TapDir == "AWAY" || r.TapDir == "LEFT" {
		t = -t
	}
	return t
}

// magnified is how many times larger than it is a measured turn is drawn, one of a few
// round factors, so that it can be seen; 1 where none is.
func (a artist) magnified(sc steps.Scene) int {
	if sc.Run == nil || len(sc.Shapes) == 0 {
		return 1
	}
	by := math.Abs(turn(sc.Run))
	if !(by > 0) || !a.taps(sc.Run) {
		return 1
	}
	const most = 6 * math.Pi / 180
	out := 1
	for _, n := range []int{2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		if by*float64(n) <= most {
			out = n
		}
	}
	return out
}

// turned are shapes turned about the bore, from which all places are counted.
func turned(shapes []steps.Shape, by float64) []steps.Shape {
	cos, sin := math.Cos(by), math.Sin(by)
	out := make([]steps.Shape, len(shapes))
	for i, s := range shapes {
		s.Points = slices.Clone(s.Points)
		for j, p := range s.Points {
			s.Points[j].X, s.Points[j].Y = p.X*cos-p.Y*sin, p.X*sin+p.Y*cos
		}
		out[i] = s
	}
	return out
}

// ghost is the fixture as it would lie without a turn.
func (a artist) ghost(c *canvas.Canvas, shapes []steps.Shape) {
	for _, s := range shapes {
		if s.Role == steps.RoleFixture {
			c.Polyline(pointsOf(s), s.Closed, Pen(Rule))
		}
	}
}

// taps says that a tap is advised: the run does not stand and the amount can be seen.
func (a artist) taps(r *steps.RunPlot) bool {
	return r != nil && r.TapEnd != "" && a.judged && strings.ContainsAny(a.mm(r.Tap), "123456789")
}

// tapArrow is where the end of the edge that is to be tapped lies, and where it is tapped to, so
// long; ok is false where no tap is advised.
func (a artist) tapArrow(r *steps.RunPlot, shapes []steps.Shape, long float64) (from, to canvas.Point, ok bool) {
	if !a.taps(r) {
		return from, to, false
	}
	ways := map[string]canvas.Point{"AWAY": {Y: 1}, "FAR": {Y: 1}, "TOWARD YOU": {Y: -1}, "NEAR": {Y: -1}, "LEFT": {X: -1}, "RIGHT": {X: 1}}
	way, ok1 := ways[r.TapDir]
	end, ok2 := ways[r.TapEnd]
	i := slices.IndexFunc(shapes, func(s steps.Shape) bool { return s.Role == steps.RoleEdge && len(s.Points) > 1 })
	if !ok1 || !ok2 || i < 0 {
		return from, to, false
	}
	from = slices.MaxFunc(pointsOf(shapes[i]), func(p, q canvas.Point) int {
		return cmp.Compare(p.X*end.X+p.Y*end.Y, q.X*end.X+q.Y*end.Y)
	})
	return from, canvas.Point{X: from.X + way.X*long, Y: from.Y + way.Y*long}, true
}
