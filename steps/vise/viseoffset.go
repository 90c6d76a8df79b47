package vise

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// computeViseOffset is the offset on the program zero, as a fact of the same layout as a
// second side's; its last value is what Z reads at the first touch on the top.
func computeViseOffset(p *fold.Plan, v fold.View) (fold.Known, bool) {
	c, ok1 := facts.Corner.In(v)
	t, ok2 := facts.Top.In(v)
	if !ok1 || !ok2 {
		return fold.Known{}, false
	}
	x, y := programZero(p, v, float64(c.X0), float64(c.Y0))
	cov := [][]float64{{0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}}
	for i, a := range []string{"x0", "y0"} {
		for k, b := range []string{"x0", "y0"} {
			cov[i][k] = c.Cov.Between(a, b)
		}
	}
	round := func(v float64) unit.Length { return unit.Length(kit.Round(p, v)) }
	return facts.Offset.Is(facts.OffsetFact{X: round(x), Y: round(y), Z: round(float64(t.Z0)), Q: 1, BX: unit.Length(x), BY: unit.Length(y),
		Block: t.Z1 - t.Z0,
		Cov:   fold.NewCov("bx,by,theta,q", cov)}), true
}

// programZero is where the program has its X0 Y0, by where the near left corner of the finished part lies: there,
// or in the middle of the part. A record of an earlier walk took the corner for both, which no program check did.
func programZero(p *fold.Plan, v fold.View, x, y float64) (float64, float64) {
	if !byMiddle(p) || !v.Walks(3) {
		return x, y
	}
	return x + p.Job.Part.Size[0]/2, y + p.Job.Part.Size[1]/2
}

// viseOffset has the offset of side 1 keyed in and reads it back, blind, as on side 2.
func viseOffset(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "work offset", Needs: fold.Needs(fold.Live("skew", "corner", "top"), fold.AsRead("identity")),
		Makes:  []fold.FactID{"offset", "echo"},
		Former: []string{"setups." + p.Setup.Name + ".offset", "setups." + p.Setup.Name + ".z0", "setups." + p.Setup.Name + ".zero"},
		Pause:  checks.OffsetPause(p),
		Asks: func(v fold.View) []fold.Ask {
			f, ok := computeViseOffset(p, v)
			if !ok || checks.OffsetWrong(p, v) {
				return nil
			}
			return checks.EchoAsks(p, v, f)
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			f, ok := computeViseOffset(p, v)
			if !ok {
				return o
			}
			if checks.OffsetWrong(p, v) {
				o.Next = append(o.Next, fold.Act{Do: "again", Of: "pause"})
				return o
			}
			checks.EchoChecks(p, v, f, &o)
			of, _ := facts.Offset.Read(f)
			for _, ax := range []string{"X", "Y", "Z"} {
				o.Lines = append(o.Lines, fold.Row{Label: p.Setup.Offset + " " + ax, Value: float64(of.Along(strings.ToLower(ax))), Unit: unit.KLength,
					Signed: true, Big: true})
			}
			o.Facts = []fold.Known{f, {ID: "echo"}}
			u := math.Sqrt(math.Max(f.Cov[0][0], f.Cov[1][1]))
			o.Learned = fmt.Sprintf("The control holds the offset; the pickup is good within %s (95 %%).", p.Len(2*u))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Here the stock becomes numbers in the control; a slip of a key is a crash.",
				Act:   "Key the offset into the control, then read it back from the control.",
				Read:  checks.PageRead(p),
				After: desk.JogOver(p, v, "program zero"), Scene: kit.StockPicture(p, v)}
		},
	}
}
