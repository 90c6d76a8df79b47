package reuse

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// floorAndRim are read against as made.
func floorAndRim(p *fold.Plan) kit.FloorAndRim {
	return kit.FloorAndRim{P: p, Wipe: "pocket", Rim: kit.RimHeight(p), RimWhy: "the floor and the card's rim"}
}

// floorNow holds floor and rim against as made.
func floorNow(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "floor and rim", Needs: fold.Needs(fold.AsRead(facts.AMounting), facts.Back.Live()), Makes: []fold.FactID{facts.FloorNow.ID},
		Asks:  floorAndRim(p).Asks,
		Judge: func(v fold.View) fold.Outcome { return judgeFloor(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A floor that warped tilts each part.", Act: "Touch the floor in its corners and its middle, then the rim.",
				Read: kit.ReadZ(p), Caution: "SPINDLE STOPPED, its command off.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

func judgeFloor(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	pl, now, _, err := floorAndRim(p).Read(v)
	if err != nil {
		kit.Refuse(&o, "reuse.plane", "floor touches against a plane", err)
		return o
	}
	worse, off := pl.Range.V-p.Job.Fixture.AsMade.Form, now-kit.RimHeight(p)
	c := judge.Most(p.Limit("reuse.form"), math.Max(worse, 0), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The floor is %s further from a plane than as made: a chip, or it has warped.", p.Len(worse))
		o.Named = "floor-warped"
		o.Next = []fold.Act{{Do: "wipe", Of: "pocket", Words: c.Words +
			" Unbolt, wipe under it and in it, bolt, touch again; if it stays, skim the floor."}, {Do: "round"}}
	}
	r := judge.Most(p.Limit("reuse.rim"), math.Abs(off), 0)
	if r.Verdict != fold.Pass {
		r.Words = fmt.Sprintf("The rim stands %s off its height as made: a chip, or the plate is bent.", p.Len(math.Abs(off)))
		if len(o.Next) == 0 {
			o.Named = "floor-warped"
			o.Next = []fold.Act{{Do: "wipe", Of: "pocket", Words: r.Words + " Unbolt, wipe under it, bolt, touch again."}, {Do: "round"}}
		}
	}
	o.Checks = []fold.Check{c, r}
	o.Facts = []fold.Known{facts.FloorNow.Is(facts.FloorNowFact{Form: unit.Length(worse), Rim: unit.Length(off)})}
	o.Lines = []fold.Row{{Label: "floor further from a plane, worse is +", Value: worse, Unit: unit.KLength, Signed: true, Big: true},
		{Label: "rim beyond as made, higher is +", Value: off, Unit: unit.KLength, Signed: true}}
	o.Learned = fmt.Sprintf("Floor and rim are within %s of as made.", p.Len(math.Max(math.Abs(worse), math.Abs(off))))
	return o
}
