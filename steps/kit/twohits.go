package kit

import (
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// A second bore is touched once along X and once along Y where fixture and programs have made good parts: how far a
// wall stands from its centre the first bore has just shown, so that one hit an axis gives direction and scale. A chip
// across the line shows against the edge; one along it does not, and goes into the scale by its share.

// madeWithin is how well a bore's diameter as made is known, half-width, mm (from memory: a bore gauge).
const madeWithin = 0.002

// byTwo says that the plan's level touches the second bore like that.
func byTwo(p *fold.Plan) bool {
	return Crosses(p) && p.Short() && !p.Reads(fold.FirstUse) && ByProbe(p) && p.Job.Fixture.AsMade.Edge != nil && Locator(p) == "bore"
}

// twoAsks are a hit on its RIGHT side and one AWAY.
func (b Prober) twoAsks(v fold.View, t Target) []fold.Ask {
	c := b.Contact(v)
	asks := []fold.Ask{c.Pair(v, t, "x")[0], c.Pair(v, t, "y")[0]}
	asks[0].Do = []fold.Act{{Do: "wipe", Of: t.Of, Words: "Wipe the " + t.Name + ". At the same depth: its sides RIGHT and AWAY, no " +
		"more."}}
	return asks
}

// twoHits is the centre by them, with its variance on each axis.
func (b Prober) twoHits(v fold.View, t Target) (at frame.Vec, u2 [2]float64, ok bool) {
	c := b.Contact(v)
	first, _ := Targets(b.P)
	first.Pre = t.base
	_, width, ok, err := b.crossed(v, first)
	x, ok1 := v.Num(c.field(t, 0), unit.KLength)
	y, ok2 := v.Num(c.field(t, 1), unit.KLength)
	if !ok || err != nil || !ok1 || !ok2 {
		return at, u2, false
	}
	wall := func(width float64) float64 { return (width+t.Dia-first.Dia)/2 - c.Radius }
	made := madeWithin / math.Sqrt(6) // half the difference of two, each rectangular
	for i := range u2 {
		u2[i] = 1.5*c.S*c.S + made*made // the hit, and the pair that shows how far its wall is
	}
	return frame.Vec{X: x - wall(width[0]), Y: y - wall(width[1])}, u2, true
}

// twoCentre is that centre in the step that finds it.
func (b Prober) twoCentre(v fold.View, t Target, o *fold.Outcome) (Found, bool) {
	at, u2, ok := b.twoHits(v, t)
	if !ok {
		return Found{}, false
	}
	_, dof := b.spread(v)
	o.Notes = append(o.Notes, "Two hits of the "+t.Name+" do not check themselves. Across the line the edge does.",
		"Along the line a chip there goes into the scale.")
	return Found{Has: true, Centre: pickup.Centre{At: at, Cov: frame.Cov2{{u2[0], 0}, {0, u2[1]}}, Dof: dof}}, true
}
