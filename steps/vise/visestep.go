package vise

import (
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

var jawWay = map[string]string{"away": "away", "toward": "toward you"}

// visestep makes sure that the vise lies as the job says.
func visestep(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "vise", Needs: fold.IfBegun("tram"), Makes: []fold.FactID{"identity"}, Keys: []string{"setups." + p.Setup.Name + ".vise.jaw"},
		Former: []string{"setups." + p.Setup.Name + ".vise"},
		Asks: func(v fold.View) []fold.Ask {
			return []fold.Ask{
				{Field: "jaw", Label: "the fixed jaw stands", Kind: fold.Choice, Options: []string{"away", "toward you"}, What: fold.What{By: "eye", Of: "vise", Dir: "jaw"}, Want: jawWay[p.Setup.Vise.Jaw],
					WantWhy: "The job reckons from the fixed jaw; the moving one floats.", Hint: "Turn the vise round, or change vise.jaw in the job.",
					Do: []fold.Act{{Do: "mount", Of: "vise", Words: "Stone and wipe table and vise. Bolt it down: one bolt firm at one end, where it " +
						"pivots, the others finger tight."}}},
				kit.Counted("chips", "chips seen on jaws and bed", "chips", "vise", "0", "A chip under a parallel tilts the stock.",
					"Brush, wipe, look again."),
			}
		},
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Facts: []fold.Known{{ID: "identity", Value: []float64{20, 0}}}, Learned: "The vise lies as the job says."}
			if _, ok := v.Fact("tram"); !ok {
				o.Notes = append(o.Notes, "Spindle tram is not known: lean of walls is not in the numbers.")
			}
			o.Notes = append(o.Notes, kit.CardAge(p, v, "tram")...)
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Side 1 lies as its vise does.", Act: "Bolt the vise down and say how it lies.", Read: "What you see.",
				Caution: "This tool does not see, move or stop the machine. Your hand on feed hold and E-stop. SPINDLE STOPPED before hands go in.",
				Scene:   kit.StockPicture(p, v)}
		},
	}
}
