package kit

import (
	"slices"

	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Datum is what a setup is found by: it has a place and a direction. Each kind of datum has a file of its own: a bore with
// an edge or a second bore in bored.go, three stops in stops.go, a vise in jawed.go. A further one is such a file and its
// line in datumOf.
type Datum interface {
	// Name is what gives the place, as the person calls it.
	Name() string
	// Bed is what the part lies in or on.
	Bed() BedWords
	// Finder finds the place.
	Finder() finder
	// Edge is the straight line that a dial reads the direction off, if there is one; AtEnds says that it is read at its two ends alone.
	Edge() (Edge, bool)
	AtEnds() bool
	// Bearing is what gives the direction where there is no such line, nil for nothing.
	Bearing() Bearing
	// Turn reads the direction off what finds the place, nil where that does not tell it.
	Turn() Turn
	// nominal are the standard uncertainties with which place and direction can be found at best, without a dial.
	nominal() (u, theta float64)
	// HoldsPart says that the part lies against the datum itself and in no pocket, which is then told by lies.
	HoldsPart() bool
	lies(*register.Part)
	// draw draws it; place is where one of its things is drawn, so far along it.
	draw(*drawing)
	place(thing string, n float64) (fold.XY, bool)
}

// Turn is a direction as touched, and how far apart the touches lie.
type Turn func(fold.View) (turn unit.Angle, apart float64, ok bool)

// DatumOf is that of a setup.
func DatumOf(p *fold.Plan) Datum {
	if p.Setup.Vise.Jaw != "" {
		return jawed{datumOf(p), p}
	}
	return datumOf(p)
}

// datumOf is that of the fixture on its card.
func datumOf(p *fold.Plan) Datum {
	if p.Job.Fixture.AsMade.Stops != nil {
		return stops{p}
	}
	return bored{p}
}

// Locator is what the setup is found by: the fixture's bore, pin or square; corner or middle of stock in a vise.
func Locator(p *fold.Plan) string { return DatumOf(p).Name() }

// Finder is what finds it, with the instrument that the job has.
func Finder(p *fold.Plan) finder { return DatumOf(p).Finder() }

// ByProbe says that what is found is found by the probe, on whose ball it then stands.
func ByProbe(p *fold.Plan) bool { return slices.Contains(Finder(p).Stands(), facts.Ball.ID) }

// Indicated says that a dial reads the fixture's direction off a line of it.
func Indicated(p *fold.Plan) bool {
	_, ok := datumOf(p).Edge()
	return ok
}
