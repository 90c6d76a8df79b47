package checks

import (
	"fmt"
	"math"

	"fliptrue/calc/batch"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// WarmLimits are those of a spindle that still grows.
var WarmLimits = []fold.LimitRow{
	{ID: "warm.grows", Why: "spindle still to grow, down", How: "0.1 of the thickness allowance", Class: fold.Soft, Unit: unit.KLength, Max: judge.ThickShare(0.1)},
}

// WarmUp asks how long the spindle has run before lengths are taken: what it still grows is in every height after them. Done by
// choice: the height of the first cut is measured all the same.
func WarmUp(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "warm-up", Makes: []fold.FactID{facts.Warmed.ID}, Recheck: &fold.Recheck{Before: "lengths"},
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{{Field: "minutes", Label: "minutes that the spindle has run at cutting speed", Kind: fold.Reading, Unit: unit.Scalar,
				What: fold.What{By: "clock", Of: "spindle", Dir: "warm"}, Window: kit.Around(30, 30, "half an hour"),
				Do: []fold.Act{{Do: "wait", Of: "spindle", Words: "A cutter in the spindle, never the probe. Door shut. Run it at cutting speed for " +
					"30 min."}}}}
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			m, _ := v.Num("minutes", unit.Scalar)
			left, err := batch.StillGrows(m)
			if err != nil {
				kit.Refuse(&o, "warm.minutes", "minutes of warming up", err)
				return o
			}
			c := judge.Most(p.Limit("warm.grows"), left, 0)
			if c.Verdict != fold.Pass {
				more := batch.SpindleTau*math.Log(batch.SpindleGrows/c.Limit.Max) - m
				c.Words = fmt.Sprintf("It still grows by %s: every depth becomes that much too deep.", p.Len(left))
				o.Next = []fold.Act{{Do: "wait", Of: "spindle", Words: fmt.Sprintf("%s Run it %.0f min more, door shut.", c.Words, math.Ceil(more))},
					{Do: "again", Of: "minutes"}}
			}
			o.Checks = []fold.Check{c}
			o.Facts = []fold.Known{facts.Warmed.Is(facts.WarmedFact{Left: unit.Length(left)})}
			o.Lines = []fold.Row{{Label: "still to grow", Value: left, Unit: unit.KLength, Big: true, Verdict: c.Verdict}}
			o.Notes = []string{"Growth 0.02 mm in all, two thirds of it in 12 min: an estimate. Replace it by your machine's own."}
			o.Learned = fmt.Sprintf("The spindle has %s still to grow.", p.Len(left))
			return o
		},
		Page: func(fold.View) fold.Page {
			return fold.Page{Why: "A cold spindle grows while it cuts, and cuts deeper.", Act: "Run the spindle warm before any length is taken.",
				Read: "The clock.", Caution: "Door shut, hands out. The probe is not in the spindle."}
		},
	}
}

// Deburr counts what jacks a part up in its pocket before it is seated. Done by choice: rock and strips find it later.
func Deburr(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "deburr and clean", Makes: []fold.FactID{facts.Clean.ID}, Recheck: &fold.Recheck{Before: "seat"},
		Asks: func(fold.View) []fold.Ask {
			burrs := kit.Counted("burrs", "burrs that a fingernail finds along the seat edge", "seat-edge", "burrs", "0",
				"A burr jacks the part up like a chip.", "Take it off with a fine stone, away from the seat face.")
			burrs.Do = []fold.Act{{Do: "measure", Of: "part", Words: "Deburr all edges, blade away from the hand. Wipe part and pocket."}}
			return []fold.Ask{burrs, kit.Counted("fibres", "fibres that a cotton bud leaves on edges and pocket", "seat-edge", "fibres", "0",
				"Where it catches, an edge stands up.", "Stone it once more, wipe again.")}
		},
		Judge: func(fold.View) fold.Outcome {
			return fold.Outcome{Facts: []fold.Known{{ID: facts.Clean.ID}}, Learned: "No burr and no chip under the part."}
		},
		Page: func(fold.View) fold.Page {
			return fold.Page{Why: "Burr and chip are one mistake: the part stands on it.",
				Act:     "Deburr and clean before the part goes in; count what is left.",
				Read:    "Fingernail along the edge, cotton bud along edges and pocket.",
				Caution: "Deburring blade away from the hand. No compressed air: chips go into eyes and under the part."}
		},
	}
}
