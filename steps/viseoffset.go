package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// computeViseOffset is the offset on the program zero, as a fact of the same layout as a
// second side's; its last value is what Z reads at the first touch on the top.
func (p *Plan) computeViseOffset(get func(FactID) (Fact, bool)) (Fact, bool) {
	c, ok1 := get("corner")
	t, ok2 := get("top")
	if !ok1 || !ok2 {
		return Fact{}, false
	}
	x, y := c.Value[0], c.Value[1]
	return Fact{ID: "offset", Value: []float64{p.round(x), p.round(y), p.round(t.Value[0]), 0, 0, 0, 0, 0, 1, 0, x, y, t.Value[4] - t.Value[0]},
		Cov: [][]float64{{c.Cov[0][0], c.Cov[0][1], 0, 0}, {c.Cov[1][0], c.Cov[1][1], 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}}}, true
}

// viseOffset has the offset of side 1 keyed in and reads it back, blind, as on side 2.
func viseOffset(p *Plan) *Spec {
	return &Spec{
		Title: "work offset", Live: []FactID{"skew", "corner", "top"}, AsRead: []FactID{"identity"}, Makes: []FactID{"offset", "echo"},
		Keys:  []string{"setups." + p.Setup.Name + ".offset", "setups." + p.Setup.Name + ".z0", "setups." + p.Setup.Name + ".zero"},
		Pause: offsetPause(p),
		Asks: func(v View) []Ask {
			f, ok := p.computeViseOffset(v.Fact)
			if !ok {
				return nil
			}
			return p.echoAsks(f)
		},
		Judge: func(v View) Outcome {
			var o Outcome
			f, ok := p.computeViseOffset(v.Fact)
			if !ok {
				return o
			}
			p.echoChecks(v, f, &o)
			for i, ax := range []string{"X", "Y", "Z"} {
				o.Lines = append(o.Lines, Row{Label: p.Setup.Offset + " " + ax, Value: f.Value[i], Unit: unit.KLength, Signed: true, Big: true})
			}
			o.Facts = []Fact{f, {ID: "echo"}}
			u := math.Sqrt(math.Max(f.Cov[0][0], f.Cov[1][1]))
			o.Learned = fmt.Sprintf("The control holds the offset; the pickup is good within %s.", p.len(2*u))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "Here the stock becomes numbers in the control; a slip of a key is a crash.",
				Act:   "Key the offset into the control, then read it back from the control's page.",
				Read:  p.pageRead(),
				After: p.jogOver(v.Standing, "program zero"), Scene: p.stockPicture(v)}
		},
	}
}
