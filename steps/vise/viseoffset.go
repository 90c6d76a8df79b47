package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// computeViseOffset is the offset on the program zero, as a fact of the same layout as a
// second side's; its last value is what Z reads at the first touch on the top.
func computeViseOffset(p *fold.Plan, get func(fold.FactID) (fold.Known, bool)) (fold.Known, bool) {
	c, ok1 := get("corner")
	t, ok2 := get("top")
	if !ok1 || !ok2 {
		return fold.Known{}, false
	}
	x, y := c.Value[0], c.Value[1]
	return fold.Known{ID: "offset", Value: []float64{kit.Round(p, x), kit.Round(p, y), kit.Round(p, t.Value[0]), 0, 0, 0, 0, 0, 1, 0, x, y, t.Value[4] - t.Value[0]},
		Cov: [][]float64{{c.Cov[0][0], c.Cov[0][1], 0, 0}, {c.Cov[1][0], c.Cov[1][1], 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}}}, true
}

// viseOffset has the offset of side 1 keyed in and reads it back, blind, as on side 2.
func viseOffset(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "work offset", Needs: fold.Needs(fold.Live("skew", "corner", "top"), fold.AsRead("identity")), Makes: []fold.FactID{"offset", "echo"},
		Keys:  []string{"setups." + p.Setup.Name + ".offset", "setups." + p.Setup.Name + ".z0", "setups." + p.Setup.Name + ".zero"},
		Pause: checks.OffsetPause(p),
		Asks: func(v fold.View) []fold.Ask {
			f, ok := computeViseOffset(p, v.Fact)
			if !ok || checks.OffsetWrong(p, v) {
				return nil
			}
			return checks.EchoAsks(p, v, f)
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			f, ok := computeViseOffset(p, v.Fact)
			if !ok {
				return o
			}
			if checks.OffsetWrong(p, v) {
				o.Next = append(o.Next, fold.Act{Do: "again", Of: "pause"})
				return o
			}
			checks.EchoChecks(p, v, f, &o)
			for i, ax := range []string{"X", "Y", "Z"} {
				o.Lines = append(o.Lines, fold.Row{Label: p.Setup.Offset + " " + ax, Value: f.Value[i], Unit: unit.KLength, Signed: true, Big: true})
			}
			o.Facts = []fold.Known{f, {ID: "echo"}}
			u := math.Sqrt(math.Max(f.Cov[0][0], f.Cov[1][1]))
			o.Learned = fmt.Sprintf("The control holds the offset; the pickup is good within %s.", p.Len(2*u))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Here the stock becomes numbers in the control; a slip of a key is a crash.",
				Act:   "Key the offset into the control, then read it back from the control's page.",
				Read:  checks.PageRead(p),
				After: desk.JogOver(p, v.Standing, "program zero"), Scene: kit.StockPicture(p, v)}
		},
	}
}
