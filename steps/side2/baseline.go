package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// baseline reads the witness set while the straps hold the part: what the swap to screws is held against.
func baseline(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "witness baseline", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("seat"),
			fold.AsRead(append(append([]fold.FactID{}, kit.Finder(p).Stands()...), "clamps")...),
			fold.IfThere("offset", "bore", "floor", "part/thickness", kit.ZDatum(p))), Makes: []fold.FactID{"baseline"},
		Asks: func(v fold.View) []fold.Ask { return setAsks(p, v, nil, repeats(p), false) },
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			s := readSet(p, v, false)
			if posts(p) && !s.fixed { // the dials do not stand: nothing is compared with them
				return o
			}
			repeatCheck(p, s, &o)
			if !posts(p) {
				stillThere(p, v, s, &o)
			}
			if v.Walks(3) && !posts(p) {
				asSeated(p, v, s, &o)
			}
			f := baselineFact(p, s)
			o.Facts = []fold.Known{facts.Baseline.Is(f)}
			scatter := float64(f.S)
			if f.Freedom == 0 {
				scatter, _ = judge.ProbeS(p)
			}
			o.Lines = append(o.Lines, fold.Row{Label: "scatter of a touch", Value: scatter, Unit: unit.KLength, Big: true})
			for i, sp := range witnesses(p) {
				o.Lines = append(o.Lines, fold.Row{Label: sp.Label + ", from the fixture", Value: f.D[i], Unit: unit.KLength, Signed: true})
			}
			o.Learned = fmt.Sprintf("A touch repeats within %s: enough to see a move of %s.", p.Len(scatter), p.Len(4.5*scatter))
			return o
		},
		Page: func(v fold.View) fold.Page {
			if posts(p) {
				return fold.Page{Why: "Only what is read before the swap can show what the swap moved.",
					Act:     "Set four dials on the fixture against the part, all to zero.",
					Read:    postsTell(p),
					Caution: "SPINDLE STOPPED, its command off. Keep posts and dials out of the drill's way.",
					Scene:   kit.Scene(p, v, spotMarks(p, v, false))}
			}
			return fold.Page{Why: "Only what is read before the swap can show what the swap moved.",
				Act:     "Read the witness set: fixture first, then the part" + eachTwice(p) + ".",
				Read:    "Machine position at contact, all with one mounting of the instrument.",
				Caution: "SPINDLE STOPPED, its command off. Keep the stylus clear of the straps.",
				Scene:   kit.Scene(p, v, spotMarks(p, v, false))}
		},
	}
}

// postsTell says what is read of dials on posts, and what they are blind to.
func postsTell(p *fold.Plan) string {
	if p.Short() {
		return "Whether all hold their zero. They tell a move, a turn and a rise; they tell no lean."
	}
	return "Each dial as it stands. They tell a move, a turn and a rise; they tell no lean."
}

// eachTwice says so where a set is read twice.
func eachTwice(p *fold.Plan) string {
	if repeats(p) == 1 {
		return ""
	}
	return ", each twice"
}

// stillThere holds the fixture's own witness against its bore and floor as they were
// read, while the probe was not taken out in between: has the fixture moved unseen?
func stillThere(p *fold.Plan, v fold.View, s witnessSet, o *fold.Outcome) {
	fail := func(c *fold.Check, words string) {
		if c.Verdict == fold.Fail {
			c.Words = words + " since it was read. The fixture was tapped or has crept."
			o.Named = "tapped-after-bore"
			o.Next = append(o.Next, fold.Act{Do: "declare", Of: "fixture-tapped", Words: c.Words +
				" Straps off, part out, try the fixture's bolts; then declare it tapped."})
		}
		o.Checks = append(o.Checks, *c)
	}
	b, ok := facts.Bore.In(v)
	if ok && instrumentStands(p, v) {
		at, _ := corrected(p, v, frame.Vec{X: s.Fixture.X, Y: s.Fixture.Y})
		d := at.Sub(frame.Vec{X: float64(b.X), Y: float64(b.Y)}).Len()
		c := judge.Most(judge.BoreMoved(p, v.Walks(3), false), d, 0)
		fail(&c, fmt.Sprintf("The fixture's %s has moved by %s", kit.Locator(p), p.Len(d)))
	}
	fl, ok1 := facts.Floor.In(v)
	if l, ok2 := facts.Length.Of(kit.ZDatum(p).Thing()).In(v); ok1 && ok2 && fl.Rim != 0 {
		d := math.Abs(s.Fixture.Z - float64(l.L) - kit.RimWas(p, fl, kit.Rim(p)[0]))
		c := judge.Of(rimLimit(p), d, 0)
		if c.Verdict == fold.Fail {
			c.Words = fmt.Sprintf("The fixture's rim stands %s from where it stood. The spindle has grown, or the fixture has moved.", p.Len(d))
			if len(o.Next) == 0 {
				o.Next = append(o.Next, fold.Act{Do: "declare", Of: "temperature-moved", Words: c.Words +
					" Declare the temperature moved: bore and rim are checked."})
			}
		}
		o.Checks = append(o.Checks, c)
	}
}

// instrumentStands says that what the finder's readings rest on is as it was when the bore was read.
func instrumentStands(p *fold.Plan, v fold.View) bool {
	for _, f := range kit.Finder(p).Stands() {
		if _, ok := v.Fact(f); !ok {
			return false
		}
	}
	return true
}
