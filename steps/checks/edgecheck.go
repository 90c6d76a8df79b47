package checks

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// EdgeCheck reads the edge at its two ends: has the fixture turned?
func EdgeCheck(p *fold.Plan) *fold.Spec {
	if p.Job.Fixture.AsMade.Edge == nil {
		return nil
	}
	st := kit.Stations(p)
	first, last := st[0], st[len(st)-1]
	low, high := kit.Ends(p)
	axis := "Y"
	if kit.AlongY(p) {
		axis = "X"
	}
	return &fold.Spec{
		Title: "edge check", Needs: fold.AsRead("identity"), Recheck: &fold.Recheck{Before: "bore", Lifts: []fold.FactID{"skew"}},
		Asks: func(v fold.View) []fold.Ask {
			by := jogOf(p, v)
			dial := func(field, label string, at float64, dir string) fold.Ask {
				return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "dial", Of: "edge@" + kit.Place(at), Dir: dir}, Window: kit.Around(0, 1.2, "the dial's range")}
			}
			a := dial("low", low+" end: dial", first, "")
			a.Do = []fold.Act{{Do: "fit", Of: "dial", Words: "Dial in the spindle, stylus on the edge at the " + low + " end. Come from one side, always the same."}}
			b := dial("jog", "after jogging "+unit.Signed(by, unit.KLength, p.Job.Unit, 0), first, jogDir(p, v))
			b.Do = []fold.Act{{Do: "jog", Of: "edge@" + kit.Place(first), Dir: "+", Amount: by,
				Words: fmt.Sprintf("Jog test: move the tool by %s %s, read, and go back.", axis, unit.Signed(by, unit.KLength, p.Job.Unit, 0))}}
			asks := []fold.Ask{a, b}
			if sc, err := scaleOf(p, v); err == nil && v.Has("low") && v.Has("jog") {
				asks = append(asks, kit.LeverAsks(v, sc, "lever", a.What.Of)...)
			}
			return append(asks, dial("high", high+" end: dial", last, ""))
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			grad := p.Job.Machine.Dial.Graduation
			sc, err := scaleOf(p, v)
			if err == nil {
				err = kit.Unexplained(p, v, sc, "lever", jogOf(p, v))
			}
			var e fit.Edge
			if err == nil {
				e, err = fit.Run{AlongY: kit.AlongY(p), Scale: sc, Graduation: grad, Stations: []float64{first, last}, Readings: []float64{v.Len("low"), v.Len("high")}}.Edge()
			}
			if err != nil {
				o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: "check.jog", Why: "jog test: needle against a known move", Class: fold.Never}, Count: true, Verdict: fold.Fail, Words: err.Error() + "."})
				o.Next = append(o.Next, fold.Act{Do: "round", Words: "Set the stylus flatter, touching well, and read all three again."})
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
			c := judge.Judged(l, math.Abs(d), 0)
			if c.Verdict == fold.Fail {
				c.Words = "The fixture has turned: declare it tapped. Part out first."
				o.Named = "fixture-moved"
				o.Next = append(o.Next, fold.Act{Do: "declare", Of: "fixture-tapped", Words: c.Words})
			}
			o.Checks = append(o.Checks, c)
			o.Lines = append(o.Lines, fold.Row{Label: "turned by", Value: d, Unit: unit.KSlope, Signed: true, Big: true})
			o.Learned = fmt.Sprintf("The edge lies as before within %s.", p.Slope(math.Abs(d)))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "If the fixture has turned, nothing measured on it holds.",
				Act:     "Read the dial at both ends of the edge.",
				Read:    "Dial clockwise is +.",
				Caution: "SPINDLE STOPPED, dial fitted. Don't tap now: look only.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

// jogOf is the travel of the jog test: that of the walk, round in the job's unit.
func jogOf(p *fold.Plan, v fold.View) float64 {
	if v.Walks(3) {
		return kit.Jog(p)
	}
	return fit.JogTravel
}

func jogDir(p *fold.Plan, v fold.View) string {
	if v.Walks(3) {
		return kit.JogDir(p, jogOf(p, v))
	}
	return "jog+0.200"
}

// scaleOf is the dial's, by this round's jog test.
func scaleOf(p *fold.Plan, v fold.View) (fit.Scale, error) {
	return fit.JogScale(jogOf(p, v), v.Len("low"), v.Len("jog"), p.Job.Machine.Dial.Graduation)
}
