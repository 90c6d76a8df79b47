package kit

import (
	"fliptrue/calc/pickup"
	"fliptrue/calc/register"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// bored are a datum that is round or square: a bore or pin gives the place, an edge or a second one the direction.
type bored struct{ p *fold.Plan }

func (d bored) Name() string {
	if k := d.p.Job.Fixture.AsMade.Bore.Kind; k != "" {
		return k
	}
	return "bore"
}

func (d bored) Bed() BedWords {
	if d.p.OnLocator() {
		return BedWords{"plate", "plate", "on plate and at the pins", Locator(d.p)}
	}
	return BedWords{"pocket", "pocket floor", "in pocket and trench", Locator(d.p)}
}

func (d bored) Finder() finder {
	switch d.p.Setup.Finds {
	case "dial":
		return Sweeper(d)
	case "pin":
		return pinner(d)
	case "edge finder":
		return Kicker{d.p, "finder"}
	case "paper":
		return Kicker{d.p, "paper"}
	}
	return Prober{d.p}
}

func (d bored) Edge() (Edge, bool) {
	e := d.p.Job.Fixture.AsMade.Edge
	if e == nil {
		return Edge{}, false
	}
	return Edge{Side: e.Side, From: fold.XY{X: e.From.X, Y: e.From.Y}, Length: e.Length, Zero: float64(e.Zero), Wander: wander(d.p)}, true
}

func (d bored) AtEnds() bool { return false }

func (d bored) Bearing() Bearing {
	if _, second := Targets(d.p); second != nil {
		return PairBearing{d.p}
	}
	return nil
}

func (d bored) nominal() (u, theta float64) {
	p := d.p
	s, _ := judge.ProbeS(p)
	u = pickup.CircleU(s, hitCount(p))
	first, second := Targets(p)
	switch fd := d.Finder().(type) {
	case Sweeper:
		u = fd.u(0)
	case Kicker:
		u = fd.Contact().MiddleU()
	case pinner:
		_, u, _ = fd.Across(fold.View{Plan: p}, first, "x")
	}
	if second != nil {
		theta = pickup.PairU(u, p.Job.Machine.Backlash, second.From.Len())
	}
	return u, theta
}

func (d bored) HoldsPart() bool                       { return false }
func (d bored) lies(*register.Part)                   {}
func (d bored) Turn() Turn                            { return nil }
func (d bored) place(string, float64) (fold.XY, bool) { return fold.XY{}, false }

func (d bored) draw(on *drawing) {
	m := &d.p.Job.Fixture.AsMade
	if e := m.Edge; e != nil {
		to := fold.XY{X: e.From.X + e.Length, Y: e.From.Y}
		if AlongY(d.p) {
			to = fold.XY{X: e.From.X, Y: e.From.Y + e.Length}
		}
		on.add(fold.RoleEdge, "edge", false, fold.XY{X: e.From.X, Y: e.From.Y}, to)
	}
	on.hole("bore", fold.XY{}, m.Bore.Dia)
	if _, second := Targets(d.p); second != nil {
		on.hole("bore 2", fold.XY{X: second.From.X, Y: second.From.Y}, second.Dia)
	}
}
