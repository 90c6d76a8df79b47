package steps

import "fliptrue/jobs"

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
		lo, hi := outlineBox(o)
		x0, y0, x1, y1 := lo.X-18, lo.Y-14, hi.X+18, hi.Y+14
		x0 = min(x0, -f.AsMade.Bore.Dia-4)
		if e := f.AsMade.Edge; e != nil && e.Side == "front" {
			y0 = e.From.Y
			x0, x1 = min(x0, e.From.X), max(x1, e.From.X+e.Length)
		}
		add(RoleFixture, f.ID, true, XY{x0, y0}, XY{x1, y0}, XY{x1, y1}, XY{x0, y1})
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
