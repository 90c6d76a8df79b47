package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// next proves that bore and floor are where they were for the part before.
func next(p *fold.Plan) *fold.Spec {
	first, _ := kit.Targets(p)
	thing := first.Name
	q := FloorPoints(p)[4]
	lifts := []fold.FactID{"identity", "skew", "bore", "floor"}
	sp := &fold.Spec{Title: "next blank", Recheck: &fold.Recheck{Before: "mount", Lifts: append(lifts, kit.LengthFacts(p)...)}, Makes: []fold.FactID{"drift"}}
	probe := p.Job.Machine.Probe != nil
	_, probing := kit.Finder(p).(kit.Prober)
	far := farEndOf(p)
	sp.Needs = fold.AsRead(kit.Finder(p).Stands()...)
	if probe {
		sp.Recheck.Remakes = append(sp.Recheck.Remakes, "length/probe")
	}
	// length in force for the touch on the floor.
	length := func(v fold.View) (float64, bool) {
		if l, ok := v.Num("probe", unit.KLength); ok && probe {
			return l, true
		}
		l, ok := v.Was(kit.ZDatum(p))
		if !ok || len(l.Value) == 0 {
			return 0, false
		}
		return l.Value[0], true
	}
	z, _ := kit.PartZero(p)
	floorAt := func(f fold.Known) float64 { return f.Value[0] + f.Value[1]*(q.X-z.X) + f.Value[2]*(q.Y-z.Y) }
	sp.Asks = func(v fold.View) []fold.Ask {
		asks := []fold.Ask{{Field: "since", Label: "since the part before", Kind: fold.Choice, Options: []string{"nothing happened", "something happened"}, What: fold.What{By: "eye", Of: "fixture", Dir: "since"}, Want: "nothing happened",
			WantWhy: "Then nothing is taken over.", Hint: "Begin at the fixture, as for the first part.", Do: []fold.Act{{Do: "remove", Of: "part", Words: "Part out, screws out. Vacuum and wipe pocket, trench and " + thing + "."}}}}
		if probe {
			a := fold.Ask{Field: "probe", Label: "probe touched on the tools' reference: length", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "touch", Of: "tool/probe", Dir: "length"}, Do: []fold.Act{{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. Its length first."}}}
			if l, ok := v.Was("length/probe"); ok && len(l.Value) > 0 {
				a.Window = kit.Around(l.Value[0], 0.1, "as before")
			}
			asks = append(asks, a)
		}
		if _, ok := v.Was("bore"); ok {
			for _, a := range crossAsks(p, v, first) {
				if !probing || a.Field == kit.Quarters[0].Field || a.Field == kit.Quarters[1].Field {
					asks = append(asks, a)
				}
			}
		}
		if f, ok := v.Was("floor"); ok && len(f.Value) > 3 {
			a := fold.Ask{Field: "z", Label: "bare floor, middle", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: kit.TouchBy(p), Of: "floor@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "z-", Axis: "z"}, Window: kit.TravelWindow(p, "z")}
			if l, ok := length(v); ok {
				a.Window = kit.Around(floorAt(f)+l, 0.3, "as before")
			}
			asks = append(asks, a)
		}
		if far != nil {
			asks = append(asks, far.asks(v)...)
		}
		return asks
	}
	sp.Judge = func(v fold.View) fold.Outcome {
		var o fold.Outcome
		l := p.Limit("next.bore")
		if probe { // every walk takes the probe out: its place in the collet is in the difference
			l.Max *= 2
		}
		most := 0.0
		weigh := func(id, why string, d float64) {
			k := l
			k.ID, k.Why = id, why
			c := judge.Judged(k, math.Abs(d), 0)
			if most = math.Max(most, c.Got); c.Verdict == fold.Fail {
				c.Words = fmt.Sprintf("%s: it differs by %s. Nothing is taken over; begin at the fixture.", why, p.Len(c.Got))
				o.Named = "fixture-moved"
				o.Next = append(o.Next, fold.Act{Do: "look", Of: "fixture", Words: "Wipe and touch once more; if it stays, begin at the fixture."})
			}
			o.Checks = append(o.Checks, c)
		}
		if b, ok := v.Was("bore"); ok && len(b.Value) > 2 {
			raw, _ := nextCentre(p, v)
			at, _ := corrected(p, v, raw)
			weigh("next.bore", thing+" as for the part before", at.Sub(frame.Vec{X: b.Value[0], Y: b.Value[1]}).Len())
		}
		if f, ok := v.Was("floor"); ok && len(f.Value) > 3 {
			if at, ok := length(v); ok {
				weigh("next.floor", "floor as for the part before", fit.ZOffset(v.Len("z"), at, 0)-floorAt(f))
			}
		}
		if far != nil {
			if d, ok, err := far.off(v); err != nil {
				kit.Refuse(&o, "next.jog", "the jog test shows what the dial makes of a known move", err)
			} else if ok {
				l.Max = p.Sensible(0.010)
				weigh("next.turn", "far end as for the part before", d)
			}
		}
		if x, ok := v.Num("probe", unit.KLength); ok {
			u := 0.005 / math.Sqrt(3)
			o.Facts = append(o.Facts, fold.Known{ID: "length/probe", Value: []float64{x}, Cov: [][]float64{{u * u}}})
		}
		o.Facts = append(o.Facts, fold.Known{ID: "drift", Value: []float64{most}})
		o.Learned = fmt.Sprintf("Bore and floor are as before within %s: the fixture's direction and the offset in the control hold for this part too.", p.Len(most))
		return o
	}
	sp.Page = func(v fold.View) fold.Page {
		return fold.Page{Why: "The mounting outlives one part; a few touches prove it.",
			Act:     "Touch the length, the " + thing + " by the fewest readings and the floor once.",
			Read:    "Machine position at contact.",
			Caution: "SPINDLE STOPPED, its command off, before the probe goes in.", Scene: kit.Scene(p, v, nil)}
	}
	return sp
}

// nextCentre is the first target's centre by the fewest readings: of a probe two hits, its size being known.
func nextCentre(p *fold.Plan, v fold.View) (frame.Vec, bool) {
	first, _ := kit.Targets(p)
	b, ok := v.Was("bore")
	if _, probing := kit.Finder(p).(kit.Prober); !probing {
		at, _, read := cross(p, v, first)
		return at, read
	}
	if !ok || len(b.Value) < 3 {
		return frame.Vec{}, false
	}
	half := b.Value[2]/2 - kit.BallRadius(p, v)
	if first.Outside() {
		half += 2 * kit.BallRadius(p, v)
	}
	return frame.Vec{X: v.Len("f0") - half, Y: v.Len("f90") - half}, v.Has("f0") && v.Has("f90")
}
