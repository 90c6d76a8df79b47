package bench

import (
	"math"
	"strings"

	"fliptrue/steps/fold"
)

// Wide are all effects that a shop has beside a person who errs: Usual, and what practice leaves out. The sizes are common
// practice, from memory, where no source stands.
func Wide(p *fold.Plan) Effects {
	e := Usual(p)
	e.SeatTurn = 7e-5       // 0.005 over 70
	e.SeatLean = 2e-5       // 0.002 over 100: more is a chip
	e.Bearing = 1           //
	e.FixtureDamp = 10      // a season
	e.Lead = 0.004          // 0.008 within 300 beside its straight trend, which cancels: grade 3 (V300p 0.012, ISO 3408-3, from memory)
	e.Drift = 0.002         //
	e.SpindleGrowth = 0.010 // a small spindle in its first half hour
	e.SwapLift, e.SwapLean = 0.0015, 1.5e-5
	if pr := p.Job.Machine.Probe; pr != nil && e.Lobes > 0 {
		e.Lobes = 0.001 // three contacts in the probe; a strain gauge has a quarter of that
	}
	return e
}

// Erring are effects with a person who errs in so many answers of a hundred: slips of the keys are rarer by 20,
// skipped acts by 4 (common practice: 3 to 15 percent of check-list answers given by heart).
func Erring(e Effects, percent float64) Effects {
	e.WrongAnswer = percent / 100
	e.WrongDigit, e.SkippedAct = e.WrongAnswer/20, e.WrongAnswer/4
	return e
}

// swells is how much a material grows per percent of humidity: acrylic 0.3 percent from dry to 80 percent of humidity (a sheet maker);
// paper and phenolic about half of it (from memory); metal none.
func swells(material string) float64 {
	switch m := strings.ToLower(material); {
	case strings.Contains(m, "acrylic"):
		return 4e-5
	case strings.Contains(m, "phenolic"):
		return 2e-5
	}
	return 0
}

// swollen is by how much the fixture has grown by humidity since its day.
func (w *World) swollen() float64 {
	return 1 + swells(w.card.Material)*w.lot.within("fixture damp", w.Effects.FixtureDamp)
}

// leads is how far a spindle is beyond its readout by the screws, where the readout shows m.
func (w *World) leads(m xy) xy {
	if w.Effects.Lead == 0 {
		return xy{}
	}
	one := func(axis string, at float64) float64 {
		long := 350 + w.lot.within("lead long "+axis, 150)
		return w.Effects.Lead * math.Sin(2*math.Pi*at/long+w.lot.within("lead phase "+axis, math.Pi))
	}
	return xy{one("x", m.x), one("y", m.y)}
}

// made is what the screws put into a place, counted from a zero, that was cut so far from here on the table.
func (w *World) made(where string, off float64, zero, c xy) xy {
	if w.Effects.Lead == 0 {
		return c
	}
	at := w.nominal.add(w.lot.pair(where, off))
	return c.add(w.leads(at.add(c))).sub(w.leads(at.add(zero)))
}

// drifts is how far the table has come against the spindle: all of it once the part is cut.
func (w *World) drifts(share float64) xy {
	return w.lot.pair("drift", w.Effects.Drift).times(share)
}

// spent is the share of the walk that is over.
func (w *World) spent() float64 { return min(1, float64(w.reads)/150) }

// lies turns and leans a part at its walls. What lies at an angle to a wall touches it at one end: the middle stands off.
func (w *World) lies(draw string) {
	e, p := &w.Effects, &w.part
	if e.SeatLean > 0 {
		p.lean = level{tx: w.lot.within(draw+" lean x", e.SeatLean), ty: w.lot.within(draw+" lean y", e.SeatLean)}
	}
	if e.SeatTurn == 0 && e.Bearing == 0 || w.setup.Floating || len(w.setup.Against) < 2 {
		return
	}
	turn, square := w.lot.within(draw+" turned", e.SeatTurn), 2*w.square*e.Bearing
	if e.Bearing > 0 && w.lot.within(draw+" bears", 1) > 0 {
		turn -= square // flat along the wall along Y; else along X
	}
	in := w.inward()
	p.turn = turn
	p.shift = p.shift.add(xy{in.x * math.Abs(turn+square) * w.size.y / 2, in.y * math.Abs(turn) * w.size.x / 2})
}

// aside is how far a lean takes the part's middle height sideways.
func (w *World) aside() xy {
	h := w.plan.Job.Part.Size[2] / 2
	return xy{-w.part.lean.tx * h, -w.part.lean.ty * h}
}

// rises lifts and leans the part as it comes from its straps to its screws.
func (w *World) rises() {
	e, p := &w.Effects, &w.part
	p.rise += w.lot.within("swap lift", e.SwapLift)
	p.lean.tx += w.lot.within("swap lean x", e.SwapLean)
	p.lean.ty += w.lot.within("swap lean y", e.SwapLean)
}

// wider are mistakes that the proof makes and practice does not.
var wider = []Mistake{
	{Name: "fixture-turned", Size: 0.4, Unit: "mrad", Cost: "All of side 2 would have been cut turned about the bore.",
		when: "before do seat part", make: func(w *World, h *happening) {
			w.fixture = w.fixture.about(w.onFixture(xy{}), 1e-3*h.size, xy{})
			w.moves++
		}, alike: []string{"tapped-after-bore"}},
	{Name: "lifted-at-swap", Size: 0.05, Unit: "mm", Cost: "The part would have been cut tilted, off its floor at one end.",
		when: "after do unstrap clamps", make: func(w *World, h *happening) {
			w.part.rise += h.size / 2
			w.part.lean.tx += h.size / w.size.x
			w.move("unstrap", xy{}, h.size)
		}, cures: []string{"seat part"}, alike: []string{"shift-at-swap"}},
}

// Wider are those.
func Wider() []Mistake { return append([]Mistake(nil), wider...) }
