package reuse

import (
	"fmt"
	"math"

	fitted "fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// places are the touches on the floor: four corners and the middle.
func places(p *fold.Plan) []jobs.Point {
	lo, hi := kit.OutlineBox(p.Job.Fixture.Pocket.Outline)
	at := func(a, b float64) jobs.Point {
		return jobs.Point{X: kit.Even(p, lo.X+a*(hi.X-lo.X), 0.1, 0.01), Y: kit.Even(p, lo.Y+b*(hi.Y-lo.Y), 0.1, 0.01)}
	}
	return []jobs.Point{at(.1, .1), at(.9, .1), at(.9, .9), at(.1, .9), at(.5, .5)}
}

// floorNow holds floor and rim against as made.
func floorNow(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "floor and rim", Needs: fold.Needs(fold.AsRead(facts.AMounting), facts.Back.Live()), Makes: []fold.FactID{facts.FloorNow.ID},
		Asks:  func(v fold.View) []fold.Ask { return floorAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeFloor(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A floor that warped tilts each part.", Act: "Touch the floor in its corners and its middle, then the rim.",
				Read: kit.ReadZ(p), Caution: "SPINDLE STOPPED, its command off.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

func floorAsks(p *fold.Plan, v fold.View) []fold.Ask {
	var asks []fold.Ask
	if kit.TouchBy(p) == "tool" {
		asks = append(asks, kit.BlockAsk(p))
	}
	touch := func(field, label, thing string, q jobs.Point, w *fold.Window) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, Window: w,
			What: fold.What{By: kit.TouchBy(p), Of: thing + "@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "z-", Axis: "z"}}
	}
	w := kit.TravelWindow(p, "z")
	for i, q := range places(p) {
		asks = append(asks, touch(fmt.Sprintf("z%d", i+1), "floor, "+[5]string{"near LEFT", "near RIGHT", "far RIGHT", "far LEFT", "MIDDLE"}[i],
			"floor", q, w))
		if z, ok := v.Num("z1", unit.KLength); ok {
			w = kit.Around(z, 0.5, "the first touch")
			w.Slips = kit.Slips(p, v, "z", 0, nil)
		}
	}
	asks[len(asks)-5].Do = []fold.Act{{Do: "wipe", Of: "pocket", Words: "Wipe floor and rim. Touch each place straight down."}}
	for i, q := range kit.Rim(p) {
		r := w
		if z, ok := v.Num("z1", unit.KLength); ok {
			r = kit.Around(z+rim(p), 1, "the floor and the card's rim")
		}
		asks = append(asks, touch(fmt.Sprintf("rim%d", i+1), "rim, "+[2]string{"LEFT", "RIGHT"}[i], "rim", q, r))
	}
	return asks
}

// rim is rim over floor as made.
func rim(p *fold.Plan) float64 {
	if r := p.Job.Fixture.AsMade.Rim; r > 0 {
		return r
	}
	return p.Job.Fixture.AsMade.Floor.Depth
}

func judgeFloor(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	var ps []fitted.Point3
	for i, q := range places(p) {
		ps = append(ps, fitted.Point3{X: q.X, Y: q.Y, Z: v.Len(fmt.Sprintf("z%d", i+1))})
	}
	pl, err := fitted.ToPlane(ps)
	if err != nil {
		kit.Refuse(&o, "reuse.plane", "floor touches against a plane", err)
		return o
	}
	now := 0.0
	for i, q := range kit.Rim(p) {
		now += (v.Len(fmt.Sprintf("rim%d", i+1)) - pl.At(q.X, q.Y)) / 2
	}
	worse, off := pl.Range.V-p.Job.Fixture.AsMade.Form, now-rim(p)
	c := judge.Most(p.Limit("reuse.form"), math.Max(worse, 0), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The floor is %s further from a plane than as made: a chip, or it has warped.", p.Len(worse))
		o.Named = "floor-warped"
		o.Next = []fold.Act{{Do: "wipe", Of: "pocket", Words: c.Words + " Wipe and touch again; if it stays, skim the floor."}, {Do: "round"}}
	}
	r := judge.Most(p.Limit("reuse.rim"), math.Abs(off), 0)
	if r.Verdict != fold.Pass {
		r.Words = fmt.Sprintf("The rim stands %s off its height as made: a chip, or the plate is bent.", p.Len(math.Abs(off)))
		if len(o.Next) == 0 {
			o.Named = "floor-warped"
			o.Next = []fold.Act{{Do: "wipe", Of: "pocket", Words: r.Words + " Wipe and touch again."}, {Do: "round"}}
		}
	}
	o.Checks = []fold.Check{c, r}
	o.Facts = []fold.Known{facts.FloorNow.Is(facts.FloorNowFact{Form: unit.Length(worse), Rim: unit.Length(off)})}
	o.Lines = []fold.Row{{Label: "floor further from a plane, worse is +", Value: worse, Unit: unit.KLength, Signed: true, Big: true},
		{Label: "rim beyond as made, higher is +", Value: off, Unit: unit.KLength, Signed: true}}
	o.Learned = fmt.Sprintf("Floor and rim are within %s of as made.", p.Len(math.Max(math.Abs(worse), math.Abs(off))))
	return o
}
