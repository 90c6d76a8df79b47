package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// straps puts the clamps on as drawn and counts them.
func straps(p *fold.Plan) *fold.Spec {
	reads, cut := checks.ReadsAt(p, desk.WhileHeld), checks.ReadsAt(p, desk.WhileCut)
	return &fold.Spec{
		Title: "straps on", Needs: fold.Needs(fold.Live("seat"), fold.IfThere(append([]fold.FactID{"offset"}, checks.CutterLengths(p)...)...)),
		Makes: []fold.FactID{"clamps"}, Keys: []string{"setups." + p.Setup.Name + ".clamps"},
		Asks: func(v fold.View) []fold.Ask {
			return append(append(strapAsks(p), reads.Asks(v)...), cut.Asks(v)...)
		},
		Judge: func(v fold.View) fold.Outcome {
			o := judgeStraps(p, v)
			reads.Pass(v, &o)
			if v.Walks(3) { // the cut's too: after the holes it is late to learn that it is too deep
				cut.Pass(v, &o)
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			var marks []fold.Shape
			for _, c := range p.Setup.Clamps {
				var pts []fold.XY
				for _, q := range c.Outline {
					pts = append(pts, kit.FixturePlace(p, q))
				}
				marks = append(marks, fold.Shape{Role: fold.RoleClamp, Name: c.Name, Points: pts, Closed: true})
				if at, ok := desk.Tip(p, c); ok {
					marks = append(marks, fold.Shape{Role: fold.RoleNext, Points: []fold.XY{kit.FixturePlace(p, at)}})
				}
			}
			k := desk.DrillKeepOut(p)
			path, _ := reads.Shapes(v)
			marks = append(append(marks, k.Marks(p)...), path...)
			act, read := "Strap the part down as drawn, dial on the part.", "The needle's movement from finger tight to full; then count."
			if undialled(p) {
				act, read = "Strap the part down as drawn.", "Clamps counted; one torque for all."
			}
			return fold.Page{Why: "A strap over a hollow bends the part, and it is cut bent.",
				Act:     act,
				Read:    read,
				Caution: "Clamp ends never reach into the tool path. Take the wrench off the table.",
				Rows:    desk.StrapHolds(p, 0, desk.Found(v)).Rows,
				Scene:   kit.Scene(p, v, marks)}
		},
	}
}

// undialled says that no dial is read as the straps go on.
func undialled(p *fold.Plan) bool { return p.Short() && !p.Reads(fold.FirstUse) }

func strapAsks(p *fold.Plan) []fold.Ask {
	n, dial := fmt.Sprint(len(p.Setup.Clamps)), " Dial on the part."
	if undialled(p) {
		dial = ""
	}
	drawn := fold.Ask{Field: "drawn", Label: "heel, bolt and tip of every clamp stand", Kind: fold.Choice,
		Options: []string{"as drawn", "elsewhere"}, What: fold.What{By: "eye", Of: "clamps", Dir: "drawn"}, Want: "as drawn",
		WantWhy: "Clearances and forces hold for the clamps as drawn.", Hint: "Set them as drawn, or change the job.",
		Do: []fold.Act{{Do: "strap", Of: "clamps", Words: "Heel block 0 to " + p.Len(kit.Even(p, 2, 2, 0.08)) +
			" higher than the part. Bolt nearer the part than the heel, card under the tip." + dial + " Fingers, then half, then full, " +
			"alternately" + clampTorque(p) + "."}}}
	solid := kit.Counted("solid", "tips that press above solid fixture", "clamps", "solid", n,
		"Over a hollow the tip bends the part's floor, and it springs back when the strap comes off.",
		"Shift the clamp until its tip stands over a support.")
	on := kit.Counted("on", "clamps on the part", "clamps", "on", n, "The job has "+n+".", "Fit the missing clamp, or change the job.")
	strap := func(words string) fold.Act { return fold.Act{Do: "strap", Of: "clamps", Dir: "solid", Words: words} }
	drawn = kit.Mend(drawn, "", strap("Set heel, bolt and tip as drawn. Or change the job."))
	solid = kit.Mend(solid, "strap-over-hollow", strap("Loosen, set every tip over a support, tighten again."))
	on = kit.Mend(on, "", strap("Fit the missing clamp, or change the job."))
	moved := func(field, label string) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "dial", Of: "part", Dir: "strap",
			Axis: field}, Window: kit.Around(0, 0.2, "a part that stays")}
	}
	t := fold.Ask{Field: "torque", Label: "torque of the clamp bolts, one for all", Kind: fold.Reading, Unit: unit.KTorque,
		What: fold.What{By: "driver", Of: "clamps", Dir: "torque"}}
	if len(p.Setup.Clamps) > 0 {
		m := float64(p.Setup.Clamps[0].Torque)
		t.Bare, t.Window = desk.TorqueUnit(p, m), kit.Around(m, 0.3*m, "the job")
	}
	return append(kit.OneForm("straps", drawn, solid, on), moved("xy", "dial, sideways, from finger tight to full"),
		moved("z", "dial, height, from finger tight to full"), t)
}

// clampTorque is what full is, "" where the job does not say.
func clampTorque(p *fold.Plan) string {
	if len(p.Setup.Clamps) == 0 || p.Setup.Clamps[0].Torque <= 0 {
		return ""
	}
	return ": " + desk.Torque(p, float64(p.Setup.Clamps[0].Torque))
}

// judgeStraps holds what the straps did to the part, and all that is to be known before a hole is drilled.
func judgeStraps(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	move := judge.Of(p.Limit("straps.move"), math.Abs(v.Len("xy")), 0)
	bow := judge.Of(p.Limit("straps.bow"), math.Abs(v.Len("z")), 0)
	if move.Verdict == fold.Fail {
		move.Words = "The straps pushed the part sideways: loosen, push it against its walls, tighten alternately in smaller steps."
		o.Next = append(o.Next, fold.Act{Do: "strap", Of: "clamps", Words: move.Words}, fold.Act{Do: "round"})
	}
	if bow.Verdict == fold.Fail {
		bow.Words = "The straps bow the part: a tip stands over a hollow, or a heel is too low."
		o.Named = "strap-over-hollow"
		o.Next = append(o.Next, fold.Act{Do: "strap", Of: "clamps", Dir: "solid", Words: bow.Words +
			" Loosen all, set the tips over supports, tighten again."}, fold.Act{Do: "round"})
	}
	if s := v.Int("solid"); s >= 0 && s != len(p.Setup.Clamps) {
		o.Named = "strap-over-hollow"
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "strap", Of: "clamps", Dir: "solid", Words: "Loosen, set every tip over a support, tighten again."},
				fold.Act{Do: "round"})
		}
	}
	for _, c := range []struct {
		field string
		check fold.Check
	}{{"xy", move}, {"z", bow}} {
		if v.Has(c.field) || !p.Short() {
			o.Checks = append(o.Checks, c.check)
		}
	}
	o.Facts = []fold.Known{facts.Clamps.Is(facts.CountFact{N: float64(v.Int("on"))})}
	read, _ := v.Num("torque", unit.KTorque)
	desk.BeforeDrilling(p, v, unit.Torque(read), &o)
	if o.Learned = fmt.Sprintf("%d clamps hold it; it moved %s sideways and %s in height.", v.Int("on"), p.Len(move.Got),
		p.Len(bow.Got)); p.Short() && !v.Has("xy") {
		o.Learned = fmt.Sprintf("%d clamps hold it.", v.Int("on"))
		if v.Has("z") {
			o.Learned = fmt.Sprintf("%d clamps hold it; it moved %s in height.", v.Int("on"), p.Len(bow.Got))
		}
	}
	if bow.Verdict == fold.Fail {
		o.Learned = fmt.Sprintf("Cut like this, the floor would come out wrong by about %s.", p.Len(bow.Got))
	}
	return o
}
