package side2

import (
	"slices"

	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// stops are the stop points after the release: screws while it is cut, and the control put back afterwards.
func stops(p *fold.Plan) *fold.Spec { return Stops(p, screwed(p)) }

// Stops are the stop points of a part by what holds it.
func Stops(p *fold.Plan, load kit.Load) *fold.Spec {
	shifted := p.Job.Machine.Delivers == "g92"
	return &fold.Spec{
		Title: "stop points", Needs: fold.Needs(fold.Live("release"), fold.IfThere("offset")), Makes: []fold.FactID{"stops"},
		Asks: func(v fold.View) []fold.Ask {
			asks := slices.Clone(load.Asks)
			asks[0].Do = []fold.Act{{Do: "stop", Of: "spindle", Words: "Stop the spindle once here, after 15 min or at the tool change. " +
				fold.Capital(load.Try)}}
			zero := func(field, label, of string) fold.Ask {
				return fold.Ask{Field: field, Label: label, Kind: fold.Echo, Unit: unit.KAngle, Blind: true,
					What: fold.What{By: "eye", Of: of, Dir: "x"}}
			}
			if checks.Rotates(p) {
				asks = append(asks, zero("rotation", "done cutting: rotation on the control's page, deg", "rotation-page"))
			}
			if shifted {
				for _, ax := range []string{"x", "y"} {
					a := zero("shift."+ax, "done cutting: shift page "+ax, "shift-page")
					a.Unit, a.What.Axis = unit.KLength, ax
					asks = append(asks, a)
				}
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			load.Slips(v, &o)
			for _, a := range []struct {
				field, of string
				k         unit.Kind
			}{{"rotation", "rotation", unit.KAngle}, {"shift.x", "shift", unit.KLength}, {"shift.y", "shift", unit.KLength}} {
				checks.PageZero(p, v, &o, a.field, a.of, a.k)
			}
			o.Facts = []fold.Known{{ID: "stops"}}
			o.Learned = load.Stopped
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Plastic relaxes in the first hour, and a control remembers what it was told.",
				Act:     "Stop, and " + load.Try + " Once here; later every 15 min, noted by yourself.",
				Read:    "What is seen; on the control's page, the value that stands there.",
				Caution: "SPINDLE STOPPED before the door opens. Keep out of the part's way.", Scene: kit.Scene(p, v, nil)}
		},
	}
}
