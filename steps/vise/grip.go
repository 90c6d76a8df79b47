package vise

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Grip that holds: a least height, and a share of what stands above the jaws (common practice, from memory).
const (
	leastGrip  = 3.0
	shareGrip  = 0.15
	gentleTurn = "Handle about an eighth of a turn past contact."
)

// grip sets the stock on its parallels and closes the vise. Fact "seat": [grip above].
func grip(p *fold.Plan) *fold.Spec {
	holes := ""
	if p.Setup.HolesHere {
		holes = " Parallels clear of the through holes."
	}
	stop := "its mark"
	if p.Setup.Vise.Stop != "" {
		stop = "the stop at the " + map[string]string{"left": "LEFT", "right": "RIGHT"}[p.Setup.Vise.Stop]
	}
	return &fold.Spec{
		Title: "stock in vise", Needs: fold.Needs(fold.Live("identity"), fold.AsRead("skew", "stock")), Makes: []fold.FactID{"seat"},
		Keys: gripKeys(p), Former: []string{"setups." + p.Setup.Name + ".vise"},
		Asks: func(v fold.View) []fold.Ask {
			asks := []fold.Ask{
				{Field: "front", Label: "the mark FRONT is", Kind: fold.Choice, Options: []string{"toward you", "away", "left", "right"}, What: fold.What{By: "eye", Of: "stock", Dir: "front"}, Want: "toward you",
					WantWhy: "The stock lies turned.", Hint: "Open, turn it, seat it again.",
					Do: []fold.Act{{Do: "grip", Of: "stock", Words: "Wipe all faces. Stock on its parallels against " + stop +
						", close, tap down with a soft hammer." + holes}}},
				kit.Counted("loose", "parallels that move under a finger", "parallels", "loose", "0",
					"The stock lifted from a parallel when the jaw closed.", "Open, wipe, tap it down while you close."),
				{Field: "g", Label: "height gripped by the jaws", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "calliper", Of: "stock", Dir: "grip"}, Window: kit.Around(p.Setup.Vise.Grip, 1.5, "the grip planned")},
			}
			if p.Setup.Vise.Parallel > 0 {
				asks = append(asks, fold.Ask{Field: "parallel", Label: "height engraved on the parallels", Kind: fold.Reading, Unit: unit.KLength,
					What: fold.What{By: "eye", Of: "parallels", Dir: "height"}, Window: kit.Around(p.Setup.Vise.Parallel, 0.01, "the parallels planned")})
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome { return gripped(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Stock that lifts from one parallel is cut tilted. A wall squeezed while it is cut springs open afterwards.",
				Act: "Seat the stock, close the vise, try the parallels.", Read: "Counts as felt; the grip by the calliper's depth rod.",
				Caution: "SPINDLE STOPPED while hands are in. " + forceWords(p), Scene: kit.StockPicture(p, v)}
		},
	}
}

// gripped judges how high the jaws hold, and whether the stock lies down.
func gripped(p *fold.Plan, v fold.View) (o fold.Outcome) {
	g := v.Len("g")
	above := kit.StockSize(p, v)[2] - g
	need := math.Max(leastGrip, shareGrip*above)
	c := judge.Least(judge.At(p.Limit("grip.height"), need), g, 0)
	again := func(words string) {
		o.Next = append(o.Next, fold.Act{Do: "grip", Of: "stock", Words: words}, fold.Act{Do: "round"})
	}
	switch {
	case c.Verdict == fold.Fail:
		holds, wants := p.Apart(g, need)
		c.Words = fmt.Sprintf("The jaws hold %s; %s above them want %s.", holds, p.Len(above), wants)
		again(c.Words + " Lower parallels.")
	case v.Int("loose") > 0:
		o.Named = "lifted-in-vise"
		again("Open, wipe parallels and stock, tap it down while you close, try the parallels again.")
	case !fold.SameAnswer(v.Text("front"), "toward you"):
		again("Open, turn the stock, seat it again.")
	}
	if h, ok := v.Num("parallel", unit.KLength); ok && math.Abs(h-p.Setup.Vise.Parallel) > 0.01 {
		o.Notes = append(o.Notes, fmt.Sprintf("The parallels are %s, the job says %s. The jaw top in the job is then another.", p.Len(h),
			p.Len(p.Setup.Vise.Parallel)))
	}
	o.Checks = append(o.Checks, c)
	o.Lines = append(o.Lines, fold.Row{Label: "gripped", Value: g, Unit: unit.KLength, Big: true},
		fold.Row{Label: "above the jaws", Value: above, Unit: unit.KLength})
	force(p, g, &o)
	o.Facts = []fold.Known{{ID: "seat", Value: []float64{g, above}}}
	o.Learned = fmt.Sprintf("The stock lies on its parallels, gripped %s high.", p.Len(g))
	return o
}

// squeeze is what closing the vise does to the wall that will be left.
func squeeze(p *fold.Plan, grip float64) (s hold.Squeeze, f unit.Force, ok bool, why string) {
	w := p.Setup.Vise
	if w.Wall <= 0 || w.WallSpan <= 0 {
		return s, 0, false, "Vise force is not reckoned: the job names no wall that stays between the jaws (vise.wall, vise.wall-span)."
	}
	e := 0.0
	if m, given := p.Job.Materials[p.Job.Part.Material]; given && m.E[0] > 0 {
		e = m.E[0]
	} else if m, err := (hold.Library{}).Named(p.Job.Part.Material); err == nil {
		e = m.Stiffness.Low
	}
	if e <= 0 {
		return s, 0, false, fmt.Sprintf("Vise force is not reckoned: the stiffness of %s is not known; give it in the job's materials.",
			p.Job.Part.Material)
	}
	f = w.Force
	if f == 0 {
		f = hold.GentlestVise
	}
	b := hold.Beam{Length: unit.Length(w.WallSpan), Width: unit.Length(math.Max(grip, leastGrip)), Thick: unit.Length(w.Wall),
		E: unit.Stress(e)}
	s, err := hold.Squeezed(b, hold.Fixed, f, unit.Length(0.2*float64(p.Job.Allowance)))
	if err != nil {
		return s, 0, false, "Vise force is not reckoned: " + err.Error() + "."
	}
	return s, f, true, ""
}

// force adds the advice on vise force: said, never a block.
func force(p *fold.Plan, grip float64, o *fold.Outcome) {
	s, f, ok, why := squeeze(p, grip)
	if !ok {
		o.Notes = append(o.Notes, why)
		return
	}
	bow := fold.Row{Label: fmt.Sprintf("bow of the wall at %s", unit.Show(float64(f), unit.KForce, p.Job.Unit, 1)),
		Value: float64(s.Bow), Unit: unit.KLength}
	if float64(s.Bow) > p.Setup.Vise.Wall { // small bows alone are in proportion to the force
		bow.Text = "more than its thickness: it folds"
	}
	o.Lines = append(o.Lines, bow, fold.Row{Label: "force for a bow of 0.2 of the allowance", Value: float64(s.Allowed), Unit: unit.KForce})
	switch {
	case s.Gentle && float64(s.Bow) <= 0.2*float64(p.Job.Allowance):
		o.Notes = append(o.Notes, "The wall bears the vise.")
	case s.Gentle:
		o.Notes = append(o.Notes, fmt.Sprintf("Close with %s at most. %s", unit.Show(float64(s.Allowed), unit.KForce, p.Job.Unit, 1), gentleTurn))
	case s.FarOver:
		o.Notes = append(o.Notes, "The wall would bow by far too much. No vise setting is gentle enough. Leave it thick on side 1.")
	default:
		o.Notes = append(o.Notes, "No vise setting is gentle enough for this wall. Leave it thick on side 1, or take a spring pass.")
	}
	o.Notes = append(o.Notes, "The bow is reckoned for a wall held at its ends, with the lowest stiffness of the material.")
}

// forceWords are the short form for the page.
func forceWords(p *fold.Plan) string {
	if s, _, ok, _ := squeeze(p, p.Setup.Vise.Grip); ok && !s.Gentle {
		return gentleTurn + " The wall that stays bears no more."
	}
	return "Not more than the solid stock needs."
}

// gripKeys are the job's words by which the stock was put in.
func gripKeys(p *fold.Plan) (out []string) {
	for _, k := range []string{"jaw", "stop", "parallel"} {
		out = append(out, "setups."+p.Setup.Name+".vise."+k)
	}
	return out
}
