package stick

import (
	calc "fliptrue/calc/stick"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// after is what shows that vacuum or tape still holds under load.
func after(p *fold.Plan) kit.Load {
	strips := fold.Ask{Field: "corners", Label: "strips that pull out, of 4 corners", Kind: fold.Count,
		What: fold.What{By: "feeler", Of: "part", Dir: "corners"}, Want: "0",
		WantWhy: "A corner has lifted: the film or the seal lets go.", Hint: "Stop. Seat and hold the part again."}
	first, through := firm(p, "firm"), firm(p, "")
	l := kit.Load{
		Holds: []fold.FactID{held}, Screws: held, Asks: []fold.Ask{first, strips}, Through: through,
		Wrong: func(v fold.View) bool { return v.Int("corners") > 0 || lost(p, v, "firm") },
		Slips: func(v fold.View, o *fold.Outcome) {
			if v.Int("corners") > 0 || lost(p, v, "firm") {
				o.Named = "hold-lost"
				o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "hold", Words: "Stop here. Look at seal or tape, hold it again."})
			}
		},
		Try: "look at the gauge and the corners.", Read: "The gauge at the fixture; strips counted.",
		Why:  "The first load shows a hold that only looked firm, while little is at stake.",
		Held: "It held under the first load.", Stopped: "It still holds. Look again every 15 min: fliptrue is done here.",
	}
	if !vacuum(p) {
		l.Try, l.Read = "look at the corners; push the part by hand.", "What is felt; strips counted."
	}
	return l
}

// firm asks for the one sign that it holds: the gauge, or a push by hand.
func firm(p *fold.Plan, field string) fold.Ask {
	if vacuum(p) {
		a := fold.Ask{Field: field, Label: "gauge shows at least " + unit.Show(calc.GateMPa, unit.KVacuum, p.Job.Unit, 0), Kind: fold.Choice,
			Options: []string{yes, no}, What: fold.What{By: "eye", Of: "vacuum", Dir: "gate"}, Want: yes,
			WantWhy: "Under its gate the part is loose.", Hint: "Stop. No cut before the gauge is back."}
		return a
	}
	return fold.Ask{Field: field, Label: "the part is where it was, no edge lifted", Kind: fold.Choice, Options: []string{yes, no},
		What: fold.What{By: "eye", Of: "tape", Dir: "firm"}, Want: yes,
		WantWhy: "A film that creeps lets go at an edge first.", Hint: "Stop. New tape, and hold it again."}
}

func lost(p *fold.Plan, v fold.View, field string) bool { return fold.SameAnswer(v.Text(field), no) }

// holdCheck looks at what holds after something happened.
func holdCheck(p *fold.Plan) *fold.Spec {
	return checks.HoldCheck(p, "hold check", "It holds as it did.", after(p))
}

// partOut takes the part off its face.
func partOut(p *fold.Plan) *fold.Spec {
	words := "Raise the head, door open. Pump off, vent it. Lift the part by hand."
	caution := "SPINDLE STOPPED, its command off. Vent before you lift: a thin part bends."
	if !vacuum(p) {
		words = "Raise the head, door open. Warm it to 40 degrees; floss or a slow wedge in shear. Never a screwdriver: a wall breaks before " +
			"the tape."
		caution = "SPINDLE STOPPED, its command off. Gloves: adhesive. Never pull at a wall."
	}
	return checks.PartOut(p, checks.PartOutWords{In: "pocket", Next: "the fixture is tapped",
		Do:      []fold.Act{{Do: "remove", Of: "part", Words: words}},
		Learned: "The pocket is bare. Seal wiped, or new tape, before the part goes in again.",
		Why:     "The floor can't be touched through the part.", Act: "Take the part off its face.", Read: "What is seen.", Caution: caution})
}
