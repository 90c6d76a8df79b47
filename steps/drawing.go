package steps

import "fliptrue/jobs"

// fixtureBox is about how far the fixture reaches, which no card says: a rim about the pocket,
// the bore, and an edge at the front.
func (p *Plan) fixtureBox() (lo, hi XY) {
	f := &p.Job.Fixture
	a, b := outlineBox(f.Pocket.Outline)
	lo, hi = XY{min(a.X-18, -f.AsMade.Bore.Dia-4), a.Y - 14}, XY{b.X + 18, b.Y + 14}
	if e := f.AsMade.Edge; e != nil && e.Side == "front" {
		lo.Y = e.From.Y
		lo.X, hi.X = min(lo.X, e.From.X), max(hi.X, e.From.X+e.Length)
	}
	return lo, hi
}

// scene draws the setup as it is known: fixture, pocket, part, bores, edge,
// clamps and screws as far as they stand, features with their verdict, and the
// extra shapes of the step.
func (p *Plan) scene(v View, extra []Shape) Scene {
	var s Scene
	f := &p.Job.Fixture
	z, _ := p.partZero()
	part := func(q jobs.Point) XY { return XY{z.X + q.X, z.Y + q.Y} }
	add := func(role Role, name string, closed bool, pts ...XY) {
		s.Shapes = append(s.Shapes, Shape{Role: role, Name: name, Points: pts, Closed: closed})
	}
	if o := f.Pocket.Outline; len(o) > 0 {
		lo, hi := p.fixtureBox()
		add(RoleFixture, f.ID, true, lo, XY{hi.X, lo.Y}, hi, XY{lo.X, hi.Y})
		var pts []XY
		for _, q := range o {
			pts = append(pts, XY{q.X, q.Y})
		}
		add(RolePocket, "", true, pts...)
	}
	if e := f.AsMade.Edge; e != nil {
		to := XY{e.From.X + e.Length, e.From.Y}
		if p.alongY() {
			to = XY{e.From.X, e.From.Y + e.Length}
		}
		add(RoleEdge, "edge", false, XY{e.From.X, e.From.Y}, to)
	}
	s.Shapes = append(s.Shapes, Shape{Role: RoleBore, Name: "bore", Points: []XY{{0, 0}}, Radius: f.AsMade.Bore.Dia / 2})
	if b := f.AsMade.Bore2; b != nil {
		d := b.Dia
		if d == 0 {
			d = f.AsMade.Bore.Dia
		}
		s.Shapes = append(s.Shapes, Shape{Role: RoleBore, Name: "bore 2", Points: []XY{{b.At.X, b.At.Y}}, Radius: d / 2})
	}
	if v.Standing("seat") {
		w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
		add(RolePart, "part", true, part(jobs.Point{}), part(jobs.Point{X: w}), part(jobs.Point{X: w, Y: h}), part(jobs.Point{Y: h}))
	}
	if v.Standing("clamps") {
		for _, c := range p.Setup.Clamps {
			var pts []XY
			for _, q := range c.Outline {
				pts = append(pts, part(q))
			}
			add(RoleClamp, c.Name, true, pts...)
		}
	}
	role := RoleHole
	if v.Standing("screws") {
		role = RoleScrew
	}
	if v.Standing("holes") {
		for _, q := range p.Setup.Screws.At {
			add(role, "", false, part(q))
		}
	}
	for _, q := range p.Job.Part.Features {
		add(RoleFeature, q.Name, false, part(q.At))
	}
	s.Shapes = append(s.Shapes, extra...)
	return s
}
