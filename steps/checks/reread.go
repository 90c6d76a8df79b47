package checks

import (
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// Reread reads the control's offset page once more, blind. It makes only the echo.
func Reread(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "offset page again", Needs: fold.Live("offset"), Recheck: &fold.Recheck{Before: "program"}, Makes: []fold.FactID{"echo"},
		Asks: func(v fold.View) []fold.Ask {
			if f, ok := v.Fact("offset"); ok {
				asks := EchoAsks(p, v, f)
				for i := range asks {
					asks[i].Do = nil
				}
				asks[0].Do = []fold.Act{{Do: "look", Of: "offset", Words: "Open the offset page of the control and read " + p.Setup.Offset + " from there."}}
				return asks
			}
			return nil
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			if f, ok := v.Fact("offset"); ok {
				EchoChecks(p, v, f, &o)
				o.Facts = []fold.Known{{ID: "echo"}}
				o.Learned = "The control still holds the offset."
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "What the control believes is what it will do.",
				Act:   "Read the offset from the control's own page.",
				Read:  PageRead(p),
				After: desk.JogOver(p, v.Standing, "part zero"), Scene: kit.Scene(p, v, nil)}
		},
	}
}
