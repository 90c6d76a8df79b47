package stick

import (
	"fmt"

	"fliptrue/calc/given"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// Shares of a test that are used, and what a test must be. Common practice.
const (
	SideSF      = 3.0  // a third, sideways
	EdgeSF      = 10.0 // a tenth, against peeling at an edge
	TestMinutes = 10.0 // the weight hung this long
	TestSide    = 25.0 // mm, of the square that was tested
)

// Test is a weight hung sideways on scrap of the same pair of faces, stuck together by the same
// tape or adhesive.
type Test struct {
	Kind    string     // "tape", "tape and cyanoacrylate" ...
	Load    unit.Force // that it bore for Minutes
	Area    float64    // mm²
	Minutes float64
	At      unit.Temperature // of the film in the test
	Source  string           // who tested, when
}

// Capacity is what a face of film may be taken to bear at the temperature it will have, as an
// entered hold-down: its factors of 3 and 10 are in it.
//
//	side = load/area · face · e      up = load/area · face
//
// e is the face's Turning. Errors: a test shorter than TestMinutes, cooler than hot, or without a
// source. There is no capacity without a test.
func (t Test) Capacity(face, part Face, hot unit.Temperature) (hold.Entered, error) {
	if err := given.Above("load of the test", float64(t.Load), "area of the test", t.Area, "minutes of the test", t.Minutes); err != nil {
		return hold.Entered{}, err
	}
	if t.Minutes < TestMinutes {
		return hold.Entered{}, fmt.Errorf("the test lasted %g minutes, a film creeps: hang the weight for %g", t.Minutes, TestMinutes)
	}
	if !(hot <= t.At) {
		return hold.Entered{}, fmt.Errorf("the test was at %g C and the film will have %g: test it as warm as it will be",
			float64(t.At), float64(hot))
	}
	if t.Source == "" {
		return hold.Entered{}, fmt.Errorf("capacity of %s without a source; say who tested it and when", t.Kind)
	}
	e, err := face.Turning(part)
	if err != nil {
		return hold.Entered{}, err
	}
	whole := t.Load * unit.Force(face.Area()/t.Area)
	return hold.Entered{Kind: t.Kind, Side: whole * unit.Force(e), Up: whole, Area: face.Area(), After: unit.Duration(t.Minutes),
		Source: t.Source, SlipSF: SideSF, UpSF: EdgeSF}, nil
}
