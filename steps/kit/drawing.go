package kit

import (
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// FixtureBox is about how far the fixture reaches, which no card says: a rim about the pocket,
// the bore, and an edge at the front.
func FixtureBox(p *fold.Plan) (lo, hi fold.XY) {
	f := &p.Job.Fixture
	a, b := OutlineBox(f.Pocket.Outline)
	lo, hi = fold.XY{X: min(a.X-18, -f.AsMade.Bore.Dia-4), Y: a.Y - 14}, fold.XY{X: b.X + 18, Y: b.Y + 14}
	if e := f.AsMade.Edge; e != nil && e.Side == "front" {
		lo.Y = e.From.Y
		lo.X, hi.X = min(lo.X, e.From.X), max(hi.X, e.From.X+e.Length)
	}
	return lo, hi
}

// FixtureArrow is drawn on the front rim, toward the person, as it lies when it is mounted right.
// No card says where it is engraved.
func FixtureArrow(p *fold.Plan) []fold.XY {
	lo, hi := FixtureBox(p)
	a, _ := OutlineBox(p.Job.Fixture.Pocket.Outline)
	x, rim := (lo.X+hi.X)/2, a.Y-lo.Y
	return []fold.XY{{X: x, Y: lo.Y + 0.8*rim}, {X: x, Y: lo.Y + 0.2*rim}}
}

// Scene draws the setup as it is known: fixture, pocket, part, bores, edge,
// clamps and screws as far as they stand, features with their verdict, and the
// extra shapes of the step.
func Scene(p *fold.Plan, v fold.View, extra []fold.Shape) fold.Scene {
	var s fold.Scene
	f := &p.Job.Fixture
	z, _ := PartZero(p)
	part := func(q jobs.Point) fold.XY { return fold.XY{X: z.X + q.X, Y: z.Y + q.Y} }
	add := func(role fold.Role, name string, closed bool, pts ...fold.XY) {
		s.Shapes = append(s.Shapes, fold.Shape{Role: role, Name: name, Points: pts, Closed: closed})
	}
	if o := f.Pocket.Outline; len(o) > 0 {
		lo, hi := FixtureBox(p)
		add(fold.RoleFixture, f.ID, true, lo, fold.XY{X: hi.X, Y: lo.Y}, hi, fold.XY{X: lo.X, Y: hi.Y})
		var pts []fold.XY
		for _, q := range o {
			pts = append(pts, fold.XY{X: q.X, Y: q.Y})
		}
		add(fold.RolePocket, "", true, pts...)
	}
	if e := f.AsMade.Edge; e != nil {
		to := fold.XY{X: e.From.X + e.Length, Y: e.From.Y}
		if AlongY(p) {
			to = fold.XY{X: e.From.X, Y: e.From.Y + e.Length}
		}
		add(fold.RoleEdge, "edge", false, fold.XY{X: e.From.X, Y: e.From.Y}, to)
	}
	for _, l := range stopLines(p) {
		add(fold.RoleEdge, "", false, l[0], l[1])
	}
	if !OnStops(p) {
		s.Shapes = append(s.Shapes, fold.Shape{Role: fold.RoleBore, Name: "bore", Points: []fold.XY{{X: 0, Y: 0}}, Radius: f.AsMade.Bore.Dia / 2})
	}
	if b := f.AsMade.Bore2; b != nil {
		d := b.Dia
		if d == 0 {
			d = f.AsMade.Bore.Dia
		}
		s.Shapes = append(s.Shapes, fold.Shape{Role: fold.RoleBore, Name: "bore 2", Points: []fold.XY{{X: b.At.X, Y: b.At.Y}}, Radius: d / 2})
	}
	if v.Standing("seat") {
		w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
		add(fold.RolePart, "part", true, part(jobs.Point{}), part(jobs.Point{X: w}), part(jobs.Point{X: w, Y: h}), part(jobs.Point{Y: h}))
	}
	if v.Standing("clamps") {
		for _, c := range p.Setup.Clamps {
			var pts []fold.XY
			for _, q := range c.Outline {
				pts = append(pts, part(q))
			}
			add(fold.RoleClamp, c.Name, true, pts...)
		}
	}
	role := fold.RoleHole
	if v.Standing("screws") {
		role = fold.RoleScrew
	}
	if v.Standing("holes") {
		for _, q := range p.Setup.Screws.At {
			add(role, "", false, part(q))
		}
	}
	for _, q := range p.Job.Part.Features {
		if p.Setup.Flip == "" { // no part goes in
			break
		}
		add(fold.RoleFeature, q.Name, false, part(q.At))
	}
	s.Shapes = append(s.Shapes, extra...)
	return s
}
