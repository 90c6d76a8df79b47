package steps

import (
	"fmt"
	"math"
)

// lifting reads the heights again: did drilling lift the part?
func lifting(p *Plan) *Spec {
	return &Spec{
		Title: "lifted by drilling?", Live: []FactID{"holes"}, AsRead: []FactID{"baseline"}, Lifts: []FactID{"seat"}, Makes: []FactID{"lifted"},
		Asks: func(v View) []Ask {
			b, ok := v.Fact("baseline")
			if !ok {
				return p.setAsks(v, nil, 1, true)
			}
			return p.setAsks(v, &b, 1, true)
		},
		Judge: func(v View) Outcome {
			var o Outcome
			b, _ := v.Fact("baseline")
			s := p.readSet(v, true)
			p.repeatCheck(s, &o)
			m, err := p.moved(b, s, true)
			if err != nil {
				return p.cannot("lift", err, o)
			}
			most := 0.0
			for _, w := range m.Shifts {
				if math.Abs(w.D) > math.Abs(most) {
					most = w.D
				}
			}
			c := Judged(p.Limit("lift"), math.Abs(most), 0)
			if c.Verdict == Fail {
				c.Words = "Drilling lifted the part. " + p.whatRose(m)
				o.Named = "lifted-by-drilling"
				o.Next = append(o.Next, Act{Do: "reopen", Of: "seat", Words: "Straps off, part out, wipe burrs and chips from its underside and from the floor. Seat it again: seat, straps and baseline are read anew."})
			}
			o.Checks = append(o.Checks, c)
			o.Lines = p.motionLines(m, true)
			o.Facts = []Fact{{ID: "lifted"}}
			o.Learned = fmt.Sprintf("Against the fixture's rim the part's top moved by at most %s.", p.len(math.Abs(most)))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "Exit burrs and chips jack the part off its floor; the screws would hold it there.",
				Act:     "Probe in again. Touch the rim, then the four places on the top.",
				Read:    "Machine Z at the trigger.",
				Caution: "Spindle command off before the probe goes in. Brush chips, no air blow toward the face.",
				Scene:   p.scene(v, p.spotMarks(v, true))}
		},
	}
}

// cannot is an outcome of readings that can't be computed.
func (p *Plan) cannot(id string, err error, o Outcome) Outcome {
	o.Checks = append(o.Checks, Check{Limit: Limit{ID: id + ".set", Why: "the witnesses fix a motion", Class: Never}, Count: true, Verdict: Fail, Words: err.Error() + "."})
	o.Next = append(o.Next, Act{Do: "round", Words: "Read the witness set again: " + err.Error() + "."})
	return o
}
