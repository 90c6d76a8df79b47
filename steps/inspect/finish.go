package inspect

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	calc "fliptrue/calc/inspect"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// strips is in how many places the offcut is measured before and after the whole sequence of grits.
const strips = 3

// finish says whether sanding takes the step away: what it takes is measured on the offcut, not believed.
func finish(p *fold.Plan) *fold.Spec {
	in := p.Setup.Inspect
	if in.Finish == nil {
		return nil
	}
	needs := fold.Needs(facts.Benched.Live(), facts.Mismatch.Live())
	if in.Wall[0] > 0 {
		needs = append(needs, facts.Walls.Live()...)
	}
	return &fold.Spec{
		Title: "sanding", Needs: needs, Makes: []fold.FactID{facts.Finish.ID}, Keys: []string{"setups." + p.Setup.Name + ".inspect"},
		Asks: func(v fold.View) (asks []fold.Ask) {
			for i := 1; i <= strips; i++ {
				w := kit.Around(15, 14.5, "an offcut")
				if x, ok := v.Num("b1", unit.KLength); ok && i > 1 {
					w = kit.Around(x, 0.3, "the first mark")
				}
				asks = append(asks, fold.Ask{Field: fmt.Sprintf("b%d", i), Label: fmt.Sprintf("offcut before sanding, width at mark %d", i),
					Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "micrometer", Of: "offcut", Dir: fmt.Sprintf("before%d", i)},
					Window: w})
			}
			for i := 1; i <= strips; i++ {
				a := fold.Ask{Field: fmt.Sprintf("a%d", i), Label: fmt.Sprintf("after the last grit, width at mark %d", i), Kind: fold.Reading,
					Unit: unit.KLength, What: fold.What{By: "micrometer", Of: "offcut", Dir: fmt.Sprintf("after%d", i)}}
				if x, ok := v.Num(fmt.Sprintf("b%d", i), unit.KLength); ok {
					a.Window = kit.Around(x-0.05, 0.2, "as before, less two faces")
				}
				if i == 1 {
					a.Do = []fold.Act{{Do: "measure", Of: "offcut",
						Words: "Sand both faces of the offcut by the whole sequence of grits, as the part will be. Wet sanding: measure the next day."}}
				}
				asks = append(asks, a)
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome { return judgeFinish(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A step is sanded away only if the wall still bears what the grits take.",
				Act:     "Mark three places on the offcut. Measure its width there, sand it, measure again.",
				Read:    "Micrometer, light ratchet, the same marks.",
				Caution: "Dust: mask and extraction, no open flame. Hardwood dust counts as a carcinogen.",
				After:   "Oily rags burn by themselves: flat to dry outdoors, or in a closed can with water.", Scene: drawn(p, nil)}
		},
	}
}

// worstStep is the largest step on an outer face, at its ends.
func worstStep(p *fold.Plan, m calc.Mismatch) (worst float64) {
	h := middle(p)
	for _, c := range []frame.Vec{{X: h.X, Y: h.Y}, {X: h.X, Y: -h.Y}, {X: -h.X, Y: h.Y}, {X: -h.X, Y: -h.Y}} {
		d, _ := m.At(c)
		for _, along := range []float64{math.Copysign(1, c.X) * d.X, math.Copysign(1, c.Y) * d.Y} {
			worst = math.Max(worst, math.Abs(along+m.Size))
		}
	}
	return worst
}

func judgeFinish(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	f, ok := facts.Mismatch.In(v)
	if !ok {
		return o
	}
	in := p.Setup.Inspect
	var takes []float64
	for i := 1; i <= strips; i++ {
		takes = append(takes, (v.Len(fmt.Sprintf("b%d", i))-v.Len(fmt.Sprintf("a%d", i)))/2)
	}
	mean, scatter, err := calc.Takes(takes)
	if err != nil {
		kit.Refuse(&o, "inspect.offcut", reckoned, err)
		return o
	}
	wall, least := math.Inf(1), 0.0
	if w, ok := facts.Walls.In(v); ok && in.Wall[0] > 0 {
		wall = in.Wall[0] + float64(w.Thicker) - math.Max(math.Abs(float64(w.DX)), math.Abs(float64(w.DY)))
		if least = in.Finish.Least; least == 0 {
			least = in.Wall[0] - in.Wall[1]
		}
	}
	step := worstStep(p, mismatch(f))
	s := calc.Sanding{Takes: mean, Scatter: scatter, Most: in.Finish.Most}
	o.Lines = []fold.Row{{Label: "largest step on a face", Value: step, Unit: unit.KLength, Big: true},
		{Label: "sanding takes of a face", Value: mean, Guard: scatter, Unit: unit.KLength}}
	o.Facts = []fold.Known{facts.Finish.Is(facts.FinishFact{Takes: unit.Length(mean), Scatter: unit.Length(scatter)})}
	most := judge.Most(judge.At(fold.Limit{ID: "inspect.step", Why: "largest step that is sanded away", Class: fold.Soft, Unit: unit.KLength,
		System: p.Job.Unit}, s.Most), step, 0)
	if most.Verdict != fold.Pass {
		most.Words = fmt.Sprintf("A step of %s is more than sanding takes evenly: scrape it first, or leave it.", p.Len(step))
	}
	o.Checks = []fold.Check{most}
	if !math.IsInf(wall, 1) {
		left, _, err := s.Clears(step, wall, least)
		if err != nil {
			kit.Refuse(&o, "inspect.sanding", reckoned, err)
			return o
		}
		thin := judge.Least(judge.At(fold.Limit{ID: "inspect.left", Why: "thinnest wall that is left", Min: true, Class: fold.Soft,
			Unit: unit.KLength, System: p.Job.Unit}, least), left, 0)
		if thin.Verdict != fold.Pass {
			thin.Words = fmt.Sprintf("Sanding would leave %s of the thinnest wall: do not sand the outside there.", p.Len(left))
		}
		o.Checks = append(o.Checks, thin)
		o.Lines = append(o.Lines, fold.Row{Label: "thinnest wall then", Value: left, Unit: unit.KLength, Verdict: thin.Verdict})
	}
	for _, c := range o.Checks {
		if c.Verdict != fold.Pass && len(o.Next) == 0 {
			o.Named = "step-high"
			o.Next = []fold.Act{{Do: "look", Of: "part", Words: c.Words + " Accept it by its reason."}}
		}
	}
	o.Notes = []string{"A film adds: oil next to nothing, hard wax 5 to 10 µm, varnish 25 to 50 µm a coat. Estimates."}
	o.Learned = fmt.Sprintf("Sanding takes %s of a face; the largest step is %s.", p.Len(mean), p.Len(step))
	return o
}
