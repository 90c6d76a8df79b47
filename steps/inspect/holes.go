package inspect

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	calc "fliptrue/calc/inspect"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// hole is one distance of a hole from a face of side 1.
type hole struct {
	jobs.Feature
	axis  fit.Axis
	field string
	from  string // the face
}

func holesOf(p *fold.Plan) (out []hole) {
	for i, name := range p.Setup.Inspect.Holes {
		at := slices.IndexFunc(p.Job.Part.Features, func(f jobs.Feature) bool { return f.Name == name })
		if at < 0 {
			continue
		}
		f := p.Job.Part.Features[at]
		out = append(out, hole{f, fit.AxisX, fmt.Sprintf("h%d.x", i+1), "LEFT"}, hole{f, fit.AxisY, fmt.Sprintf("h%d.y", i+1), "TOWARD YOU"})
	}
	return out
}

// named is the hole as on the drawing, and the axis.
func (h hole) named() string {
	return strings.ReplaceAll(strings.ToLower(h.Name), " ", "-") + h.field[strings.LastIndexByte(h.field, '.'):]
}

// along is the place on the hole's axis, program coordinates: the distance from the face.
func (h hole) along() float64 {
	if h.axis == fit.AxisX {
		return h.At.X
	}
	return h.At.Y
}

// holes measures holes of side 2 from faces of side 1: a look at the place that no step shares.
func holes(p *fold.Plan) *fold.Spec {
	hs := holesOf(p)
	if len(hs) == 0 {
		return nil
	}
	return &fold.Spec{
		Title: "hole to edge", Needs: fold.Needs(facts.Benched.Live(), facts.Mismatch.Live()), Makes: []fold.FactID{facts.Edged.ID},
		Keys: []string{"setups." + p.Setup.Name + ".inspect", "part.features"},
		Asks: func(v fold.View) []fold.Ask {
			asks := []fold.Ask{{Field: "pin", Label: "diameter of the pin in the hole", Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: "micrometer", Of: "pin", Dir: "dia"}, Window: kit.Around(6, 5.9, "a gauge pin")}}
			dia, given := v.Num("pin", unit.KLength)
			for _, h := range hs {
				a := fold.Ask{Field: h.field, Label: h.Name + ": " + h.from + " face of side 1 to the far side of the pin", Kind: fold.Reading,
					Unit: unit.KLength,
					What: fold.What{By: "calliper", Of: "hole@" + kit.Place(h.At.X) + "," + kit.Place(h.At.Y), Dir: map[fit.Axis]string{fit.AxisX: "x",
						fit.AxisY: "y"}[h.axis]}}
				if given {
					a.Window = kit.Around(h.along()+dia/2, 0.3, "the drawing")
				}
				asks = append(asks, a)
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome { return judgeHoles(p, hs, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A hole has no step: only its distance from side 1 says where side 2 put it.",
				Act:  "Pin in the hole, the largest that goes in by hand. Measure over it from side 1's faces.",
				Read: "Calliper or height gauge, below the parting line.", Caution: "Do not force the pin: it splits a thin wall.",
				Scene: drawn(p, nil)}
		},
	}
}

func judgeHoles(p *fold.Plan, hs []hole, v fold.View) fold.Outcome {
	var o fold.Outcome
	f, ok := facts.Mismatch.In(v)
	if !ok {
		return o
	}
	m := mismatch(f)
	half := v.Len("pin") / 2
	// One of them off beyond chance, all of them looked at together.
	t := budget.CriticalT(0.05, len(hs), math.Inf(1))
	var mean frame.Vec
	n := float64(len(hs)) / 2
	for _, h := range hs {
		off := v.Len(h.field) - half - h.along()
		at, u := m.At(kit.Vec(h.At).Sub(middle(p)))
		by, ub, name := at.X, u.X, "X"
		if h.axis == fit.AxisY {
			by, ub, name = at.Y, u.Y, "Y"
			mean.Y += off / n
		} else {
			mean.X += off / n
		}
		l := judge.At(fold.Limit{ID: "inspect.hole." + h.named(), Why: h.Name + " against the steps, " + name, Class: fold.Soft,
			Unit:   unit.KLength,
			System: p.Job.Unit}, t*math.Hypot(calc.HoleU, ub))
		c := judge.Off(l, off, by, 0)
		c.On = h.field
		if c.Verdict != fold.Pass {
			c.Words = fmt.Sprintf("%s lies %s along %s; the steps say %s. The hole wandered, or the pin is of another size: it is not the fixture.",
				fold.Capital(h.Name), kit.Signed(p, off), name, kit.Signed(p, by))
			if len(o.Next) == 0 {
				o.Named = "hole-off"
				o.Next = []fold.Act{{Do: "measure", Of: "part", Words: c.Words + " Measure pin and hole once more; if it stays, accept it."},
					{Do: "again", Of: h.field}}
			}
		}
		o.Checks = append(o.Checks, c)
		o.Lines = append(o.Lines, fold.Row{Label: h.Name + " along " + name, Value: off, Guard: budget.OneSided * calc.HoleU, Unit: unit.KLength,
			Signed: true, Verdict: c.Verdict})
	}
	u2 := calc.HoleU * calc.HoleU / n
	o.Facts = []fold.Known{facts.Edged.Is(facts.EdgedFact{DX: unit.Length(mean.X), DY: unit.Length(mean.Y),
		Cov: fold.NewCov("dx,dy", [][]float64{{u2, 0}, {0, u2}})})}
	o.Learned = fmt.Sprintf("By its holes side 2 lies %s along X and %s along Y.", kit.Signed(p, mean.X), kit.Signed(p, mean.Y))
	return o
}
