package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// A fixture that turned about its bore while a part was prised out still has its bore where it was. The far end of it is touched as
// well: the second bore, else both ends of its edge, by the probe or by the dial that squared it.

// farTouch is how the far end is touched.
type farTouch struct {
	p      *fold.Plan
	second *kit.Target // with fields of its own; nil: the edge
	turn   kit.Turn    // what was touched to find the place tells it; nil where it does not
}

// farEndOf is nil where the fixture has neither second bore nor edge.
func farEndOf(p *fold.Plan) *farTouch {
	_, second := kit.Targets(p)
	turn := kit.DatumOf(p).Turn()
	switch {
	case turn != nil:
		return &farTouch{p: p, turn: turn}
	case second != nil:
		t := *second
		t.Pre = "far."
		return &farTouch{p: p, second: &t}
	case p.Job.Fixture.AsMade.Edge != nil:
		return &farTouch{p: p}
	}
	return nil
}

// across is the axis across the line between the ends.
func (f farTouch) across() string {
	if kit.AlongY(f.p) {
		return "x"
	}
	return "y"
}

// probed says that the edge is touched by the probe; else the dial reads it.
func (f farTouch) probed() bool {
	_, ok := kit.Finder(f.p).(kit.Prober)
	return ok && f.p.Job.Machine.Probe != nil
}

func (f farTouch) asks(v fold.View) []fold.Ask {
	p := f.p
	var asks []fold.Ask
	low, high := kit.Ends(p)
	switch {
	case f.turn != nil:
	case f.second != nil:
		asks = kit.Finder(p).Pair(v.In(v.Round, v.Earlier), *f.second, f.across()) // what it predicts by is not all asked here
	case f.probed():
		dir := map[string]string{"front": "y+", "rear": "y-", "left": "x+", "right": "x-"}[p.Job.Fixture.AsMade.Edge.Side]
		for i, at := range f.stations() {
			name := [2]string{low, high}[i]
			asks = append(asks, fold.Ask{Field: farField[i], Label: name + " end of the edge", Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: "probe", Of: "edge@" + kit.Place(at), Dir: dir, Axis: f.across()}, Window: kit.TravelWindow(p, f.across())})
		}
		asks[0].Do = []fold.Act{{Do: "wipe", Of: "edge", Words: "Wipe the edge. Touch it at both ends, from the same side."}}
	default:
		asks = f.dialled(v)
	}
	for i := range asks {
		asks[i].Since = kit.SinceFar
	}
	return asks
}

var farField = [2]string{"far.low", "far.high"}

func (f farTouch) stations() [2]float64 {
	st := kit.Stations(f.p)
	return [2]float64{st[0], st[len(st)-1]}
}

// dialled are the dial at both ends of the edge, with a jog test between.
func (f farTouch) dialled(v fold.View) []fold.Ask {
	p := f.p
	low, high := kit.Ends(p)
	st, j := f.stations(), kit.Jog(p)
	dial := func(field, label string, at float64, dir string) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "dial", Of: "edge@" + kit.Place(at), Dir: dir}, Window: kit.Around(0, 1.2, "the dial's range")}
	}
	a, b, c := dial(farField[0], low+" end: dial", st[0], ""), dial("far.jog", "after jogging "+kit.Signed(p, j), st[0], kit.JogDir(p, j)),
		dial(farField[1], high+" end: dial", st[1], "")
	a.Do = []fold.Act{{Do: "fit", Of: "dial", Words: "Dial in the spindle, stylus on the edge at the " + low +
		" end. Come from one side, always the same."}}
	axis := map[string]string{"x": "X", "y": "Y"}[f.across()]
	b.Do = []fold.Act{{Do: "jog", Of: a.What.Of, Dir: "+", Amount: j,
		Words: fmt.Sprintf("Jog test: move the tool by %s %s, read, and go back.", axis, kit.Signed(p, j))}}
	return []fold.Ask{a, b, c}
}

// off is how far the far end stands from where it stood for the part before, mm; ok is false before it was touched.
func (f farTouch) off(v fold.View) (d float64, ok bool, err error) {
	theta := 0.0
	if skew, known := facts.Skew.Was(v); known {
		theta = float64(skew.Theta)
	} else if b, found := facts.Bore.Was(v); found {
		theta = float64(b.Theta)
	}
	if f.turn != nil {
		turn, apart, read := f.turn(v)
		return (float64(turn) - theta) * apart, read, nil
	}
	if f.second != nil {
		at, _, read := kit.Finder(f.p).Across(v.In(v.Round, v.Earlier), *f.second, f.across())
		first, found := nextCentre(f.p, v)
		to := f.second.From.Turned(theta)
		if f.across() == "x" {
			return at - first.X - to.X, read && found, nil
		}
		return at - first.Y - to.Y, read && found, nil
	}
	a, ok1 := v.Num(farField[0], unit.KLength)
	b, ok2 := v.Num(farField[1], unit.KLength)
	if !ok1 || !ok2 {
		return 0, false, nil
	}
	st := f.stations()
	l := st[1] - st[0]
	now := math.Atan((b - a) / l)
	if kit.AlongY(f.p) {
		now = -now
	}
	if !f.probed() {
		grad := f.p.Job.Machine.Dial.Graduation
		sc, err := fit.JogScale(kit.Jog(f.p), a, v.Len("far.jog"), grad)
		if err != nil {
			return 0, true, err
		}
		e, err := fit.Run{AlongY: kit.AlongY(f.p), Scale: sc, Graduation: grad, Stations: st[:], Readings: []float64{a, b}}.Edge()
		if err != nil {
			return 0, true, err
		}
		now = e.Theta
	}
	return (now - float64(f.p.Job.Fixture.AsMade.Edge.Zero) - theta) * l, true, nil
}
