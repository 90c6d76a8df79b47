package vise

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// springTest opens the vise with a dial on the wall, and measures the part's thickness
// as it goes to side 2. With it side 1 is released.
func springTest(p *fold.Plan) *fold.Spec {
	live := []fold.FactID{"cut", "part/width-x", "part/width-y", "part/seat", "part/edges"}
	if p.Setup.HolesHere && kit.Side2(p) != nil {
		live = append(live, "part/holes")
	}
	return &fold.Spec{
		Title: "open the vise", Needs: fold.Live(live...), Makes: []fold.FactID{"part/spring", "part/thickness", "part/hours", "release"},
		Raises: []fold.MishapID{facts.ViseOpen},
		Pause: &fold.Pause{Heading: "BEFORE THE VISE OPENS", Lost: "Once open, this clamping can never be measured again.",
			Ask: func(fold.View) fold.Ask {
				return kit.Counted("", "sizes of the drawing for side 1 that are still open", "drawing", "open", "0",
					"Finish and measure them while the part is held.", "Cut or measure them now.")
			}},
		Asks:  func(v fold.View) []fold.Ask { return springAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeSpring(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "This one reading tells more about a stored bow than any formula.",
				Act:  "Dial on the wall, open the vise slowly, read. Then measure the thickness.",
				Read: "The dial's movement with its sign; micrometer.", Caution: "SPINDLE STOPPED. Hold the part: it drops from its parallels.",
				Scene: kit.StockPicture(p, v)}
		},
	}
}

func springAsks(p *fold.Plan, v fold.View) []fold.Ask {
	d := fold.Ask{Field: "spring", Label: "dial on the wall: moved by", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "dial", Of: "part", Dir: "open"}, Window: kit.Around(0, 0.2, "a wall that stays")}
	d.Do = []fold.Act{{Do: "fit", Of: "dial", Words: "Dial on the middle of the thinnest wall, set to zero."},
		{Do: "open", Of: "vise", Words: "Open the vise slowly. Read the dial."}}
	asks := []fold.Ask{d}
	want := p.Job.Part.Size[2] + p.Job.Part.Skin[1]
	for i := range kit.CornerName {
		a := fold.Ask{Field: fmt.Sprintf("t%d", i+1), Label: "thickness as it is now, " + kit.CornerName[i], Kind: fold.Reading,
			Unit:   unit.KLength,
			What:   fold.What{By: "micrometer", Of: "part", Dir: fmt.Sprintf("thickness-%d", i+1)},
			Window: kit.Around(want, 3, "the finished part and side 2's skin")}
		if t, ok := v.Num("t1", unit.KLength); ok && i > 0 {
			a.Window = kit.Around(t, 0.5, "the corner before")
		}
		asks = append(asks, a)
	}
	asks[1].Do = []fold.Act{{Do: "measure", Of: "part", Words: "Take the part out, no burrs. Micrometer at the four corners."}}
	return asks
}

func judgeSpring(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	d := v.Len("spring")
	c := judge.Most(p.Limit("spring"), math.Abs(d), 0)
	if c.Verdict == fold.Fail {
		c.Words = fmt.Sprintf("The wall sprang by %s. A bow was held by the vise, and the wall is cut with it.", p.Len(math.Abs(d)))
		o.Named = "stored-bow"
		o.Next = append(o.Next, springPass(v))
	}
	o.Checks = append(o.Checks, c)
	var ts []float64
	var pts []fit.Point3
	for i, q := range spots[:4] {
		t := v.Len(fmt.Sprintf("t%d", i+1))
		ts, pts = append(ts, t), append(pts, fit.Point3{X: q[0] * p.Job.Part.Size[0], Y: q[1] * p.Job.Part.Size[1], Z: t})
	}
	lo, hi := slices.Min(ts), slices.Max(ts)
	least := lo - p.Job.Part.Size[2]
	thickEnough(p, least, &o)
	pl, err := fit.ToPlane(pts)
	if err != nil { // no lean then
		pl = fit.Plane{}
	}
	u := pickup.HalfU(pickup.Micrometer)
	h, _ := kit.LastAt(v)
	mean := budget.MeanOf(ts)
	o.Facts = []fold.Known{facts.Spring.Is(facts.SpringFact{D: unit.Length(d)}),
		facts.Thickness.Is(facts.ThicknessFact{T: unit.Length(mean), Taper: unit.Length(hi - lo), BX: unit.Angle(pl.B), BY: unit.Angle(pl.C),
			Cov: fold.NewCov("t", [][]float64{{u * u}})}),
		facts.Hours.Is(facts.HoursFact{H: h, Clock: 1}), {ID: "release"}}
	o.Lines = []fold.Row{{Label: "sprang by", Value: d, Unit: unit.KLength, Signed: true, Big: true},
		{Label: "thickness", Value: mean, Unit: unit.KLength},
		{Label: "taper", Value: hi - lo, Unit: unit.KLength}, {Label: "least skin for side 2", Value: least, Unit: unit.KLength}}
	if g, ok := p.Job.Part.Given["thickness"]; ok && v.Walks(3) && math.Abs(g.Value-mean) > 0.05 {
		o.Notes = append(o.Notes, fmt.Sprintf("The job gives a thickness of %s. Side 2 and the report take the measured %s.",
			p.Len(g.Value), p.Len(mean)))
	}
	o.Learned = fmt.Sprintf("The wall moved by %s; side 2 has at least %s to cut.", p.Len(math.Abs(d)), p.Len(least))
	return o
}

// thickEnough says where the part can no longer become as thick as drawn.
func thickEnough(p *fold.Plan, least float64, o *fold.Outcome) {
	if least >= 0 {
		return
	}
	l := fold.Limit{ID: "after.least", Why: "thickness left against the drawing", Class: fold.Hard, Unit: unit.KLength}
	o.Checks = append(o.Checks, judge.Fails(fold.Check{Limit: l, Got: -least},
		fmt.Sprintf("At its thinnest the part is %s under the finished thickness.", p.Len(-least))))
	if len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "measure", Of: "part", Words: "Measure once more; then it is a decision about the drawing."},
			fold.Act{Do: "round"})
	}
}

// springPass is the way on where a wall has sprung: the part is gripped and picked up anew, for it is out
// of the vise, and the cutting is done once more.
func springPass(v fold.View) fold.Act {
	if !v.Walks(3) {
		return fold.Act{Do: "reopen", Of: "grip", Words: "Leave the wall thicker and take a spring pass with a lighter grip, or accept it by " +
			"its reason."}
	}
	return fold.Act{Do: "reopen", Of: "cut",
		Words: "Accept it by its reason. Or take a spring pass: a lighter grip, then corner and top anew."}
}
