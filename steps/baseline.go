package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// baseline reads the witness set while the straps hold the part: what the swap to screws is held against.
func baseline(p *Plan) *Spec {
	return &Spec{
		Title: "witness baseline", Live: []FactID{"seat"}, AsRead: append(append([]FactID{}, p.finder().stands()...), "clamps"), Seen: []FactID{"offset", "bore", "floor", p.zDatum()}, Makes: []FactID{"baseline"},
		Asks: func(v View) []Ask { return p.setAsks(v, nil, witnessRepeats, false) },
		Judge: func(v View) Outcome {
			var o Outcome
			s := p.readSet(v, false)
			p.repeatCheck(s, &o)
			p.stillThere(v, s, &o)
			f := p.baselineFact(s)
			o.Facts = []Fact{f}
			o.Lines = append(o.Lines, Row{Label: "scatter of a touch", Value: s.spread.S, Unit: unit.KLength, Big: true})
			for i, sp := range p.spots() {
				o.Lines = append(o.Lines, Row{Label: sp.label + ", from the fixture", Value: f.Value[3+i], Unit: unit.KLength, Signed: true})
			}
			o.Learned = fmt.Sprintf("A touch repeats within %s: enough to see a move of %s.", p.len(s.spread.S), p.len(4.5*s.spread.S))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "Only what is read before the swap can show what the swap moved.",
				Act:     "Read the witness set: fixture first, then the part, each twice.",
				Read:    "Machine position at contact, all with one mounting of the instrument.",
				Caution: "SPINDLE STOPPED, its command off. Keep the stylus clear of the straps.",
				Scene:   p.scene(v, p.spotMarks(v, false))}
		},
	}
}

// stillThere holds the fixture's own witness against its bore and floor as they were
// read, while the probe was not taken out in between: has the fixture moved unseen?
func (p *Plan) stillThere(v View, s witnessSet, o *Outcome) {
	fail := func(c *Check, words string) {
		if c.Verdict == Fail {
			c.Words = words + " since it was read: the fixture was tapped or has crept."
			o.Named = "tapped-after-bore"
			o.Next = append(o.Next, Act{Do: "declare", Of: "fixture-tapped", Words: c.Words + " Straps off, part out, try the fixture's bolts; then declare it tapped."})
		}
		o.Checks = append(o.Checks, *c)
	}
	b, ok := v.Fact("bore")
	if ok && p.instrumentStands(v) {
		at, _ := p.corrected(v, frame.Vec{X: s.ref.X, Y: s.ref.Y})
		d := at.Sub(frame.Vec{X: b.Value[0], Y: b.Value[1]}).Len()
		c := Judged(p.Limit("check.bore"), d, 0)
		fail(&c, fmt.Sprintf("The fixture's %s has moved by %s", p.locator(), p.len(d)))
	}
	fl, ok1 := v.Fact("floor")
	if l, ok2 := v.Fact(p.zDatum()); ok1 && ok2 && len(fl.Value) > 3 {
		d := math.Abs(s.ref.Z - l.Value[0] - p.rimWas(fl, p.rim()[0]))
		c := Judged(p.rimLimit(), d, 0)
		if c.Verdict == Fail {
			c.Words = fmt.Sprintf("The fixture's rim stands %s from where it stood: the spindle has grown, or the fixture has moved.", p.len(d))
			if len(o.Next) == 0 {
				o.Next = append(o.Next, Act{Do: "declare", Of: "temperature-moved", Words: c.Words + " Declare the temperature moved: bore and rim are checked."})
			}
		}
		o.Checks = append(o.Checks, c)
	}
}

// instrumentStands says that what the finder's readings rest on is as it was when the bore was read.
func (p *Plan) instrumentStands(v View) bool {
	for _, f := range p.finder().stands() {
		if _, ok := v.Fact(f); !ok {
			return false
		}
	}
	return true
}
