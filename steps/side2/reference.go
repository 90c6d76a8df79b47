package side2

import (
	"fmt"

	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// reference offers the witness set once the screws are in, where no baseline was read
// on the way: a later bump then costs a minute instead of the screws.
func reference(p *fold.Plan) *fold.Spec { return Reference(p, "screws") }

// Reference is the same for a part that is held by what that fact says.
func Reference(p *fold.Plan, held fold.FactID) *fold.Spec {
	ways := []string{"read it now", "leave it"}
	return &fold.Spec{
		Title: "witness set, if wanted", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("seat", held),
			fold.AsRead(kit.Finder(p).Stands()...), fold.IfThere("offset", "bore", "floor", kit.ZDatum(p))),
		Makes: []fold.FactID{"referenced", "baseline"},
		Asks: func(v fold.View) []fold.Ask {
			if p.Level() != fold.Full { // the level has chosen
				return setAsks(p, v, nil, repeats(p), false)
			}
			asks := []fold.Ask{{Field: "way", Label: "the witness set, 5 minutes", Kind: fold.Choice, Options: ways,
				What: fold.What{By: "eye", Of: "witness", Dir: "way"}}}
			if fold.SameAnswer(v.Text("way"), ways[0]) {
				asks = append(asks, setAsks(p, v, nil, repeats(p), false)...)
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Facts: []fold.Known{{ID: "referenced"}}, Learned: "No witness set: a bump from here on costs the seat and the screws."}
			if p.Level() == fold.Full && !fold.SameAnswer(v.Text("way"), ways[0]) {
				return o
			}
			s := readSet(p, v, false)
			if posts(p) && !s.fixed {
				return fold.Outcome{}
			}
			repeatCheck(p, s, &o)
			if !posts(p) {
				stillThere(p, v, s, &o)
			}
			o.Facts = append(o.Facts, facts.Baseline.Is(baselineFact(p, s)))
			o.Learned = fmt.Sprintf("A touch repeats within %s. A later bump is proven harmless, or not, by reading the set again.",
				p.Len(s.Spread().S))
			return o
		},
		Page: func(v fold.View) fold.Page {
			if posts(p) {
				return fold.Page{Why: "Nothing else can show later that the part still lies where the screws took it.",
					Act:     "Set four dials on the fixture against the part, all to zero; clear of the cutter.",
					Read:    postsTell(p),
					Caution: "SPINDLE STOPPED, its command off.", Scene: kit.Scene(p, v, spotMarks(p, v, false))}
			}
			return fold.Page{Why: "Nothing else can show later that the part still lies where it was held.",
				Act:     "Read the witness set, or leave it.",
				Read:    "Machine position at contact, the instrument not taken out in between.",
				Caution: "SPINDLE STOPPED, its command off.", Scene: kit.Scene(p, v, spotMarks(p, v, false))}
		},
	}
}
