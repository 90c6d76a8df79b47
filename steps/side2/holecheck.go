package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// holeCheck drops a pin through every hole into the fixture and takes the first hole's depth again.
func holeCheck(p *fold.Plan) *fold.Spec {
	n := fmt.Sprint(len(p.Setup.Screws.At))
	at := fold.StepID("threads")
	deep := p.Setup.HoldDown != "S"
	if !deep {
		at = "screws"
	}
	tool, drilled := desk.OpeningDrill(p)
	deep = deep && drilled
	return &fold.Spec{
		Title: "holes check", Recheck: &fold.Recheck{Before: at, Lifts: []fold.FactID{"holes"}},
		Asks: func(fold.View) []fold.Ask {
			asks := []fold.Ask{kit.Counted("pins", "holes a pin drops through; a screw that is in counts", "holes", "pass", n,
				"A hole where it stops is off, or full.", "Clear the chips; if it still stops, look for what moved.")}
			if deep {
				asks = append(asks, fold.Ask{Field: "depth", Label: "first hole: depth below the seat plane", Kind: fold.Reading, Unit: unit.KLength,
					What: fold.What{By: "drill", Of: "hole/1", Dir: "depth"}, Window: kit.Around(desk.TipBelowSeat(tool), 0.5, "as drilled")})
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			if deep {
				c := judge.Of(p.Limit("check.depth"), math.Abs(v.Len("depth")-desk.TipBelowSeat(tool)), 0)
				if c.Verdict == fold.Fail {
					c.Words = "The hole has not its depth: chips in it, or a tool that was pulled."
					o.Next = append(o.Next, fold.Act{Do: "round", Words: c.Words + " Clear it and measure again."})
				}
				o.Checks = append(o.Checks, c)
			}
			if fmt.Sprint(v.Int("pins")) != n && len(o.Next) == 0 {
				o.Next = append(o.Next, fold.Act{Do: "again", Of: "pins", Words: "Clear the chips and try again; a hole that stays off is drilled " +
					"again with the offset proven."})
			}
			o.Learned = "Every hole still meets the fixture's."
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A hole off its thread pulls the part sideways.", Act: "Drop a pin of the hole's size through every hole.",
				Read: "How many go through by their own weight.", Caution: "SPINDLE STOPPED. Brush, not fingers.", Scene: kit.Scene(p, v, nil)}
		},
	}
}
