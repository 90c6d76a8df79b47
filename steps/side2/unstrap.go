package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// unstrap takes the straps off, dial on the part, and counts that none is left.
func unstrap(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "straps off", Needs: fold.Live("screws"), Makes: []fold.FactID{"unstrapped"}, Raises: []fold.MishapID{"straps-off"},
		Pause: &fold.Pause{Heading: "SCREWS ALONE WILL HOLD IT", Lost: "A bow that a strap held shows now.",
			Ask: func(fold.View) fold.Ask {
				return kit.Counted("", "screws in and tight, counted now", "screws", "in", fmt.Sprint(len(p.Setup.Screws.At)),
					"Without its screws the part comes off with the straps.", "Fit the missing screw first.")
			}},
		Asks: func(v fold.View) []fold.Ask {
			a := fold.Ask{Field: "move", Label: "dial, largest movement while the straps came off", Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: "dial", Of: "part", Dir: "unstrap", Axis: "z"}, Window: kit.Around(0, 0.2, "a part that stays"),
				Do: []fold.Act{{Do: "unstrap", Of: "clamps",
					Words: loosenWords(p)}}}
			b := kit.Counted("left", "clamps left on the table", "clamps", "table", "0", "A clamp left in the path is thrown by the cutter.",
				"Take it off, heel block and bolt too.")
			b = kit.Mend(b, "clamp-left-on", fold.Act{Do: "unstrap", Of: "clamps", Words: "Take the last clamp off, with heel block and bolt. " +
				"Count the table again."})
			return []fold.Ask{a, b}
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			c := judge.Of(p.Limit("unstrap.move"), math.Abs(v.Len("move")), 0)
			if c.Verdict == fold.Fail {
				o.Named = "strap-held-a-bow"
				c.Words = fmt.Sprintf("The part sprang by %s: that clamp was holding a bow.", p.Len(c.Got))
				o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "seat", Words: "Loosen the screws, lift the part, look for a chip or a burr, seat " +
					"it again."})
			}
			if v.Int("left") > 0 {
				o.Named = "clamp-left-on"
				o.Next = append(o.Next, fold.Act{Do: "unstrap", Of: "clamps", Words: "Take the last clamp off, with heel block and bolt. Count the " +
					"table again."}, fold.Act{Do: "again", Of: "left"})
			}
			o.Facts = []fold.Known{{ID: "unstrapped"}}
			if p.Short() && !v.Has("move") {
				o.Learned = "No clamp is left."
				return o
			}
			o.Checks = append(o.Checks, c)
			o.Learned = fmt.Sprintf("No clamp is left; the part moved by %s as they came off.", p.Len(c.Got))
			return o
		},
		Page: func(v fold.View) fold.Page {
			read := "The needle's largest movement, then what is left on the table."
			if p.Short() && !p.Reads(fold.Irreplaceable) {
				read = "What is left on the table."
			}
			return fold.Page{Why: "A clamp that held a bow shows it now, and a clamp left on is a crash.",
				Act:     "Take the straps off, a dial on the part.",
				Read:    read,
				Caution: "SPINDLE STOPPED. Wrench off the table afterwards.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

// loosenWords take the straps off under the eye of what stands on the part: the dials on their posts, or one dial.
func loosenWords(p *fold.Plan) string {
	if posts(p) {
		return "Loosen the clamps, the last one first: half, then full, alternately. Watch the dials on their posts. Stop at the first clamp " +
			"that moves one."
	}
	return "Loosen the clamps, the last one first: half, then full, alternately. A dial on the part. Stop at the first clamp that moves it."
}
