package side2

import (
	"fmt"

	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// clampCheck tries every clamp nut.
func clampCheck(p *fold.Plan) *fold.Spec {
	n := fmt.Sprint(len(p.Setup.Clamps))
	return &fold.Spec{
		Title: "clamps check", Recheck: &fold.Recheck{Before: "baseline", Lifts: []fold.FactID{"clamps"}},
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{kit.Counted("on", "clamps on the part", "clamps", "on", n, "The job has "+n+".", "Strap the part again."),
				kit.Counted("turned", "clamp nuts that turned when tried", "clamps", "turned", "0", "A nut that turns was not holding.",
					"Strap the part again.")}
		},
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Learned: fmt.Sprintf("All %d clamps hold.", v.Int("on"))}
			if v.Int("turned") != 0 || fmt.Sprint(v.Int("on")) != n {
				o.Next = []fold.Act{{Do: "declare", Of: "clamp-moved", Words: "Declare the clamp as moved: the witness set, then strap again."}}
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A loose strap lets the drill lift the part.", Act: "Try each clamp nut with the wrench.",
				Read: "Count what is on, and what turned.", Caution: "SPINDLE STOPPED. Wrench off the table afterwards.", Scene: kit.Scene(p, v, nil)}
		},
	}
}
