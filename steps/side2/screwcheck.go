package side2

import (
	"fmt"

	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// screwCheck looks at the paint lines and tries every screw.
func screwCheck(p *fold.Plan) *fold.Spec {
	n := fmt.Sprint(len(p.Setup.Screws.At))
	at := fold.StepID("unstrap")
	if p.Setup.HoldDown == "S" {
		at = "deck"
	}
	return &fold.Spec{
		Title: "screws check", Recheck: &fold.Recheck{Before: at, Lifts: []fold.FactID{"screws"}},
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{{Field: "lines", Label: "paint lines unbroken across head and part", Kind: fold.Count,
				What: fold.What{By: "eye", Of: "paint-lines"}, Want: n, WantWhy: "A turned line is a screw that has let go.",
				Hint: "Take the screws again, all of them, in order."},
				kit.Counted("turned", "screws that turned by 5 deg or more at their working torque", "screws", "turned", "0", "It had let go.",
					"Take the screws again, all of them, in order."),
				kit.Counted("soft", "screws that went soft", "soft-screws", "", "0", "A soft screw holds nothing.", "Mend or retire its thread.")}
		},
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Learned: fmt.Sprintf("All %s screws hold as they did.", n)}
			if v.Int("soft") > 0 {
				o.Named = "soft-thread"
			}
			if v.Int("soft") > 0 || v.Int("turned") > 0 || fmt.Sprint(v.Int("lines")) != n {
				o.Next = []fold.Act{{Do: "look", Of: "screws", Words: "Take all screws again in order; the shift test follows."}}
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A screw that let go is found here, or by the cutter.",
				Act:  "Look at every paint line, then pull every screw to its working torque.",
				Read: "Counts, as seen.", Caution: "SPINDLE STOPPED. Pull to the working torque and no farther.", Scene: kit.Scene(p, v, nil)}
		},
	}
}
