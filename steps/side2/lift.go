package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/witness"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// wipeUnder is the act after something came under a strapped part.
const wipeUnder = "Straps off, part out, wipe burrs and chips from its underside and from the floor. Seat it again: seat, straps and " +
	"baseline are read anew."

// lifting reads the heights again: did drilling lift the part?
func lifting(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title:   "lifted by drilling?",
		Needs:   fold.Needs(fold.AsRead(facts.AMounting), fold.Live("holes"), fold.AsRead("baseline"), fold.Remembered("floor", kit.ZDatum(p))),
		Recheck: &fold.Recheck{Lifts: []fold.FactID{"seat"}}, Makes: []fold.FactID{"lifted"},
		Asks: func(v fold.View) []fold.Ask {
			b, ok := facts.Baseline.In(v)
			if !ok {
				return setAsks(p, v, nil, 1, true)
			}
			return setAsks(p, v, &b, 1, true)
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			b, _ := facts.Baseline.In(v)
			s := readSet(p, v, true)
			repeatCheck(p, s, &o)
			m, err := moved(p, b, s, witness.Heights)
			if err != nil {
				return kit.Cannot(p, "lift", err, o)
			}
			most := witness.Lifted(m).D
			c := judge.Of(p.Limit("lift"), math.Abs(most), 0)
			if c.Verdict == fold.Fail {
				c.Words = "Drilling lifted the part. " + whatRose(m)
				o.Named = "lifted-by-drilling"
				o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "seat", Words: wipeUnder})
			}
			o.Checks = append(o.Checks, c)
			o.Lines = motionLines(p, m, true)
			o.Facts = []fold.Known{{ID: "lifted"}}
			o.Learned = fmt.Sprintf("Against the fixture's rim the part's top moved by at most %s.", p.Len(math.Abs(most)))
			return o
		},
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "Exit burrs and chips jack the part off its floor; the screws would hold it there.",
				Act:     "Probe in again. Touch the rim, then the four places on the top.",
				Read:    kit.ReadZ(p),
				Caution: "Spindle command off before the probe goes in. Brush chips, no air blow toward the face.",
				Scene:   kit.Scene(p, v, spotMarks(p, v, true))}
			if !kit.Probes(p) {
				pg.Act = "The tool that touched the floor in again. Touch the rim, then the four places on the top."
				pg.Caution = "SPINDLE STOPPED, its command off. Brush chips, no air blow toward the face."
			}
			return pg
		},
	}
}
