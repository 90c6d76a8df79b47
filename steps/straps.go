package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// straps puts the clamps on as drawn and counts them.
func straps(p *Plan) *Spec {
	n := fmt.Sprint(len(p.Setup.Clamps))
	return &Spec{
		Title: "straps on", Live: []FactID{"seat"}, Seen: append([]FactID{"offset"}, p.cutterLengths()...), Makes: []FactID{"clamps"}, Keys: []string{"setups." + p.Setup.Name + ".clamps"},
		Asks: func(v View) []Ask {
			drawn := Ask{Field: "drawn", Label: "heel, bolt and tip of every clamp stand", Kind: Choice, Options: []string{"as drawn", "elsewhere"}, What: What{By: "eye", Of: "clamps", Dir: "drawn"}, Want: "as drawn",
				WantWhy: "Clearances and forces hold for the clamps as drawn.", Hint: "Set them as drawn, or change the job.",
				Do: []Act{{Do: "strap", Of: "clamps", Words: "Heel block 0 to 2 mm higher than the part, bolt nearer the part than the heel, card under the tip. Dial on the part. Fingers, then half, then full, alternately."}}}
			solid := counted("solid", "tips that press above solid fixture", "clamps", "solid", n, "Over a hollow the tip bends the part's floor, and it springs back when the strap comes off.", "Shift the clamp until its tip stands over a support.")
			on := counted("on", "clamps on the part", "clamps", "on", n, "The job has "+n+".", "Fit the missing clamp, or change the job.")
			xy := Ask{Field: "xy", Label: "dial, sideways, from finger tight to full", Kind: Reading, Unit: unit.KLength, What: What{By: "dial", Of: "part", Dir: "strap", Axis: "xy"}, Window: around(0, 0.2, "a part that stays")}
			z := Ask{Field: "z", Label: "dial, height, from finger tight to full", Kind: Reading, Unit: unit.KLength, What: What{By: "dial", Of: "part", Dir: "strap", Axis: "z"}, Window: around(0, 0.2, "a part that stays")}
			t := Ask{Field: "torque", Label: "torque of the clamp bolts, one for all", Kind: Reading, Unit: unit.KTorque, What: What{By: "driver", Of: "clamps", Dir: "torque"}}
			if len(p.Setup.Clamps) > 0 {
				m := float64(p.Setup.Clamps[0].Torque)
				t.Bare, t.Window = p.torqueUnit(m), around(m, 0.3*m, "the job")
			}
			return []Ask{drawn, solid, on, xy, z, t}
		},
		Judge: func(v View) Outcome {
			var o Outcome
			move := Judged(p.Limit("straps.move"), math.Abs(v.Len("xy")), 0)
			bow := Judged(p.Limit("straps.bow"), math.Abs(v.Len("z")), 0)
			if move.Verdict == Fail {
				move.Words = "The straps pushed the part sideways: loosen, push it against its walls, tighten alternately in smaller steps."
				o.Next = append(o.Next, Act{Do: "strap", Of: "clamps", Words: move.Words}, Act{Do: "round"})
			}
			if bow.Verdict == Fail {
				bow.Words = "The straps bow the part: a tip stands over a hollow, or a heel is too low."
				o.Named = "strap-over-hollow"
				o.Next = append(o.Next, Act{Do: "strap", Of: "clamps", Dir: "solid", Words: bow.Words + " Loosen all, set the tips over supports, tighten again."}, Act{Do: "round"})
			}
			if s := v.Int("solid"); s >= 0 && s != len(p.Setup.Clamps) {
				o.Named = "strap-over-hollow"
				if len(o.Next) == 0 {
					o.Next = append(o.Next, Act{Do: "strap", Of: "clamps", Dir: "solid", Words: "Loosen, set every tip over a support, tighten again."}, Act{Do: "round"})
				}
			}
			o.Checks = append(o.Checks, move, bow)
			o.Facts = []Fact{{ID: "clamps", Value: []float64{float64(v.Int("on"))}}}
			read, _ := v.Num("torque", unit.KTorque)
			p.beforeDrilling(unit.Torque(read), &o)
			p.programsPass(v, whileHeld, &o)
			if o.Learned = fmt.Sprintf("%d clamps hold it; it moved %s sideways and %s in height.", v.Int("on"), p.len(move.Got), p.len(bow.Got)); bow.Verdict == Fail {
				o.Learned = fmt.Sprintf("Cut like this, the floor would come out wrong by about %s.", p.len(bow.Got))
			}
			return o
		},
		Page: func(v View) Page {
			var marks []Shape
			for _, c := range p.Setup.Clamps {
				var pts []XY
				for _, q := range c.Outline {
					pts = append(pts, p.fixturePlace(q))
				}
				marks = append(marks, Shape{Role: RoleClamp, Name: c.Name, Points: pts, Closed: true})
				if at, ok := p.tip(c); ok {
					marks = append(marks, Shape{Role: RoleNext, Points: []XY{p.fixturePlace(at)}})
				}
			}
			k := p.drillKeepOut()
			path, _ := p.passingShapes(v, whileHeld)
			marks = append(append(marks, k.marks(p)...), path...)
			return Page{Why: "A strap over a hollow bends the part, and it is cut bent.",
				Act:     "Strap the part down as drawn, dial on the part.",
				Read:    "The needle's movement from finger tight to full; then count.",
				Caution: "Clamp ends never reach into the tool path. Take the wrench off the table.",
				Rows:    p.strapHolds(0).rows,
				Scene:   p.scene(v, marks)}
		},
	}
}
