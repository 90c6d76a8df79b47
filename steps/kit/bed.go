package kit

import "fliptrue/steps/fold"

// BedWords are what the part lies in or on, as the person calls it.
type BedWords struct {
	In    string // pocket, nest, plate
	Floor string // its face under the part
	Gaps  string // where a chip hides in it
	Found string // what the fixture is found by
}

// Bed is that of a plan: a nest in soft jaws, a plate with pins or stops, else the pocket of a fixture.
func Bed(p *fold.Plan) BedWords {
	switch {
	case p.Setup.Jaws.Grip > 0:
		return BedWords{"nest", "floor of the nest", "in nest and corners", "stop"}
	case OnStops(p):
		return BedWords{"plate", "plate", "on plate and stops", "stop"}
	case p.OnLocator():
		return BedWords{"plate", "plate", "on plate and at the pins", Locator(p)}
	}
	return BedWords{"pocket", "pocket floor", "in pocket and trench", Locator(p)}
}
