package kit

import "fliptrue/steps/fold"

// BedWords are what the part lies in or on, as the person calls it.
type BedWords struct {
	In    string // pocket, nest, plate
	Floor string // its face under the part
	Gaps  string // where a chip hides in it
	Found string // what the fixture is found by
}

// Bed is that of a plan: a nest in soft jaws, else what the fixture's datum makes of it.
func Bed(p *fold.Plan) BedWords {
	if p.Setup.Jaws.Grip > 0 {
		return BedWords{"nest", "floor of the nest", "in nest and corners", "stop"}
	}
	return DatumOf(p).Bed()
}
