package steps

import "fmt"

// reference offers the witness set once the screws are in, where no baseline was read
// on the way: a later bump then costs a minute instead of the screws.
func reference(p *Plan) *Spec {
	ways := []string{"read it now", "leave it"}
	return &Spec{
		Title: "witness set, if wanted", Live: []FactID{"seat", "screws"}, AsRead: p.finder().stands(), Seen: []FactID{"offset", "bore", "floor", p.zDatum()}, Makes: []FactID{"referenced", "baseline"},
		Asks: func(v View) []Ask {
			asks := []Ask{{Field: "way", Label: "the witness set, 5 minutes", Kind: Choice, Options: ways, What: What{By: "eye", Of: "witness", Dir: "way"}}}
			if SameAnswer(v.Text("way"), ways[0]) {
				asks = append(asks, p.setAsks(v, nil, witnessRepeats, false)...)
			}
			return asks
		},
		Judge: func(v View) Outcome {
			o := Outcome{Facts: []Fact{{ID: "referenced"}}, Learned: "No witness set: a bump from here on costs the seat and the screws."}
			if !SameAnswer(v.Text("way"), ways[0]) {
				return o
			}
			s := p.readSet(v, false)
			p.repeatCheck(s, &o)
			p.stillThere(v, s, &o)
			o.Facts = append(o.Facts, p.baselineFact(s))
			o.Learned = fmt.Sprintf("A touch repeats within %s. A later bump is proven harmless, or not, by reading the set again.", p.len(s.spread.S))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "Nothing else can show later that the part still lies where the screws took it.",
				Act:     "Read the witness set, or leave it.",
				Read:    "Machine position at contact, the instrument not taken out in between.",
				Caution: "SPINDLE STOPPED, its command off.", Scene: p.scene(v, p.spotMarks(v, false))}
		},
	}
}
