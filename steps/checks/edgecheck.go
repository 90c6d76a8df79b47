package checks

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// EdgeCheckWords are what a person reads of the edge that is looked at again.
type EdgeCheckWords struct {
	Title, Why string
	Before     fold.StepID // the step that it is asked before
	Turned     string      // it has turned: what to do
	Lies       string      // "The edge lies as before", before how well
	kit.EdgeWords
}

// EdgeCheck reads the fixture's edge at its two ends: has the fixture turned?
func EdgeCheck(p *fold.Plan) *fold.Spec {
	return EdgeCheckBy(p, EdgeCheckWords{Title: "edge check", Before: "bore", Why: "If the fixture has turned, nothing measured on it holds.",
		Turned: "The fixture has turned: declare it tapped. Part out first.", Lies: "The edge lies as before",
		EdgeWords: FixtureSquare.EdgeWords})
}

// EdgeCheckBy reads an edge at its two ends; nil without one.
func EdgeCheckBy(p *fold.Plan, w EdgeCheckWords) *fold.Spec {
	e, ok := kit.EdgeOf(p)
	if !ok {
		return nil
	}
	st := kit.Stations(p)
	c := edgeCheck{p: p, edge: e, words: w, first: st[0], last: st[len(st)-1]}
	return &fold.Spec{
		Title: w.Title, Needs: fold.AsRead("identity"), Recheck: &fold.Recheck{Before: w.Before, Lifts: []fold.FactID{"skew"}},
		Asks: c.asks, Judge: c.judge,
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: w.Why, Act: "Read the dial at both ends of " + w.Edge + ".", Read: "Dial clockwise is +.",
				Caution: "SPINDLE STOPPED, dial fitted. Don't tap now: look only.", Scene: lying(p, v)}
		},
	}
}

// edgeCheck is the recheck for one edge, read at two stations.
type edgeCheck struct {
	p           *fold.Plan
	edge        kit.Edge
	words       EdgeCheckWords
	first, last float64
}

func (c edgeCheck) asks(v fold.View) []fold.Ask {
	by := jogOf(c.p, v)
	low, high := kit.Ends(c.p)
	axis := "Y"
	if kit.AlongY(c.p) {
		axis = "X"
	}
	dial := func(field, label string, at float64, dir string) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength,
			What:   fold.What{By: "dial", Of: "edge@" + kit.Place(at), Dir: dir},
			Window: kit.Around(0, 1.2, "the dial's range")}
	}
	a := dial("low", low+" end: dial", c.first, "")
	a.Do = []fold.Act{{Do: "fit", Of: "dial", Words: "Dial in the spindle, stylus on " + c.words.Edge + " at the " + low +
		" end. Come from one side, always the same."}}
	jog := unit.Signed(by, unit.KLength, c.p.Job.Unit, 0)
	b := dial("jog", "after jogging "+jog, c.first, jogDir(c.p, v))
	b.Do = []fold.Act{{Do: "jog", Of: "edge@" + kit.Place(c.first), Dir: "+", Amount: by,
		Words: fmt.Sprintf("Jog test: move the tool by %s %s, read, and go back.", axis, jog)}}
	asks := []fold.Ask{a, b}
	if sc, err := scaleOf(c.p, v); err == nil && v.Has("low") && v.Has("jog") {
		asks = append(asks, kit.LeverAsks(v, sc, "lever", a.What.Of)...)
	}
	return append(asks, dial("high", high+" end: dial", c.last, ""))
}

// direction is the edge's now, less what it was as made.
func (c edgeCheck) direction(v fold.View) (float64, error) {
	sc, err := scaleOf(c.p, v)
	if err == nil {
		err = kit.Unexplained(c.p, v, sc, "lever", jogOf(c.p, v))
	}
	if err != nil {
		return 0, err
	}
	e, err := fit.Run{AlongY: kit.AlongY(c.p), Scale: sc, Graduation: c.p.Job.Machine.Dial.Graduation, Stations: []float64{c.first, c.last},
		Readings: []float64{v.Len("low"), v.Len("high")}}.Edge()
	return e.Theta - c.edge.Zero, err
}

func (c edgeCheck) judge(v fold.View) fold.Outcome {
	var o fold.Outcome
	theta, err := c.direction(v)
	if err != nil {
		o.Checks = append(o.Checks, judge.Refused("check.jog", "jog test: needle against a known move", err))
		o.Next = append(o.Next, fold.Act{Do: "round", Words: "Set the stylus flatter, touching well, and read all three again."})
		return o
	}
	was, ok := facts.Skew.Was(v)
	if !ok {
		return o
	}
	d := theta - float64(was.Theta)
	l := c.p.Limit("square.skew")
	l.ID, l.Why = "check.skew", "skew as before"
	// Two readings of a dial can't be told apart below its graduation.
	l.Max = math.Max(l.Max, 1.5*c.p.Job.Machine.Dial.Graduation/(c.last-c.first))
	k := judge.Most(l, math.Abs(d), 0)
	if k.Verdict == fold.Fail {
		k.Words = c.words.Turned
		o.Named = "fixture-moved"
		o.Next = append(o.Next, fold.Act{Do: "declare", Of: "fixture-tapped", Words: k.Words})
	}
	o.Checks = append(o.Checks, k)
	o.Lines = append(o.Lines, fold.Row{Label: "turned by", Value: d, Unit: unit.KSlope, Signed: true, Big: true})
	o.Learned = fmt.Sprintf("%s within %s.", c.words.Lies, c.p.Slope(math.Abs(d)))
	return o
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
