package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// How the fixture's temperature is known. Fixture and machine that stood together long
// enough are as warm as each other: no difference, within 1 K.
const (
	thermometer = "thermometer on it"
	sameRoom    = "same room as the machine, together for over 2 h"
)

// mount puts the fixture on the table and makes sure that it is the right one, the right way round.
func mount(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "mount fixture", Needs: fold.Needs(fold.AsRead("card"), fold.IfBegun("tram")), Makes: []fold.FactID{"identity"},
		Keys:  []string{"setups." + p.Setup.Name + ".fixture"},
		Asks:  func(v fold.View) []fold.Ask { return mountAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome { return judgeMount(p, v) },
		Page: func(v fold.View) fold.Page {
			sc := kit.Scene(p, v, pivotMark(p))
			sc.Arrow = kit.FixtureArrow(p)
			return fold.Page{Why: "A fixture turned end for end, or another one, spoils everything after it.",
				Act:     "Mount the fixture and read what is on it.",
				Read:    "Say what you see, not what should be there.",
				Caution: "This tool does not see, move or stop the machine. Your hand on feed hold and E-stop. SPINDLE STOPPED before hands go in.",
				Scene:   sc}
		},
	}
}

// mountAsks are what is read off the fixture on the table: which way round, its number, how warm, where.
func mountAsks(p *fold.Plan, v fold.View) []fold.Ask {
	pivot, _ := kit.Ends(p)
	arrow := fold.Ask{Field: "arrow", Label: "the fixture's arrow points", Kind: fold.Choice,
		Options: []string{"toward you", "away", "left", "right"},
		What:    fold.What{By: "eye", Of: "fixture", Dir: "arrow"}, Want: "toward you",
		WantWhy: "Turned round, the " + kit.Bed(p).Found + " is at the wrong end.", Hint: "Turn the fixture and wipe again.",
		Do: []fold.Act{{Do: "mount", Of: "fixture", Words: "Stone and wipe the table. Set the fixture down, arrow toward you. One bolt firm " +
			"at its " + pivot + " end, the pivot, the others finger tight."}}}
	number := fold.Named(fold.Ask{Field: "id", Label: "number engraved on it", Kind: fold.Text, What: fold.What{By: "eye", Of: "fixture",
		Dir: "id"}, Want: p.Job.Fixture.ID,
		WantWhy: "The card belongs to another fixture.", Hint: "Fetch the right fixture, or load its card."})
	asks := []fold.Ask{kit.Mend(arrow, "", fold.Act{Do: "mount", Of: "fixture", Words: "Turn the fixture, arrow toward you. Wipe again."}),
		kit.Mend(number, "", fold.Act{Do: "mount", Of: "fixture", Words: "Fetch the right fixture, or load its card."})}
	if kit.Warm(p) {
		asks = append(asks, fold.Ask{Field: "warmth", Label: "how warm is the fixture", Kind: fold.Choice,
			Options: []string{thermometer, sameRoom}, What: fold.What{By: "eye", Of: "fixture", Dir: "warmth"}})
	}
	asks = append(asks, fold.Ask{Field: "place", Since: kit.SincePlace, Label: "on the table it stands", Kind: fold.Choice,
		Options: places(p),
		What:    fold.What{By: "eye", Of: "fixture", Dir: "place"}})
	for i := range asks {
		asks[i].Form = "fixture"
	}
	if kit.Warm(p) && !fold.SameAnswer(v.Text("warmth"), sameRoom) { // after the form: on paper, too
		asks = append(asks, fold.Ask{Field: "temp", Label: "temperature of the fixture", Kind: fold.Reading, Unit: unit.KTemperature,
			Bare: kit.BareTemperature(p),
			What: fold.What{By: "thermometer", Of: "fixture"}, Window: kit.Around(20, 15, "a shop")})
	}
	return asks
}

// judgeMount makes the identity, with what is known of its temperature.
func judgeMount(p *fold.Plan, v fold.View) fold.Outcome {
	t, ok := v.Num("temp", unit.KTemperature)
	u := 1 / math.Sqrt(3) // ±1 K as a rectangle
	measured := 0.0
	if ok {
		measured = 1
	}
	made := p.Job.Fixture.AsMade.Temperature
	together := fold.SameAnswer(v.Text("warmth"), sameRoom)
	switch {
	case together && made != nil:
		t, ok = float64(*made), true
	case !ok:
		t, u = 20, 0
	}
	o := fold.Outcome{Facts: []fold.Known{identified(p, v, t, u, measured)}, Learned: fmt.Sprintf("This is %s.", p.Job.Fixture.ID)}
	if v.Has("arrow") {
		o.Learned = fmt.Sprintf("This is %s, the right way round.", p.Job.Fixture.ID)
	}
	switch {
	case together && v.Walks(3):
		o.Notes = append(o.Notes, "No thermometer: its growth since the day it was made counts with "+kit.Degrees(p, 10)+
			" either way. Two bores would measure it.")
	case together:
		o.Notes = append(o.Notes, "No thermometer: as warm as the day it was made counts as true within "+kit.Degrees(p, 1)+
			". Two bores would measure it.")
	case made != nil && ok:
		d := t - float64(*made)
		o.Learned += " It is " + kit.Warmth(p, d) + " on the day it was made."
		l := kit.Even(p, 100, 100, 4)
		if q := kit.FixtureAlpha(p) * d * l; d > 2 || d < -2 {
			o.Notes = append(o.Notes, fmt.Sprintf("%s of it have grown by %s; two bores measure that better than a thermometer.",
				p.Len(l), p.Len(q)))
		}
	}
	if _, ok := v.Fact("tram"); !ok {
		o.Notes = append(o.Notes, "Spindle tram is not known: lean and kink of walls are not in the numbers.")
	}
	o.Notes = append(o.Notes, kit.CardAge(p, v, "tram")...)
	return o
}

const elsewhere = "elsewhere, or not known"

// places are where a fixture may stand on its table; the first is where it was made.
func places(p *fold.Plan) []string {
	return []string{"within " + kit.NearSaid(p) + " of where it was made", elsewhere}
}

// identified is the fixture as mounted: temperature with its standard uncertainty, 1 for a thermometer, and where it stands.
func identified(p *fold.Plan, v fold.View, t, u, measured float64) fold.Known {
	if !v.Walks(3) {
		return fold.Known{ID: "identity", Value: []float64{t, u, measured}}
	}
	id := facts.IdentityFact{T: t, U: u, Measured: measured}
	if v.Has("place") && fold.SameAnswer(v.Text("place"), places(p)[0]) {
		id.Near = 1
	}
	return facts.Identity.Is(id)
}

// pivotMark is the end about which the fixture is turned when it is tapped.
func pivotMark(p *fold.Plan) []fold.Shape {
	at := fold.XY{}
	if e := p.Job.Fixture.AsMade.Edge; e != nil {
		at = fold.XY{X: e.From.X, Y: e.From.Y}
	}
	return []fold.Shape{{Role: fold.RoleNext, Name: "pivot", Points: []fold.XY{at}}}
}
