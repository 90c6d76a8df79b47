package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
)

// edgeCheck reads the edge at its two ends: has the fixture turned?
func edgeCheck(p *Plan) *Spec {
	if p.Job.Fixture.AsMade.Edge == nil {
		return nil
	}
	st := p.stations()
	first, last := st[0], st[len(st)-1]
	low, high := p.ends()
	axis := "Y"
	if p.alongY() {
		axis = "X"
	}
	return &Spec{
		Title: "edge check", At: "bore", AsRead: []FactID{"identity"}, Lifts: []FactID{"skew"},
		Asks: func(v View) []Ask {
			dial := func(field, label string, at float64, dir string) Ask {
				return Ask{Field: field, Label: label, Kind: Reading, Unit: unit.KLength, What: What{By: "dial", Of: "edge@" + place(at), Dir: dir}, Window: around(0, 1.2, "the dial's range")}
			}
			a := dial("low", low+" end: dial", first, "")
			a.Do = []Act{{Do: "fit", Of: "dial", Words: "Dial in the spindle, stylus on the edge at the " + low + " end. Come from one side, always the same."}}
			b := dial("jog", "after jogging "+unit.Signed(fit.JogTravel, unit.KLength, p.Job.Unit, 0), first, "jog+0.200")
			b.Do = []Act{{Do: "jog", Of: "edge@" + place(first), Dir: "+", Amount: fit.JogTravel, Words: fmt.Sprintf("Jog test: move the tool by %s %s, read, and go back.", axis, unit.Signed(fit.JogTravel, unit.KLength, p.Job.Unit, 0))}}
			return []Ask{a, b, dial("high", high+" end: dial", last, "")}
		},
		Judge: func(v View) Outcome {
			var o Outcome
			grad := p.Job.Machine.Dial.Graduation
			sc, err := fit.JogScale(fit.JogTravel, v.Len("low"), v.Len("jog"), grad)
			var e fit.Edge
			if err == nil {
				e, err = fit.Run{AlongY: p.alongY(), Scale: sc, Graduation: grad, Stations: []float64{first, last}, Readings: []float64{v.Len("low"), v.Len("high")}}.Edge()
			}
			if err != nil {
				o.Checks = append(o.Checks, Check{Limit: Limit{ID: "check.jog", Why: "the jog test shows what the dial makes of a known move", Class: Never}, Count: true, Verdict: Fail, Words: err.Error() + "."})
				o.Next = append(o.Next, Act{Do: "round", Words: "Set the stylus flatter, touching well, and read all three again."})
				return o
			}
			was, _ := v.Was("skew")
			if len(was.Value) == 0 {
				return o
			}
			d := e.Theta - float64(p.Job.Fixture.AsMade.Edge.Zero) - was.Value[0]
			l := p.Limit("square.skew")
			l.ID, l.Why = "check.skew", "skew as before"
			// Two readings of a dial can't be told apart below its graduation.
			l.Max = math.Max(l.Max, 1.5*grad/(last-first))
			c := Judged(l, math.Abs(d), 0)
			if c.Verdict == Fail {
				c.Words = "The fixture has turned: declare it tapped. Part out first."
				o.Named = "fixture-moved"
				o.Next = append(o.Next, Act{Do: "declare", Of: "fixture-tapped", Words: c.Words})
			}
			o.Checks = append(o.Checks, c)
			o.Lines = append(o.Lines, Row{Label: "turned by", Value: d, Unit: unit.KSlope, Signed: true, Big: true})
			o.Learned = fmt.Sprintf("The edge lies as before within %s.", p.slope(math.Abs(d)))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "If the fixture has turned, nothing measured on it holds.",
				Act:     "Read the dial at both ends of the edge.",
				Read:    "Dial clockwise is +.",
				Caution: "SPINDLE STOPPED, dial fitted. Don't tap now: look only.", Scene: p.scene(v, nil)}
		},
	}
}
