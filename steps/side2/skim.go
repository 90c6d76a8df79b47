package side2

import (
	"fmt"

	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// screwed is a part that screws hold: paint lines and softness show whether they still do.
func screwed(p *fold.Plan) kit.Load {
	n := len(p.Setup.Screws.At)
	const turned = "A turned line is a screw that has let go."
	holds := []fold.FactID{"holes", "threads", "screws"}
	var freed []fold.FactID
	if p.Setup.HoldDown != "S" {
		if p.Level() == fold.Full { // at a level the shift test alone says whether drilling lifted it
			freed = append(freed, "lifted")
		}
		freed = append(freed, "unstrapped")
	}
	l := kit.Load{Holds: holds, Freed: freed, Screws: "screws",
		Asks: []fold.Ask{
			{Field: "lines", Label: "paint lines unbroken across head and part", Kind: fold.Count, What: fold.What{By: "eye", Of: "paint-lines"}, Want: fmt.Sprint(n),
				WantWhy: turned, Hint: "Stop. Tighten in order; if it turns soft it counts 0."},
			kit.Counted("soft", "screws that went soft when tried again", "soft-screws", "", "0", "A soft screw holds nothing.",
				"Take it out; mend or retire its thread.")},
		Wrong: func(v fold.View) bool { return v.Int("soft") > 0 || v.Has("lines") && v.Int("lines") != n },
		Slips: func(v fold.View, o *fold.Outcome) {
			if v.Int("soft") > 0 {
				o.Named = "soft-thread"
			}
			if v.Int("soft") > 0 || v.Int("lines") != n {
				o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "screws", Words: "Stop here. Mend the thread or fit an insert, then all screws " +
					"again in order; the shift test follows."})
			}
		},
		Through: throughDoor(p, n, turned),
		Try:     "pull each screw to its working torque.",
		Read:    "Paint lines that are unbroken; screws that went soft.",
		Why:     "The first load shows a screw that only felt tight, while little is at stake.",
		Held:    "The screws held under the first load.",
		Stopped: fmt.Sprintf("All %d screws still hold. Note further stops yourself, every 15 min: fliptrue is done here.", n),
	}
	if p.Short() {
		firm(&l, n)
	}
	return l
}

// firm makes one count of lines and softness: either way the screw counts 0.
func firm(l *kit.Load, n int) {
	l.Asks = []fold.Ask{{Field: "lines", Label: "screws that hold: line unbroken, not soft at their torque", Kind: fold.Count,
		What: fold.What{By: "eye", Of: "paint-lines", Dir: "firm"}, Want: fmt.Sprint(n),
		WantWhy: "A turned line is a screw that has let go; a soft one holds nothing.",
		Hint:    "Stop. Mend that thread, then set all screws again, one after the other."}}
	l.Read = "Screws that hold: the line unbroken across head and part, and not soft when pulled."
	l.Wrong = func(v fold.View) bool { return v.Has("lines") && v.Int("lines") != n }
	slips := l.Slips
	l.Slips = func(v fold.View, o *fold.Outcome) {
		if slips(v, o); v.Int("lines") < n {
			o.Named = "soft-thread"
		}
	}
}

// throughDoor is what is looked at before the full depth: paint lines where the heads can be seen, else the door itself.
func throughDoor(p *fold.Plan, n int, turned string) fold.Ask {
	if p.Level() != fold.Full && sunk(p) {
		return fold.Ask{Label: "the door is", Kind: fold.Choice, Options: []string{"shut, nobody in the tool plane", "open"},
			What: fold.What{By: "eye", Of: "door", Dir: "shut"}, Want: "shut, nobody in the tool plane",
			WantWhy: "What lets go now is thrown.", Hint: "Shut it; stand out of the tool plane."}
	}
	return fold.Ask{Label: "paint lines unbroken, seen through the shut door", Kind: fold.Count, What: fold.What{By: "eye", Of: "paint-lines"},
		Want:    fmt.Sprint(n),
		WantWhy: turned, Hint: "Stop, open, tighten in order."}
}

// sunk says that the heads lie in the part, where no line is seen through a door.
func sunk(p *fold.Plan) bool {
	h, ok := desk.HeadHeight(p)
	return ok && p.Setup.Screws.Through+h < p.Job.Part.Size[2]
}

// skim is the first cut of a part that screws hold.
func skim(p *fold.Plan) *fold.Spec { return Skim(p, screwed(p)) }

// Skim takes one shallow cut and looks at what holds the part after this first load.
func Skim(p *fold.Plan, load kit.Load) *fold.Spec {
	s := skimmingOf(p, load)
	return &fold.Spec{
		Title:   "skim",
		Needs:   fold.Needs(fold.Live(load.Screws), fold.AsRead("deck"), fold.IfThere("seat", "floor"), fold.Remembered("floor", kit.ZDatum(p))),
		Recheck: &fold.Recheck{Lifts: []fold.FactID{load.Screws}}, Makes: []fold.FactID{"skimmed"}, Raises: []fold.MishapID{"probe-refitted"},
		Pause: &fold.Pause{Heading: "AFTER THIS YOU CANNOT GET THE STOCK BACK",
			Lost: "Stop if the pitch changes, a screw head moves, or chips turn to powder or melt.",
			Ask:  func(fold.View) fold.Ask { return s.cutterIn() }},
		Asks: s.asks, Judge: s.judge, Page: s.page,
	}
}
