package checks

import (
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// HoldCheck looks at what holds the part after something happened, at what its first load shows; same is what is learned when it does.
func HoldCheck(p *fold.Plan, title, same string, l kit.Load) *fold.Spec {
	return &fold.Spec{
		Title: title, Recheck: &fold.Recheck{Before: "deck", Lifts: []fold.FactID{l.Screws}},
		Asks: func(fold.View) []fold.Ask { return l.Asks },
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Learned: same}
			l.Slips(v, &o)
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "What let go is found here, or by the cutter.", Act: "Look at what holds the part.", Read: l.Read,
				Caution: "SPINDLE STOPPED before a hand goes near.", Scene: kit.Scene(p, v, nil)}
		},
	}
}
