package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// How the fixture's temperature is known. Fixture and machine that stood together long
// enough are as warm as each other: no difference, within 1 K.
const (
	thermometer = "thermometer on it"
	sameRoom    = "same room as the machine, together for over 2 h"
)

// warmth is a difference of temperature in words.
func warmth(d float64) string {
	switch d = math.Round(10*d) / 10; {
	case d > 0:
		return fmt.Sprintf("%.1f degrees warmer than", d)
	case d < 0:
		return fmt.Sprintf("%.1f degrees colder than", -d)
	}
	return "as warm as"
}

// mount puts the fixture on the table and makes sure that it is the right one, the right way round.
func mount(p *Plan) *Spec {
	return &Spec{
		Title: "mount fixture", AsRead: []FactID{"card"}, Wants: []FactID{"tram"}, Makes: []FactID{"identity"}, Keys: []string{"setups." + p.Setup.Name + ".fixture"},
		Asks: func(v View) []Ask {
			pivot, _ := p.ends()
			asks := []Ask{
				{Field: "arrow", Label: "the fixture's arrow points", Kind: Choice, Options: []string{"toward you", "away", "left", "right"},
					What: What{By: "eye", Of: "fixture", Dir: "arrow"}, Want: "toward you",
					WantWhy: "Turned round, the bore is at the wrong end.", Hint: "Turn the fixture and wipe again.",
					Do: []Act{{Do: "mount", Of: "fixture", Words: "Stone and wipe the table. Set the fixture down, arrow toward you. One bolt firm at its " + pivot + " end, the pivot, the others finger tight."}}},
				Named(Ask{Field: "id", Label: "number engraved on it", Kind: Text, What: What{By: "eye", Of: "fixture", Dir: "id"}, Want: p.Job.Fixture.ID,
					WantWhy: "The card belongs to another fixture.", Hint: "Fetch the right fixture, or load its card."}),
			}
			if p.warm() {
				asks = append(asks, Ask{Field: "warmth", Label: "how warm is the fixture", Kind: Choice, Options: []string{thermometer, sameRoom}, What: What{By: "eye", Of: "fixture", Dir: "warmth"}})
				if !SameAnswer(v.Text("warmth"), sameRoom) {
					asks = append(asks, Ask{Field: "temp", Label: "temperature of the fixture", Kind: Reading, Unit: unit.KTemperature,
						What: What{By: "thermometer", Of: "fixture"}, Window: around(20, 15, "a shop")})
				}
			}
			return asks
		},
		Judge: func(v View) Outcome {
			t, ok := v.Num("temp", unit.KTemperature)
			u := 1 / math.Sqrt(3) // ±1 K as a rectangle
			measured := 0.0
			if ok {
				measured = 1
			}
			made := p.Job.Fixture.AsMade.Temperature
			together := SameAnswer(v.Text("warmth"), sameRoom)
			switch {
			case together && made != nil:
				t, ok = float64(*made), true
			case !ok:
				t, u = 20, 0
			}
			o := Outcome{Facts: []Fact{{ID: "identity", Value: []float64{t, u, measured}}}, Learned: fmt.Sprintf("This is %s, the right way round.", p.Job.Fixture.ID)}
			switch {
			case together:
				o.Notes = append(o.Notes, "No thermometer: as warm as the day it was made counts as true within 1 K. Two bores would measure it.")
			case made != nil && ok:
				d := t - float64(*made)
				o.Learned += " It is " + warmth(d) + " on the day it was made."
				l := p.even(100, 100, 4)
				if q := p.fixtureAlpha() * d * l; d > 2 || d < -2 {
					o.Notes = append(o.Notes, fmt.Sprintf("%s of it have grown by %s; two bores measure that better than a thermometer.", p.len(l), p.len(q)))
				}
			}
			if _, ok := v.Fact("tram"); !ok {
				o.Notes = append(o.Notes, "Spindle tram is not known: lean and kink of walls are not in the numbers.")
			}
			o.Notes = append(o.Notes, p.cardAge(v, "tram")...)
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "A fixture turned end for end, or another one, spoils everything after it.",
				Act:     "Mount the fixture and read what is on it.",
				Read:    "Say what you see, not what should be there.",
				Caution: "This tool does not see, move or stop the machine. Your hand on feed hold and E-stop. SPINDLE STOPPED before hands go in.",
				Scene:   p.scene(v, p.pivotMark())}
		},
	}
}

// pivotMark is the end about which the fixture is turned when it is tapped.
func (p *Plan) pivotMark() []Shape {
	at := XY{}
	if e := p.Job.Fixture.AsMade.Edge; e != nil {
		at = XY{e.From.X, e.From.Y}
	}
	return []Shape{{Role: RoleNext, Name: "pivot", Points: []XY{at}}}
}
