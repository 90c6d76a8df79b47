package jaws

import (
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// after is what shows that the jaws still hold under load.
func after(p *fold.Plan) kit.Load {
	firm := func(field string) fold.Ask {
		return fold.Ask{Field: field, Label: "handle at its mark, part where it was", Kind: fold.Choice, Options: []string{yes, no},
			What: fold.What{By: "eye", Of: "jaws", Dir: "firm"}, Want: yes,
			WantWhy: "A screw that slackens lets the part go.", Hint: "Stop. No cut before it is closed and proven again."}
	}
	strips := fold.Ask{Field: "corners", Label: "strips that pull out under it, of 4 corners", Kind: fold.Count,
		What: fold.What{By: "feeler", Of: "part", Dir: "corners"}, Want: "0",
		WantWhy: "A corner has lifted out of its nest.", Hint: "Stop. Seat and close it again."}
	lost := func(v fold.View) bool { return v.Int("corners") > 0 || fold.SameAnswer(v.Text("firm"), no) }
	return kit.Load{
		Holds: []fold.FactID{held}, Screws: held, Asks: []fold.Ask{firm("firm"), strips}, Through: firm(""), Wrong: lost,
		Slips: func(v fold.View, o *fold.Outcome) {
			if lost(v) {
				o.Named = "jaws-slack"
				o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "close", Words: "Stop here. Wipe, seat it, close to the mark with the dials on it."})
			}
		},
		Try: "look at the handle's mark and the corners.", Read: "The mark; strips counted.",
		Why:  "The first load shows a grip that only looked firm, while little is at stake.",
		Held: "The jaws held under the first load.", Stopped: "The jaws still hold. Look again every 15 min: fliptrue is done here.",
	}
}

// holdCheck looks at the jaws after something happened.
func holdCheck(p *fold.Plan) *fold.Spec {
	return checks.HoldCheck(p, "jaws check", "The jaws hold as they did.", after(p))
}

// partOut opens the jaws and lifts the part out.
func partOut(p *fold.Plan) *fold.Spec {
	return checks.PartOut(p, checks.PartOutWords{In: "nest", Next: "the jaws are",
		Do: []fold.Act{{Do: "remove", Of: "part",
			Words: "Raise the head, door open. One hand on the part, open the jaws, lift it out level."}},
		Learned: "The nest is bare. Wipe nest and part before it goes in again.",
		Why:     "The floor can't be touched through the part.", Act: "Take the part out of its nest.", Read: "What is seen.",
		Caution: "SPINDLE STOPPED, its command off. The last turn lets the part go: one hand on it."})
}
