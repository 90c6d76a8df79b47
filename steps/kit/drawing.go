package kit

import (
	"fliptrue/calc/frame"
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
	d := drawing{p: p}
	d.zero, _ = PartZero(p)
	d.fixture()
	d.part(v)
	d.Shapes = append(d.Shapes, extra...)
	return d.Scene
}

// drawing is a scene as it is drawn, with where the part's zero lies in it.
type drawing struct {
	fold.Scene
	p    *fold.Plan
	zero frame.Vec
}

func (d *drawing) add(role fold.Role, name string, closed bool, pts ...fold.XY) {
	d.Shapes = append(d.Shapes, fold.Shape{Role: role, Name: name, Points: pts, Closed: closed})
}

func (d *drawing) hole(name string, at fold.XY, dia float64) {
	d.Shapes = append(d.Shapes, fold.Shape{Role: fold.RoleBore, Name: name, Points: []fold.XY{at}, Radius: dia / 2})
}

// at are points of the part where it lies in its fixture.
func (d *drawing) at(qs ...jobs.Point) (out []fold.XY) {
	for _, q := range qs {
		out = append(out, fold.XY{X: d.zero.X + q.X, Y: d.zero.Y + q.Y})
	}
	return out
}

// fixture is its outline, its pocket and what it is aligned by.
func (d *drawing) fixture() {
	f := &d.p.Job.Fixture
	if o := f.Pocket.Outline; len(o) > 0 {
		lo, hi := FixtureBox(d.p)
		d.add(fold.RoleFixture, f.ID, true, lo, fold.XY{X: hi.X, Y: lo.Y}, hi, fold.XY{X: lo.X, Y: hi.Y})
		var pts []fold.XY
		for _, q := range o {
			pts = append(pts, fold.XY{X: q.X, Y: q.Y})
		}
		d.add(fold.RolePocket, "", true, pts...)
	}
	DatumOf(d.p).draw(d)
}

// part is the part with its clamps and screws, each from when it is there, and its features.
func (d *drawing) part(v fold.View) {
	p := d.p
	if v.Standing("seat") {
		w, h := p.Job.Part.Size[0], p.Job.Part.Size[1]
		d.add(fold.RolePart, "part", true, d.at(jobs.Point{}, jobs.Point{X: w}, jobs.Point{X: w, Y: h}, jobs.Point{Y: h})...)
	}
	if v.Standing("clamps") {
		for _, c := range p.Setup.Clamps {
			d.add(fold.RoleClamp, c.Name, true, d.at(c.Outline...)...)
		}
	}
	role := fold.RoleHole
	if v.Standing("screws") {
		role = fold.RoleScrew
	}
	if v.Standing("holes") {
		for _, q := range p.Setup.Screws.At {
			d.add(role, "", false, d.at(q)...)
		}
	}
	for _, q := range p.Job.Part.Features {
		if p.Setup.Flip == "" { // no part goes in
			break
		}
		d.add(fold.RoleFeature, q.Name, false, d.at(q.At)...)
	}
}
