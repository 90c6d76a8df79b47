package steps

import (
	"fmt"

	"fliptrue/calc/unit"
)

func init() {
	add(Step{ID: "baseline", Kinds: []string{secondSide}, Plans: "TM", Follows: "straps", Build: baseline})
}

// baseline reads the witness set while the straps hold the part: what the swap to screws is held against.
func baseline(p *Plan) *Spec {
	return &Spec{
		Title: "witness baseline", Live: []FactID{"seat"}, AsRead: []FactID{"ball", "clamps"}, Seen: []FactID{"offset", "bore"}, Makes: []FactID{"baseline"},
		Asks: func(v View) []Ask { return p.setAsks(v, nil, witnessRepeats, false) },
		Judge: func(v View) Outcome {
			var o Outcome
			s := p.readSet(v, false)
			p.repeatCheck(s, &o)
			f := p.baselineFact(s)
			o.Facts = []Fact{f}
			o.Lines = append(o.Lines, Row{Label: "scatter of a touch", Value: s.spread.S, Unit: unit.KLength, Big: true})
			for i, sp := range p.spots() {
				o.Lines = append(o.Lines, Row{Label: sp.label + ", from the fixture", Value: f.Value[3+i], Unit: unit.KLength, Signed: true})
			}
			o.Learned = fmt.Sprintf("A touch repeats within %s: enough to see a move of %s.", p.len(s.spread.S), p.len(4.5*s.spread.S))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "Only what is read before the swap can show what the swap moved.",
				Act:     "Read the witness set: fixture first, then the part, each twice.",
				Read:    "Machine position at the trigger. All in one probe mounting.",
				Caution: "SPINDLE STOPPED, its command off. Keep the stylus clear of the straps.",
				Scene:   p.scene(v, p.spotMarks(v, false))}
		},
	}
}
