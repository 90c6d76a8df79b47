package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
)

func init() {
	add(Step{ID: "tram", Kinds: []string{secondSide}, Off: true, Build: tram})
}

// sweepRadius is the radius of the spindle sweep, mm.
const sweepRadius = 100

// tram finds the spindle's lean to the table by a sweep, or takes its two tilts as typed.
func tram(p *Plan) *Spec {
	ways := []string{"sweep the table now", "type the two tilts"}
	return &Spec{
		Title: "spindle tram", At: "mount", Makes: []FactID{"tram"},
		Asks: func(v View) []Ask {
			asks := []Ask{{Field: "way", Label: "the tram is found by", Kind: Choice, Options: ways, What: What{By: "eye", Of: "tram", Dir: "way"}}}
			if w := v.Text("way"); w == "" {
				return asks
			} else if sameAnswer(w, ways[1]) {
				for _, ax := range []string{"x", "y"} {
					asks = append(asks, Ask{Field: "tilt." + ax, Label: "tilt along " + ax + ", higher at + is +, as 0.010/300", Kind: Reading, Unit: unit.KSlope,
						What: What{By: "dial", Of: "table", Dir: "tilt", Axis: ax}, Window: around(0, 0.001, "a trammed head"), Form: "tilts"})
				}
				return asks
			}
			for i, deg := range []string{"0", "90", "180", "270"} {
				a := Ask{Field: "r" + deg, Label: "dial at " + [...]string{"RIGHT", "AWAY", "LEFT", "TOWARD YOU"}[i], Kind: Reading, Unit: unit.KLength, What: What{By: "dial", Of: "table@" + place(sweepRadius), Dir: deg, Axis: "z"}, Window: around(0, 0.5, "a trammed head")}
				if i == 0 {
					a.Do = []Act{{Do: "fit", Of: "dial", Words: fmt.Sprintf("Dial in the spindle on an arm of %s, stylus on the stoned table. Turn the spindle by hand, always one way.", p.len(sweepRadius))}}
				}
				asks = append(asks, a)
			}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
			var tx, ty float64
			if sameAnswer(v.Text("way"), ways[1]) {
				tx, _ = v.Num("tilt.x", unit.KSlope)
				ty, _ = v.Num("tilt.y", unit.KSlope)
			} else {
				angles := []float64{0, math.Pi / 2, math.Pi, 3 * math.Pi / 2}
				s, err := fit.ToSweep(angles, []float64{v.Len("r0"), v.Len("r90"), v.Len("r180"), v.Len("r270")}, sweepRadius)
				if err != nil {
					o.Checks = append(o.Checks, Check{Limit: Limit{ID: "tram.sweep", Why: "four readings make a sweep", Class: Never}, Count: true, Verdict: Fail, Words: err.Error() + "."})
					o.Next = append(o.Next, Act{Do: "round", Words: "Sweep again: " + err.Error() + "."})
					return o
				}
				tx, ty = s.TiltX, s.TiltY
				c := Judged(Limit{ID: "tram.redundancy", Why: "opposite readings have the same middle", Max: math.Max(0.005, 2*p.Job.Machine.Dial.Graduation), Class: Soft, Unit: unit.KLength}, math.Abs(s.Redundancy.V), 0)
				if c.Verdict == Fail {
					c.Words = "The four readings do not make a plane: a nick or a chip under the stylus, or the arm gives."
					o.Next = append(o.Next, Act{Do: "wipe", Of: "table", Words: c.Words + " Wipe the table and sweep again."}, Act{Do: "round"})
				}
				o.Checks = append(o.Checks, c)
			}
			o.Facts = []Fact{{ID: "tram", Value: []float64{tx, ty}}}
			o.Lines = []Row{{Label: "tilt X", Value: tx, Unit: unit.KSlope, Signed: true, Big: true}, {Label: "tilt Y", Value: ty, Unit: unit.KSlope, Signed: true}}
			o.Learned = fmt.Sprintf("The spindle leans by %s along X and %s along Y.", p.slope(tx), p.slope(ty))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "A leaning spindle leaves a step between the sides that no offset takes away.",
				Act:     "Sweep the table with the dial, or type the two tilts as last found.",
				Read:    "The dial at four directions of the spindle.",
				Caution: "SPINDLE STOPPED, in neutral: turn it by hand.", Scene: p.scene(v, nil)}
		},
	}
}
