package jaws

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	calc "fliptrue/calc/jaws"
	"fliptrue/calc/unit"
	"fliptrue/calc/witness"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// widthEnters says whether the part's width is in the register across the jaws.
func widthEnters(p *fold.Plan) string {
	flip := frame.AboutX
	if (p.Setup.Flip == "y") != kit.AlongY(p) {
		flip = frame.AboutY
	}
	if calc.WidthEnters(flip) {
		return "Turned over, its other edge lies on the fixed jaw. Its width counts across the jaws."
	}
	return "Turned over, the same edge lies on the fixed jaw: the width does not matter there."
}

// lies is a part in its nest, the jaws not closed yet.
func lies(p *fold.Plan) kit.Lies {
	a := p.Setup.Against
	at := "its nest"
	if len(a) == 2 {
		at = "fixed jaw and stop"
	}
	return kit.Lies{
		Drop: "Lay it in its nest against " + at + ", close until it just touches, press it down.", Onto: at,
		Why: "A chip in a nest tilts it as the jaws close.", Act: "Lay the part in its nest, rock it, touch its top.",
		Caution: " Fingers out of the jaws.", Needs: fold.AsRead(facts.Grip.ID),
		Asks: func(fold.View) []fold.Ask {
			return []fold.Ask{{Field: "walls", Label: "strips that pull out at fixed jaw and stop", Kind: fold.Count,
				What: fold.What{By: "feeler", Of: "part", Dir: "walls"}, Want: "0",
				WantWhy: "It does not lie where the nest was found.", Hint: "Press it against fixed jaw and stop, then the strips again."}}
		},
	}
}

// dials are the two readings of a closing: the middle of the wall along the jaws' way, and the top.
func dials(p *fold.Plan, pre, from string) []fold.Ask {
	_, name := across(p)
	read := func(field, label, axis string) fold.Ask {
		return fold.Ask{Field: pre + field, Label: label, Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "dial", Of: "part", Dir: pre + "close", Axis: axis}, Window: kit.Around(0, 0.1, "a part that stays")}
	}
	return []fold.Ask{read("wall", "dial on the middle of the wall, "+from, name), read("top", "dial on the top, "+from, "z")}
}

// closed closes the jaws to the mark, the dials on the part.
func closed(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "close", Needs: fold.Needs(fold.Live("seat"), fold.AsRead(facts.Grip.ID)), Makes: []fold.FactID{held},
		Keys: []string{"setups." + p.Setup.Name + ".jaws", "setups." + p.Setup.Name + ".cut"},
		Asks: func(v fold.View) []fold.Ask {
			asks := dials(p, "", "from its zero")
			asks[0].Do = []fold.Act{{Do: "hold", Of: "part",
				Words: "Dials on the middle of the wall and on the top, zeros noted. Close slowly to the mark. Handle off the vise."}}
			return append(asks, fold.Ask{Field: "mark", Label: "the handle stood at its mark", Kind: fold.Choice, Options: []string{yes, no},
				What: fold.What{By: "eye", Of: "jaws", Dir: "mark"}, Want: yes,
				WantWhy: "At another force it is held, and bowed, otherwise than reckoned.", Hint: "Open, close to the mark, read the dials again."})
		},
		Judge: func(v fold.View) fold.Outcome { return judgeClosed(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "What the jaws push now springs back after the cut.", Act: "Close the jaws to the mark, both dials on the part.",
				Read:    "Each dial against its zero.",
				Caution: "SPINDLE STOPPED. Fingers out of the jaws; handle off the vise.", Rows: Clamped(p).Rows, Scene: kit.Scene(p, v, nil)}
		},
	}
}

func judgeClosed(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	wall := judge.Most(p.Limit("jaws.wall"), math.Abs(v.Len("wall")), 0)
	rise := judge.Most(p.Limit("jaws.rise"), math.Abs(v.Len("top")), 0)
	if wall.Verdict != fold.Pass {
		wall.Words = fmt.Sprintf("The wall moved by %s as they closed: cut like this it springs back by that.", p.Len(wall.Got))
		o.Named = "wall-squeezed"
		o.Next = append(o.Next, fold.Act{Do: "hold", Of: "part", Words: wall.Words + " Open, look at the plug, close again."},
			fold.Act{Do: "round"})
	}
	if rise.Verdict != fold.Pass {
		rise.Words = fmt.Sprintf("The part rose by %s as they closed: the jaws were cut without load, or a chip.", p.Len(rise.Got))
		if o.Named == "" {
			o.Named = "jaws-lift"
			o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "mount", Words: rise.Words + " Jaws loaded on the spacer, the nest skimmed."})
		}
	}
	if fold.SameAnswer(v.Text("mark"), no) && len(o.Next) == 0 {
		o.Named = "off-the-mark"
		o.Next = append(o.Next, fold.Act{Do: "hold", Of: "part", Words: "Open, close to the mark, read the dials again."}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, wall, rise, gentle(p))
	h := Clamped(p)
	o.Checks = append(o.Checks, h.Checks...)
	for _, c := range h.Checks {
		if !c.Verdict.OK() && len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: c.Words + " " + h.Advice})
		}
	}
	o.Lines = append([]fold.Row{{Label: "wall moved", Value: wall.Got, Unit: unit.KLength, Verdict: wall.Verdict},
		{Label: "part rose", Value: rise.Got, Unit: unit.KLength, Verdict: rise.Verdict}}, h.Rows...)
	o.Notes = h.Notes
	o.Facts = []fold.Known{{ID: held}}
	o.Learned = fmt.Sprintf("The jaws hold it; its wall moved by %s and it rose by %s.", p.Len(wall.Got), p.Len(rise.Got))
	return o
}

// again opens and closes once more: what differs is how well this seat repeats.
func again(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "close again", Needs: fold.Needs(fold.Live(held)), Makes: []fold.FactID{"shift"},
		Asks: func(v fold.View) []fold.Ask {
			asks := append(dials(p, "one.", "closed once more"), dials(p, "two.", "closed a third time")...)
			asks[0].Do = []fold.Act{{Do: "look", Of: "jaws", Words: "Dials to zero as it is held now. Then read both."}}
			asks[2].Do = []fold.Act{{Do: "open", Of: "jaws", Words: "Open half a turn, press it down, close to the mark. Read both dials again."}}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome { return judgeAgain(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A nest that does not repeat puts each part elsewhere.", Act: "Open and close once more, the dials as they stand.",
				Read:    "Each dial against its zero, before and after.",
				Caution: "SPINDLE STOPPED. Fingers out of the jaws; handle off the vise.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

func judgeAgain(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	var most, wall calc.Closed
	for _, field := range []string{"wall", "top"} {
		c, err := calc.ToClosed([]float64{v.Len("one." + field), v.Len("two." + field)})
		if err != nil {
			kit.Refuse(&o, "jaws.repeat", "two closings say how well it repeats", err)
			return o
		}
		if field == "wall" {
			wall = c
		}
		if c.Range > most.Range {
			most = c
		}
	}
	k := judge.Most(p.Limit("jaws.repeat"), most.Range, 0)
	if k.Verdict != fold.Pass {
		k.Words = fmt.Sprintf("Closed again it lies %s elsewhere: a chip, a loose jaw, or a tired screw.", p.Len(most.Range))
		o.Named = "jaws-repeat"
		o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "seat", Words: k.Words + " Wipe nest and part; turn the jaws' bolts."})
	}
	o.Checks = append(o.Checks, k)
	u := math.Max(wall.Spread.S, witness.DialU(p.Job.Machine.Dial.Graduation))
	cov := [][]float64{{u * u, 0, 0}, {0, u * u, 0}, {0, 0, 0}}
	o.Facts = []fold.Known{facts.Shift.Is(facts.ShiftFact{Cov: fold.NewCov("dx,dy,rot", cov)})}
	o.Lines = []fold.Row{{Label: "closed again within", Value: most.Range, Unit: unit.KLength, Big: true, Verdict: k.Verdict}}
	o.Learned = fmt.Sprintf("Closed again it lies within %s: that is in the budget.", p.Len(most.Range))
	return o
}
