package steps

import (
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
)

// seatCheck reads the witness set against the first baseline, so that small moves can't add up unseen.
func seatCheck(p *Plan) *Spec {
	limit := func() Limit { return p.Limit("check.seat") }
	at := StepID("straps")
	if p.Setup.HoldDown == "S" {
		at = "deck"
	}
	return &Spec{
		Title: "part on fixture check", At: at, Against: []FactID{"baseline"}, Sees: []FactID{"skimmed"}, Lifts: []FactID{"seat", "baseline", "shift"}, Seen: []FactID{"bore", "offset", "ball"},
		Asks: func(v View) []Ask {
			b, ok := v.Was("baseline")
			if !ok {
				return p.setAsks(v, nil, witnessRepeats, false)
			}
			return p.setAsks(v, &b, p.setRepeats(v, b, limit()), false)
		},
		Judge: func(v View) Outcome {
			var o Outcome
			b, _ := v.Was("baseline")
			s := p.readSet(v, false)
			m, err := p.moved(b, s, false)
			if err != nil {
				return p.cannot("check", err, o)
			}
			p.repeatCheck(s, &o)
			c, words := p.weighMotion(limit(), m)
			o.Checks = append(o.Checks, c)
			rise := 0.0
			for i, sp := range p.spots() {
				if sp.axis == fit.AxisZ {
					rise = math.Max(rise, math.Abs(m.Shifts[i].D))
				}
			}
			if !v.Standing("skimmed") { // after the skim a top witness may be cut away
				l := p.Limit("check.floor")
				l.ID, l.Why = "check.height", "height of the part's top as in the baseline"
				k := Judged(l, rise, 0)
				if k.Verdict == Fail {
					k.Words = "The part does not lie as it did. " + p.whatRose(m)
				}
				o.Checks = append(o.Checks, k)
				if k.Verdict == Fail && c.Verdict == Pass {
					o.Named = "bumped-part"
					o.Next = append(o.Next, Act{Do: "reopen", Of: "seat", Words: k.Words + " Lift it, wipe, seat it again."})
				}
			}
			switch c.Verdict {
			case Fail:
				o.Named = "bumped-part"
				o.Next = append(o.Next, Act{Do: "reopen", Of: "seat", Words: "Lift the part, wipe, seat it again: the walk goes on from the seat."})
			case NotProven:
				if m.AnyReal() {
					o.Named = "bumped-part"
				}
				o.Next = append(o.Next, p.undecided(v, "Or accept it by typing the number."))
			}
			p.nameWitness(m, &o)
			o.Lines = append([]Row{{Label: "moved at the worst feature", Value: c.Got, Guard: c.Guard, Unit: unit.KLength, Big: true, Verdict: c.Verdict}}, p.motionLines(m, false)...)
			o.Learned = words
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "A bump is cheap to own up to: a minute here proves that nothing moved, or shows what did.",
				Act:     "Read the witness set: fixture first, then the part, each twice.",
				Read:    "Machine position at the trigger, all in one probe mounting.",
				Caution: "SPINDLE STOPPED, its command off. Keep the stylus clear of clamps and heads.", Scene: p.scene(v, p.spotMarks(v, false))}
		},
	}
}
