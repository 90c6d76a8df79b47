package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// next proves that bore and floor are where they were for the part before.
func next(p *Plan) *Spec {
	first, _ := p.targets()
	thing := first.name
	q := p.floorPoints()[4]
	lifts := []FactID{"identity", "skew", "bore", "floor"}
	sp := &Spec{Title: "next blank", At: "mount", Lifts: append(lifts, p.lengthFacts()...), Makes: []FactID{"drift"}}
	probe := p.Job.Machine.Probe != nil
	_, probing := p.finder().(prober)
	sp.AsRead = p.finder().stands()
	if probe {
		sp.May = []FactID{"length/probe"}
	}
	// length in force for the touch on the floor.
	length := func(v View) (float64, bool) {
		if l, ok := v.Num("probe", unit.KLength); ok && probe {
			return l, true
		}
		l, ok := v.Was(p.zDatum())
		if !ok || len(l.Value) == 0 {
			return 0, false
		}
		return l.Value[0], true
	}
	z, _ := p.partZero()
	floorAt := func(f Fact) float64 { return f.Value[0] + f.Value[1]*(q.X-z.X) + f.Value[2]*(q.Y-z.Y) }
	sp.Asks = func(v View) []Ask {
		asks := []Ask{{Field: "since", Label: "since the part before", Kind: Choice, Options: []string{"nothing happened", "something happened"}, What: What{By: "eye", Of: "fixture", Dir: "since"}, Want: "nothing happened",
			WantWhy: "Then nothing is taken over.", Hint: "Begin at the fixture, as for the first part.", Do: []Act{{Do: "remove", Of: "part", Words: "Part out, screws out. Vacuum and wipe pocket, trench and " + thing + "."}}}}
		if probe {
			a := Ask{Field: "probe", Label: "probe touched on the tools' reference: length", Kind: Reading, Unit: unit.KLength, What: What{By: "touch", Of: "tool/probe", Dir: "length"}, Do: []Act{{Do: "fit", Of: "probe", Words: "Probe in, spindle mark to the front. Its length first."}}}
			if l, ok := v.Was("length/probe"); ok && len(l.Value) > 0 {
				a.Window = around(l.Value[0], 0.1, "as before")
			}
			asks = append(asks, a)
		}
		if _, ok := v.Was("bore"); ok {
			for _, a := range p.crossAsks(v, first) {
				if !probing || a.Field == quarters[0].field || a.Field == quarters[1].field {
					asks = append(asks, a)
				}
			}
		}
		if f, ok := v.Was("floor"); ok && len(f.Value) > 3 {
			a := Ask{Field: "z", Label: "bare floor, middle", Kind: Reading, Unit: unit.KLength, What: What{By: p.touchBy(), Of: "floor@" + place(q.X) + "," + place(q.Y), Dir: "z-", Axis: "z"}, Window: p.travelWindow("z")}
			if l, ok := length(v); ok {
				a.Window = around(floorAt(f)+l, 0.3, "as before")
			}
			asks = append(asks, a)
		}
		return asks
	}
	sp.Judge = func(v View) Outcome {
		var o Outcome
		l := p.Limit("next.bore")
		if probe { // every walk takes the probe out: its place in the collet is in the difference
			l.Max *= 2
		}
		most := 0.0
		weigh := func(id, why string, d float64) {
			k := l
			k.ID, k.Why = id, why
			c := Judged(k, math.Abs(d), 0)
			if most = math.Max(most, c.Got); c.Verdict == Fail {
				c.Words = fmt.Sprintf("%s: it differs by %s. Nothing is taken over; begin at the fixture.", why, p.len(c.Got))
				o.Named = "fixture-moved"
				o.Next = append(o.Next, Act{Do: "look", Of: "fixture", Words: "Wipe and touch once more; if it stays, begin at the fixture."})
			}
			o.Checks = append(o.Checks, c)
		}
		if b, ok := v.Was("bore"); ok && len(b.Value) > 2 {
			raw, _, _ := p.cross(v, first)
			if probing { // two hits: the size is known
				half := b.Value[2]/2 - p.ballRadius(v)
				if first.outside() {
					half += 2 * p.ballRadius(v)
				}
				raw = frame.Vec{X: v.Len("f0") - half, Y: v.Len("f90") - half}
			}
			at, _ := p.corrected(v, raw)
			weigh("next.bore", thing+" as for the part before", at.Sub(frame.Vec{X: b.Value[0], Y: b.Value[1]}).Len())
		}
		if f, ok := v.Was("floor"); ok && len(f.Value) > 3 {
			if at, ok := length(v); ok {
				weigh("next.floor", "floor as for the part before", fit.ZOffset(v.Len("z"), at, 0)-floorAt(f))
			}
		}
		if x, ok := v.Num("probe", unit.KLength); ok {
			u := 0.005 / math.Sqrt(3)
			o.Facts = append(o.Facts, Fact{ID: "length/probe", Value: []float64{x}, Cov: [][]float64{{u * u}}})
		}
		o.Facts = append(o.Facts, Fact{ID: "drift", Value: []float64{most}})
		o.Learned = fmt.Sprintf("Bore and floor are as before within %s: the fixture's direction and the offset in the control hold for this part too.", p.len(most))
		return o
	}
	sp.Page = func(v View) Page {
		return Page{Why: "The mounting outlives one part; a few touches prove it.",
			Act:     "Touch the length, the " + thing + " by the fewest readings and the floor once.",
			Read:    "Machine position at contact.",
			Caution: "SPINDLE STOPPED, its command off, before the probe goes in.", Scene: p.scene(v, nil)}
	}
	return sp
}
