package vise

import (
	"fmt"

	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// cutSide is the cutting of side 1: an air pass first. What is cut stays cut, whatever happens.
func cutSide(p *fold.Plan) *fold.Spec {
	tool := fmt.Sprint(p.Setup.Cut.Tool)
	return &fold.Spec{
		Title: "cut side 1", Needs: fold.AsRead(append([]fold.FactID{"seat", "offset", "echo", "deck"}, checks.ProgramFacts(p)...)...),
		Makes: []fold.FactID{"cut"}, Raises: []fold.MishapID{"probe-refitted"},
		Pause: &fold.Pause{Heading: "AFTER THIS THE STOCK IS CUT",
			Lost: "What is cut is cut: it can't be turned or moved to another place any more.",
			Ask: func(fold.View) fold.Ask {
				a := fold.Ask{Label: "tool number in the spindle, as engraved or as the control shows", Kind: fold.Count,
					What: fold.What{By: "eye", Of: "spindle", Dir: "tool"}, Want: tool,
					WantWhy: "Another tool cuts another depth; what is no tool is thrown.", Hint: "Fit tool " + tool + "."}
				if p.Setup.Cut.Tool == 0 {
					a.Want, a.WantWhy, a.Hint = "", "", ""
				}
				a.Do = []fold.Act{{Do: "remove", Of: fitted(p), Words: map[string]string{"probe": "Probe OUT. ", "finder": "Edge finder OUT. ",
					"paper": ""}[faceBy(p)] + "Cutter in."}}
				return a
			}},
		Asks: func(v fold.View) []fold.Ask {
			air := kit.Counted("air", "of 3 blocks, those at which the distance to go agreed", "air-pass", "", "3",
				"The control goes elsewhere than the program says.", "Stop. Look at offset, tool length and program.")
			air.Do = []fold.Act{{Do: "air", Of: "program", Words: "Z raised by " + p.Len(kit.Even(p, 25, 25, 1)) +
				", single block, feed hold in hand. Compare the distance to go at three blocks, read from outside the door."}}
			arrow := kit.Counted("arrow", "arrows scribed that show FRONT and survive side 2", "marks", "front", "1",
				"Without it nobody can say how the part lies on side 2.", "Scribe it now.")
			arrow.Do = []fold.Act{{Do: "cut", Of: "part", Words: "Cut side 1. Scribe an arrow to the front where side 2 leaves it."}}
			return []fold.Ask{air, arrow}
		},
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Facts: []fold.Known{{ID: "cut"}}, Learned: "Side 1 is cut."}
			if n := v.Int("air"); n >= 0 && n != 3 {
				o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "offset", Words: "Stop here. Read the offset page again, then lengths and program."})
			} else if v.Int("arrow") != 1 {
				o.Next = append(o.Next, fold.Act{Do: "mark", Of: "part", Words: "Scribe the arrow."}, fold.Act{Do: "again", Of: "arrow"})
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "The seat face, the outline below the parting line and the datum edges of side 2 come from this one clamping.",
				Act:  "Air pass, then cut side 1.",
				Read: "Counts as seen.", Caution: "Eye protection, door shut, feed hold in hand. Do not reach in while an air pass runs.",
				Hands: "hands away while it cuts", Scene: kit.StockPicture(p, v)}
			if kit.IsWood(p.Job.Part.Material) {
				pg.Caution = "Eye protection, door shut, feed hold in hand. Extraction and mask: wood and resin dust."
			}
			return pg
		},
	}
}

// throughHoles are the clearance holes for side 2, drilled while the stock is still held well.
func throughHoles(p *fold.Plan) *fold.Spec {
	s2 := kit.Side2(p)
	if !p.Setup.HolesHere || s2 == nil {
		return nil
	}
	n := fmt.Sprint(len(s2.Screws.At))
	return &fold.Spec{
		Title: "side-2 holes", Needs: fold.AsRead("cut"), Makes: []fold.FactID{"part/holes"}, Raises: []fold.MishapID{"probe-refitted"},
		Keys: []string{"setups." + s2.Name + ".screws"},
		Asks: func(v fold.View) []fold.Ask {
			a := kit.Counted("pins", "holes through which a "+s2.Screws.Thread+" screw drops by its own weight", "holes", "pass", n,
				"A hole that is tight or missing bends a screw on side 2.", "Clear it, or drill it again while the part is still held.")
			a.Do = []fold.Act{{Do: "drill", Of: "holes",
				Words: "Drill the clearance holes right through, from the seat face: the burr of the exit " +
					"is on the side that side 2 cuts away. Retract fully, vacuum."}}
			return []fold.Ask{a}
		},
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Facts: []fold.Known{{ID: "part/holes", Value: []float64{float64(v.Int("pins"))}}},
				Learned: "The holes for side 2 go right through."}
			if fmt.Sprint(v.Int("pins")) != n {
				o.Next = append(o.Next, fold.Act{Do: "drill", Of: "holes", Words: "Clear or drill the holes that are tight."},
					fold.Act{Do: "again", Of: "pins"})
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			var marks []fold.Shape
			for _, q := range s2.Screws.At {
				a := kit.OnSide1(p, kit.Vec(q))
				marks = append(marks, fold.Shape{Role: fold.RoleHole, Points: []fold.XY{{X: a.X, Y: a.Y}}})
			}
			return fold.Page{Why: "Here the stock is still held well; on side 2 nothing has to be strapped and swapped.", Act: "Drill " + n +
				" clearance holes right through and try each with a screw.",
				Read: "Holes that the screw drops through.", Caution: "Eye protection, door shut. Parallels clear of the holes.",
				Hands: "hands away while it drills", Scene: kit.StockPicture(p, v, marks...)}
		},
	}
}
