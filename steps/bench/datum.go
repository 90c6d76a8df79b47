package bench

import (
	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// datum is what a fixture is found by where that is no bore. Each kind has a file of its own, and its line in datumOf.
type datum interface {
	// edge is its line as a dial reads it, nil where none does.
	edge(p *fold.Plan) *jobs.Edge
	// line is what the fixture is squared by, end to end on its card.
	line() (low, high xy)
	// bed is what the part lies on, where its kind of setup has none of its own.
	bed(w *World) bed
	// touch is the spindle at the trigger on a thing of it; mine is false for any other thing.
	touch(w *World, by *tip, of string, at float64, dir xy) (trip xy, mine bool, err error)
	// own names the mistakes that only it lets happen.
	own() string
}

// datumOf is that of a card, nil for a bore.
func datumOf(f *jobs.Fixture) datum {
	if s := f.AsMade.Stops; s != nil {
		return threeStops{s}
	}
	return nil
}
