package side2

import (
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/witness"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// seatCheck reads the witness set against the first baseline, so that small moves can't add up unseen.
func seatCheck(p *fold.Plan) *fold.Spec {
	at := fold.StepID("straps")
	if strapless(p) {
		at = "deck"
	}
	return &fold.Spec{
		Title: "part on fixture check", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.IfThere("bore", "offset", "ball"),
			fold.Whether("skimmed")), Recheck: &fold.Recheck{Before: at, Lifts: []fold.FactID{"seat", "baseline", "shift"},
			Against: []fold.FactID{"baseline"}},
		Asks: func(v fold.View) []fold.Ask {
			b, ok := facts.Baseline.Was(v)
			return asksAgain(p, v, b, ok, p.Limit("check.seat"))
		},
		Judge: func(v fold.View) fold.Outcome { return judgeSeatCheck(p, v) },
		Page: func(v fold.View) fold.Page {
			read := "Machine position at the trigger, all in one probe mounting."
			if !kit.Probes(p) {
				read = kit.ReadZ(p)
			}
			return fold.Page{Why: "A bump is cheap to own up to. A minute here proves that nothing moved, or shows what did.",
				Act:     "Read the witness set: fixture first, then the part, each twice.",
				Read:    read,
				Caution: "SPINDLE STOPPED, its command off. Keep the stylus clear of clamps and heads.", Scene: kit.Scene(p, v, spotMarks(p, v, false))}
		},
	}
}

// judgeSeatCheck holds the motion since the first baseline against its limit.
func judgeSeatCheck(p *fold.Plan, v fold.View) fold.Outcome {
	b, _ := facts.Baseline.Was(v)
	m, c, o, err := readAgain(p, v, b, p.Limit("check.seat"), 0)
	if err != nil {
		return kit.Cannot(p, "check", err, o)
	}
	if !v.Standing("skimmed") { // after the skim a top witness may be cut away
		seatHeight(p, m, c, &o)
	}
	switch c.Verdict {
	case fold.Fail:
		o.Named = "bumped-part"
		o.Next = append(
			o.Next, fold.Act{Do: "reopen", Of: "seat", Words: "Lift the part, wipe, seat it again: the walk goes on from the seat."})
	case fold.NotProven:
		if m.AnyReal() {
			o.Named = "bumped-part"
		}
		o.Next = append(o.Next, undecided(p, v, "Or accept it by typing the number."))
	}
	nameWitness(p, m, &o)
	o.Lines = append(o.Lines, motionLines(p, m, false)...)
	return o
}

// seatHeight holds the height of the part against the baseline; c is what its motion came to.
func seatHeight(p *fold.Plan, m fit.Motion, c fold.Check, o *fold.Outcome) {
	l := p.Limit("check.floor")
	l.ID, l.Why = "check.height", "height of the part's top as in the baseline"
	k := judge.Of(l, math.Abs(witness.Lifted(m).D), 0)
	if k.Verdict == fold.Fail {
		k.Words = "The part does not lie as it did. " + whatRose(m)
	}
	o.Checks = append(o.Checks, k)
	if k.Verdict == fold.Fail && c.Verdict == fold.Pass {
		o.Named = "bumped-part"
		o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "seat", Words: k.Words + " Lift it, wipe, seat it again."})
	}
}
