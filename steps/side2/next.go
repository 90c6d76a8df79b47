package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// nextTouch is how bore, floor and far end are touched for the next part, by the fewest readings.
type nextTouch struct {
	p       *fold.Plan
	first   kit.Target
	at      jobs.Point // of the touch on the floor
	probe   bool       // its length is touched first
	probing bool       // it finds the bore too
	far     *farTouch
}

// next proves that bore and floor are where they were for the part before.
func next(p *fold.Plan) *fold.Spec {
	n := nextTouchOf(p)
	lifts := append([]fold.FactID{"identity", "skew", "bore", "floor"}, kit.LengthFacts(p)...)
	sp := &fold.Spec{Title: "next blank", Needs: fold.AsRead(kit.Finder(p).Stands()...), Makes: []fold.FactID{"drift"},
		Recheck: &fold.Recheck{Before: "mount", Lifts: lifts}, Asks: n.asks, Judge: n.judge, Page: n.page}
	if n.probe {
		sp.Recheck.Remakes = []fold.FactID{"length/probe"}
	}
	return sp
}

func nextTouchOf(p *fold.Plan) nextTouch {
	n := nextTouch{p: p, at: kit.FloorPlaces(p)[4], probe: p.Job.Machine.Probe != nil, far: farEndOf(p)}
	n.first, _ = kit.Targets(p)
	_, n.probing = kit.Finder(p).(kit.Prober)
	return n
}

// boreAsks are the fewest readings of the first target: of a probe two hits, its size being known.
func (n nextTouch) boreAsks(v fold.View) (asks []fold.Ask) {
	for _, a := range crossAsks(n.p, v, n.first) {
		if !n.probing || a.Field == kit.Quarters[0].Field || a.Field == kit.Quarters[1].Field {
			asks = append(asks, a)
		}
	}
	return asks
}

func (n nextTouch) asks(v fold.View) []fold.Ask {
	p := n.p
	asks := []fold.Ask{{Field: "since", Label: "since the part before", Kind: fold.Choice,
		Options: []string{"nothing happened", "something happened"},
		What:    fold.What{By: "eye", Of: "fixture", Dir: "since"}, Want: "nothing happened",
		WantWhy: "Then nothing is taken over.", Hint: "Begin at the fixture, as for the first part.",
		Do: []fold.Act{{Do: "remove", Of: "part", Words: "Part out, screws out. Vacuum and wipe pocket, trench and " + n.first.Name + "."}}}}
	if n.probe {
		a := fold.Ask{Field: "probe", Label: "probe touched on the tools' reference: length", Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "touch", Of: "tool/probe", Dir: "length"},
			Do:   []fold.Act{{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. Its length first."}}}
		if l, ok := facts.Length.Of("probe").Was(v); ok {
			a.Window = kit.Around(float64(l.L), 0.1, "as before")
		}
		asks = append(asks, a)
	}
	if _, ok := facts.Bore.Was(v); ok {
		asks = append(asks, n.boreAsks(v)...)
	}
	if f, ok := facts.Floor.Was(v); ok {
		a := fold.Ask{Field: "z", Label: "bare floor, middle", Kind: fold.Reading, Unit: unit.KLength, Window: kit.TravelWindow(p, "z"),
			What: fold.What{By: kit.TouchBy(p), Of: "floor@" + kit.Place(n.at.X) + "," + kit.Place(n.at.Y), Dir: "z-", Axis: "z"}}
		if l, ok := n.length(v); ok {
			a.Window = kit.Around(n.floor(f)+l, 0.3, "as before")
		}
		asks = append(asks, a)
	}
	if n.far != nil {
		asks = append(asks, n.far.asks(v)...)
	}
	return asks
}

// length is the one in force for the touch on the floor.
func (n nextTouch) length(v fold.View) (float64, bool) {
	if l, ok := v.Num("probe", unit.KLength); ok && n.probe {
		return l, true
	}
	l, ok := facts.Length.Of(kit.ZDatum(n.p).Thing()).Was(v)
	return float64(l.L), ok
}

// floor is where the floor was at the place that is touched.
func (n nextTouch) floor(f facts.FloorFact) float64 {
	z, _ := kit.PartZero(n.p)
	return kit.FloorOf(f).At(frame.Vec{X: n.at.X, Y: n.at.Y}, z)
}

func (n nextTouch) judge(v fold.View) fold.Outcome {
	p := n.p
	var o fold.Outcome
	l := p.Limit("next.bore")
	if n.probe { // every walk takes the probe out: its place in the collet is in the difference
		l.Max *= 2
	}
	most := 0.0
	weigh := func(id, why string, d float64) {
		l.ID, l.Why = id, why
		c := judge.Off(l, d, 0, 0)
		if most = math.Max(most, c.Got); c.Verdict == fold.Fail {
			c.Words = fmt.Sprintf("%s: it differs by %s. Nothing is taken over; begin at the fixture.", why, p.Len(c.Got))
			o.Named = "fixture-moved"
			o.Next = append(o.Next, fold.Act{Do: "look", Of: "fixture", Words: "Wipe and touch once more; if it stays, begin at the fixture."})
		}
		o.Checks = append(o.Checks, c)
	}
	if b, ok := facts.Bore.Was(v); ok {
		raw, _ := nextCentre(p, v)
		at, _ := corrected(p, v, raw)
		weigh("next.bore", n.first.Name+" as for the part before", at.Sub(frame.Vec{X: float64(b.X), Y: float64(b.Y)}).Len())
	}
	if f, ok := facts.Floor.Was(v); ok {
		if at, ok := n.length(v); ok {
			weigh("next.floor", "floor as for the part before", fit.ZOffset(v.Len("z"), at, 0)-n.floor(f))
		}
	}
	if n.far != nil {
		if d, ok, err := n.far.off(v); err != nil {
			kit.Refuse(&o, "next.jog", "jog test: needle against a known move", err)
		} else if ok {
			l.Max = p.Sensible(0.010)
			weigh("next.turn", "far end as for the part before", d)
		}
	}
	if x, ok := v.Num("probe", unit.KLength); ok {
		u := pickup.HalfU(0.005)
		o.Facts = append(o.Facts, facts.Length.Of("probe").Is(facts.LengthFact{L: unit.Length(x), Cov: fold.NewCov("l", [][]float64{{u * u}})}))
	}
	o.Facts = append(o.Facts, facts.Drift.Is(facts.DriftFact{D: unit.Length(most)}))
	o.Learned = fmt.Sprintf("Bore and floor are as before within %s: direction and offset hold for this part too.", p.Len(most))
	return o
}

func (n nextTouch) page(v fold.View) fold.Page {
	return fold.Page{Why: "The mounting outlives one part; a few touches prove it.",
		Act:     "Touch the length, the " + n.first.Name + " by the fewest readings and the floor once.",
		Read:    "Machine position at contact.",
		Caution: "SPINDLE STOPPED, its command off, before the probe goes in.", Scene: kit.Scene(n.p, v, nil)}
}

// nextCentre is the first target's centre by the fewest readings: of a probe two hits, its size being known.
func nextCentre(p *fold.Plan, v fold.View) (frame.Vec, bool) {
	first, _ := kit.Targets(p)
	if _, probing := kit.Finder(p).(kit.Prober); !probing {
		at, _, read := cross(p, v, first)
		return at, read
	}
	b, ok := facts.Bore.Was(v)
	if !ok || b.Dia <= 0 {
		return frame.Vec{}, false
	}
	by := pickup.Contact{Radius: kit.BallRadius(p, v)}
	return by.FromFirst(v.Len("f0"), v.Len("f90"), float64(b.Dia), first.Outside()), v.Has("f0") && v.Has("f90")
}
