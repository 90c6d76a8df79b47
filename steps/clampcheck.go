package steps

import (
	"fmt"
)

// clampCheck tries every clamp nut.
func clampCheck(p *Plan) *Spec {
	n := fmt.Sprint(len(p.Setup.Clamps))
	return &Spec{
		Title: "clamps check", At: "baseline", Lifts: []FactID{"clamps"},
		Asks: func(View) []Ask {
			return []Ask{counted("on", "clamps on the part", "clamps", "on", n, "The job has "+n+".", "Strap the part again."),
				counted("turned", "clamp nuts that turned when tried", "clamps", "turned", "0", "A nut that turns was not holding.", "Strap the part again.")}
		},
		Judge: func(v View) Outcome {
			o := Outcome{Learned: fmt.Sprintf("All %d clamps hold.", v.Int("on"))}
			if v.Int("turned") != 0 || fmt.Sprint(v.Int("on")) != n {
				o.Next = []Act{{Do: "declare", Of: "clamp-moved", Words: "Declare the clamp as moved: the witness set, then strap again."}}
			}
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "A loose strap lets the drill lift the part.", Act: "Try each clamp nut with the wrench.",
				Read: "Count what is on, and what turned.", Caution: "SPINDLE STOPPED. Wrench off the table afterwards.", Scene: p.scene(v, nil)}
		},
	}
}
