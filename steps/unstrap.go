package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// unstrap takes the straps off, dial on the part, and counts that none is left.
func unstrap(p *Plan) *Spec {
	return &Spec{
		Title: "straps off", Live: []FactID{"screws"}, Makes: []FactID{"unstrapped"}, Raises: []MishapID{"straps-off"},
		Pause: &Pause{Heading: "SCREWS ALONE WILL HOLD IT", Lost: "A bow that a strap held shows now.",
			Ask: func(View) Ask {
				return counted("", "screws in and tight, counted now", "screws", "in", fmt.Sprint(len(p.Setup.Screws.At)), "Without its screws the part comes off with the straps.", "Fit the missing screw first.")
			}},
		Asks: func(v View) []Ask {
			a := Ask{Field: "move", Label: "dial, largest movement while the straps came off", Kind: Reading, Unit: unit.KLength, What: What{By: "dial", Of: "part", Dir: "unstrap", Axis: "z"}, Window: around(0, 0.2, "a part that stays"),
				Do: []Act{{Do: "unstrap", Of: "clamps", Words: "In reverse order, half then full, alternately, the dial on the part. Stop at the first clamp that moves it."}}}
			b := counted("left", "clamps left on the table", "clamps", "table", "0", "A clamp left in the path is thrown by the cutter.", "Take it off, heel block and bolt too.")
			return []Ask{a, b}
		},
		Judge: func(v View) Outcome {
			var o Outcome
			c := Judged(p.Limit("unstrap.move"), math.Abs(v.Len("move")), 0)
			if c.Verdict == Fail {
				o.Named = "strap-held-a-bow"
				c.Words = fmt.Sprintf("The part sprang by %s: that clamp was holding a bow.", p.len(c.Got))
				o.Next = append(o.Next, Act{Do: "reopen", Of: "seat", Words: "Loosen the screws, lift the part, look for a chip or a burr, seat it again."})
			}
			if v.Int("left") > 0 {
				o.Named = "clamp-left-on"
				o.Next = append(o.Next, Act{Do: "unstrap", Of: "clamps", Words: "Take the last clamp off, with heel block and bolt. Count the table again."}, Act{Do: "again", Of: "left"})
			}
			o.Checks = append(o.Checks, c)
			o.Facts = []Fact{{ID: "unstrapped"}}
			o.Learned = fmt.Sprintf("No clamp is left; the part moved by %s as they came off.", p.len(c.Got))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "A clamp that held a bow shows it now, and a clamp left on is a crash.",
				Act:     "Take the straps off, dial on the part.",
				Read:    "The needle's largest movement, then what is left on the table.",
				Caution: "SPINDLE STOPPED. Wrench off the table afterwards.", Scene: p.scene(v, nil)}
		},
	}
}
