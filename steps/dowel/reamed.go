package dowel

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	calc "fliptrue/calc/dowel"
	"fliptrue/calc/growth"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// goes is why pins and holes are held against each other before anything is laid on.
const goes = "the pins go into the holes"

// reamed measures the part's two holes by gauge pins, and holds them against the pins that they go on.
func reamed(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "holes of the part", Needs: facts.Pins.Live(), Makes: []fold.FactID{facts.Reamed.ID},
		Keys:  []string{"setups." + p.Setup.Name + ".dowels"},
		Asks:  func(v fold.View) []fold.Ask { return holeAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeHoles(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "What hole and pin leave is how far side 2 may lie off side 1.",
				Act:     "Put gauge pins into both holes of the part. Then measure over two that stand in them.",
				Read:    "Size of the pin: the largest that goes in freely, the smallest that does not.",
				Caution: "Never force a pin: a thin rim splits. Burrs off by hand, not by knife toward you.", Rows: bought(p),
				Scene: kit.Scene(p, v, nil)}
		},
	}
}

func holeAsks(p *fold.Plan, v fold.View) []fold.Ask {
	d, apart := drawn(p)
	gauge := func(field, label, dir, no string, want, half float64, why string) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "gauge", Of: "reamed/" + no,
			Dir: dir}, Window: kit.Around(want, half, why)}
	}
	var asks []fold.Ask
	over := apart
	for i, t := range two {
		want := d[i] + play(p)
		asks = append(asks, gauge("go"+t.no, "largest pin that goes into the "+t.name+" hole", "go", t.no, want, 0.05,
			"the fixture's pin and the planned play"))
		if g, ok := v.Num("go"+t.no, unit.KLength); ok {
			want = g
		}
		over += want / 2
		asks = append(asks, gauge("no"+t.no, "smallest pin that does not go into it", "no-go", t.no, want, 0.05, "the pin that goes in"))
	}
	asks[0].Do = []fold.Act{{Do: "wipe", Of: "part", Words: "Clear and wipe both holes; a chip in a hole lifts the part."}}
	a := fold.Ask{Field: "over", Label: "outside over those that go in, by micrometer", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "micrometer", Of: "reamed", Dir: "over"}, Window: kit.Around(over, 0.1, "the drawing")}
	a.Do = []fold.Act{{Do: "measure", Of: "part", Words: "Stand the two that go in upright in their holes."}}
	return append(asks, a)
}

// holes are the two holes as read, an error where a pin that does not go in is no larger than one that does.
func holes(p *fold.Plan, v fold.View) (f facts.ReamedFact, err error) {
	var d, u [2]float64
	for i, t := range two {
		least, most := v.Len("go"+t.no), v.Len("no"+t.no)
		if !(most > least) {
			return f, fmt.Errorf("the %s hole takes %s but not %s: measure the gauge pins", t.name, p.Len(least), p.Len(most))
		}
		d[i], u[i] = calc.GoNoGo(least, most)
	}
	apart, ua := calc.OverPins(v.Len("over"), [2]float64{v.Len("go1"), v.Len("go2")}, d, growth.MicrometerU)
	f = facts.ReamedFact{D1: unit.Length(d[0]), D2: unit.Length(d[1]), Apart: unit.Length(apart)}
	f.Cov = fold.NewCov("d1,d2,apart", [][]float64{{u[0] * u[0], 0, 0}, {0, u[1] * u[1], 0}, {0, 0, ua * ua}})
	return f, nil
}

// onPins puts holes and pins together.
func onPins(h facts.ReamedFact, n facts.PinsFact) calc.Pins {
	return calc.Pins{Hole1: float64(h.D1), Pin1: float64(n.D1), Hole2: float64(h.D2), Pin2: float64(n.D2), Apart: float64(n.Apart)}
}

func judgeHoles(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	n, ok := facts.Pins.In(v)
	if !ok {
		return o
	}
	h, err := holes(p, v)
	if err != nil {
		kit.Refuse(&o, "dowel.gauges", "a gauge pin that does not go in is larger than one that does", err)
		return o
	}
	on := onPins(h, n)
	j, err := on.Play()
	if err != nil {
		kit.Refuse(&o, "dowel.goes", goes, err)
		o.Named = "hole-tight"
		return o
	}
	for i, got := range []float64{j.J1, j.J2} {
		c := judge.Most(p.Limit("dowel.play"), got, 0)
		c.Limit.ID += "." + two[i].no
		if c.Verdict != fold.Pass {
			c.Words = fmt.Sprintf("The %s hole plays %s on its pin: the part may lie off by half of that. Press in a larger pin.", two[i].name,
				p.Len(got))
			o.Named = "hole-wide"
			o.Next = append(o.Next, fold.Act{Do: "look", Of: "pin", Words: c.Words + " Or accept it by its reason: the budget has it."})
		}
		o.Checks = append(o.Checks, c)
	}
	s, err := on.Fits(float64(h.Apart), 0, p.Setup.Dowels.Land)
	if err != nil {
		kit.Refuse(&o, "dowel.goes", goes, err)
		return o
	}
	l := p.Limit("dowel.apart")
	l.Max = s.Bears
	u := budget.OneSided * math.Sqrt(h.Cov.Var("apart")+n.Cov.Var("apart"))
	c := judge.Most(l, math.Abs(s.Differ), 0) // whether it falls on is tried next, and decides
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The holes are %s farther apart than the pins, which bear %s: it jams. Never press it on.", kit.Signed(p, s.Differ),
			p.Len(s.Bears))
		o.Next = append(o.Next, fold.Act{Do: "wait", Of: "part", Words: c.Words + " Let part and fixture become equally warm; measure again. " +
			"Else a diamond, its land across the line."}, fold.Act{Do: "round"})
		o.Named = "holes-apart"
	} else if c.Got+u > l.Max {
		o.Notes = append(o.Notes, "By these readings it may just go on, or not: its own weight will tell.")
	}
	o.Checks = append(o.Checks, c)
	o.Facts = []fold.Known{facts.Reamed.Is(h)}
	o.Lines = []fold.Row{{Label: "play on the pin", Value: j.J1, Unit: unit.KLength, Big: true}, {Label: "play on the second pin", Value: j.J2,
		Unit: unit.KLength, Big: true},
		{Label: "part may turn by", Value: j.Turn, Unit: unit.KSlope}, {Label: "holes farther apart than pins", Value: s.Differ, Guard: u, Unit: unit.KLength, Signed: true, Verdict: c.Verdict},
		{Label: "they bear", Value: s.Bears, Unit: unit.KLength}}
	o.Learned = fmt.Sprintf("The holes play %s and %s on their pins. They are %s farther apart than the pins, which bear %s.", p.Len(j.J1),
		p.Len(j.J2), kit.Signed(p, s.Differ), p.Len(s.Bears))
	return o
}
