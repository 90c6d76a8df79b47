package inspect

import (
	"fmt"

	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// benched brings the part to the bench: deburred, as warm as the shop, lying as everything that follows counts it.
func benched(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "part on the bench", Needs: fold.AsRead(facts.Stood.ID), Makes: []fold.FactID{facts.Benched.ID},
		Asks: func(fold.View) []fold.Ask { return benchAsks(p) },
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			t, _ := v.Num("part", unit.KTemperature)
			shop, _ := v.Num("shop", unit.KTemperature)
			c := judge.Off(p.Limit("inspect.warm"), t, shop, 0)
			if c.Verdict != fold.Pass {
				c.Words = fmt.Sprintf("The part is %s the shop: it measures as long as it will not stay.", kit.Warmth(p, t-shop))
				o.Named = "part-hot"
				o.Next = []fold.Act{{Do: "wait", Of: "part", Words: "Leave it on the bench, air all round; measure nothing until then."},
					{Do: "again", Of: "part"}}
			}
			o.Checks = []fold.Check{c}
			rh, _ := v.Num("rh", unit.Scalar)
			o.Facts = []fold.Known{facts.Benched.Is(facts.BenchedFact{C: t, Shop: shop, RH: rh})}
			o.Learned = fmt.Sprintf("The part is %s the shop.", kit.Warmth(p, t-shop))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A burr is a step. A warm part is a large part.",
				Act:     "Deburr the part, let it cool, lay it down: side 2 up, arrow toward you.",
				Read:    "Temperature of the part, then of the bench beside it.",
				Caution: "Deburring blade away from the hand. Dust: mask and extraction.", Scene: drawn(p, nil)}
		},
	}
}

func benchAsks(p *fold.Plan) []fold.Ask {
	warm := func(field, label, of string) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KTemperature, Bare: kit.BareTemperature(p),
			What: fold.What{By: "thermometer", Of: of}, Window: kit.Around(20, 15, "a shop")}
	}
	burrs := kit.Counted("burrs", "burrs that a fingernail finds along the parting line", "burrs", "", "0", "A burr is read as a step.",
		"Take it off with a fine stone, not over the line.")
	burrs.Do = []fold.Act{{Do: "measure", Of: "part", Words: "Deburr all edges, blade away from the hand; wipe the part."}}
	up := fold.Ask{Field: "lies", Label: "side 2 up, arrow toward you", Kind: fold.Choice, Options: []string{yes, no},
		What: fold.What{By: "eye", Of: "part", Dir: "lies"}, Want: yes,
		WantWhy: "All places and signs count from there.", Hint: "Lay it so; turn no sign in your head."}
	return []fold.Ask{burrs, up, warm("part", "temperature of the part", "part"),
		warm("shop", "temperature of the bench beside it", "fixture"),
		{Field: "rh", Label: "humidity of the shop, percent", Kind: fold.Reading, Unit: unit.Scalar, What: fold.What{By: "hygrometer", Of: "air"}, Window: kit.Around(50, 45, "a shop"), Optional: true}}
}

const yes, no = "yes", "no"
