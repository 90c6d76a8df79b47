package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// stops are the stop points after the release: screws while it is cut, and the control put back afterwards.
func stops(p *Plan) *Spec {
	shifted := p.Job.Machine.Delivers == "g92"
	return &Spec{
		Title: "stop points", Live: []FactID{"release"}, Seen: []FactID{"offset"}, Makes: []FactID{"stops"},
		Asks: func(v View) []Ask {
			asks := p.afterLoad()
			asks[0].Do = []Act{{Do: "stop", Of: "spindle", Words: "Once here, after 15 min or at the tool change: stop the spindle, try each screw at its torque or angle."}}
			zero := func(field, label, of string) Ask {
				return Ask{Field: field, Label: label, Kind: Echo, Unit: unit.KAngle, Blind: true, What: What{By: "eye", Of: of, Dir: "x"}}
			}
			if p.rotates() {
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
		Judge: func(v View) Outcome {
			var o Outcome
			p.loadSlips(v, &o)
			for _, a := range []struct {
				field, of string
				k         unit.Kind
			}{{"rotation", "rotation", unit.KAngle}, {"shift.x", "shift", unit.KLength}, {"shift.y", "shift", unit.KLength}} {
				p.pageZero(v, &o, a.field, a.of, a.k)
			}
			o.Facts = []Fact{{ID: "stops"}}
			o.Learned = fmt.Sprintf("All %d screws still hold. Note further stops yourself, every 15 min: fliptrue is done here.", v.Int("lines"))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "Plastic relaxes in the first hour, and a control remembers what it was told.",
				Act:     "Stop, look at the paint lines, try the screws. Once here; later every 15 min, noted by yourself.",
				Read:    "What is seen; on the control's page, the value that stands there.",
				Caution: "SPINDLE STOPPED before the door opens. Keep out of the part's way.", Scene: p.scene(v, nil)}
		},
	}
}

// pageZero holds the value read on a page of the control against zero.
func (p *Plan) pageZero(v View, o *Outcome, field, of string, k unit.Kind) {
	x, ok := v.Num(field, k)
	if !ok {
		return
	}
	c := Check{Limit: Limit{ID: field + ".zero", Why: "the control's " + of + " page reads zero", Class: Never, Unit: k}, Got: math.Abs(x), Verdict: Pass}
	if x != 0 {
		c.Verdict = Fail
		c.Words = "A " + of + " is still active: everything would be cut turned or shifted."
		o.Named = "rotation-left-active"
		o.Next = append(o.Next, Act{Do: "cancel", Of: of, Words: "Cancel the " + of + " at the control, then read its page again."}, Act{Do: "again", Of: field})
	}
	o.Checks = append(o.Checks, c)
}
