package checks

import (
	"slices"

	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
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
				asks[0].Do = []fold.Act{{Do: "look", Of: "offset", Words: "Open the offset page of the control and read " + p.Setup.Offset +
					" from there."}}
				if lost(v, facts.OffsetShifted) {
					asks[0].Do = append([]fold.Act{{Do: "look", Of: "offset", Words: "Key the offset in again as it was computed: X, Y and Z. The " +
						"witness cut may have shifted it."}}, asks[0].Do...)
				}
				if rotationEnded(v) {
					asks[0].Do = append([]fold.Act{rotationAct(p, f, "Key in again: rotation")}, asks[0].Do...)
				}
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
			pg := fold.Page{Why: "What the control believes is what it will do.",
				Act:   "Read the offset from the control's own page.",
				Read:  PageRead(p),
				After: desk.JogOver(p, v, "part zero"), Scene: lying(p, v)}
			if rotationEnded(v) {
				pg.Why = "The program's end cancelled the rotation. Without it the part is cut turned."
				pg.Act, pg.Now = "Key the rotation in again. Then read the whole offset back.", true
			}
			return pg
		},
	}
}

// rotationEnded says that the program of the part before took the rotation with it.
func rotationEnded(v fold.View) bool { return lost(v, facts.RotationEnded) }

func lost(v fold.View, id fold.MishapID) bool {
	return slices.ContainsFunc(v.Lost, func(h fold.Happened) bool { return h.ID == id })
}
