package bench

import (
	"maps"
	"slices"

	"fliptrue/steps/fold"
)

// bed is what a part lies on where no pocket wall holds it: a kind of setup's own.
type bed interface {
	part(p xy) xy    // where a place of the part stands, shift and turn of the person's doing aside
	cut(p xy) xy     // where side 1 cut what should be at p, in the part's coordinates
	lay(draw string) // the part is laid on it anew
	read(q fold.What) (v, step float64, ok bool)
	say(a fold.Ask) (string, bool)
}

// beds make them, by the kind of setup.
var beds = map[string]func(*World) bed{"dowel-flip": newPegs, "soft-jaws": newNested, "inspect": newFinished, "fixture": newMaking,
	"reuse": newReturned}

// own are the mistakes that a kind of setup alone has, or a hold-down plan.
var own = map[string][]Mistake{"dowel-flip": pegMistakes, "soft-jaws": nestMistakes, "inspect": finishedMistakes, "fixture": makingMistakes,
	"reuse": returnedMistakes, "rescue": goneMistakes,
	"V": heldMistakes, "vacuum": vacuumMistakes, "tape": tapeMistakes, "stops": stopMistakes,
	"ball": ballMistakes, "tram": tramMistakes, "first-side": viseMistakes}

// elsewhere are those of a second side that can be made in another kind of setup too. A first side has them all, as far as what they
// come before or after is done there.
var elsewhere = map[string][]string{
	"ball": {"wrong-stylus", "spindle-unmarked"}, "tram": nil, "inspect": {"part-hot"},
	"fixture": {"chip-in-bore", "coolant-drop", "wrong-stylus", "spindle-unmarked", "bolts-snug"},
	"reuse":   {"chip-in-bore", "coolant-drop", "wrong-stylus", "spindle-unmarked"},
}

// MistakesIn are those that can be made in a setup: the usual ones, then its own.
func MistakesIn(p *fold.Plan) []Mistake {
	usual := Mistakes()
	if some, is := elsewhere[p.Setup.Kind]; is {
		usual = slices.DeleteFunc(usual, func(m Mistake) bool { return !slices.Contains(some, m.Name) })
	}
	out := append(append(append(usual, own[p.Setup.Kind]...), own[p.Setup.HoldDown]...), own[p.Setup.Hold.Kind]...)
	if d := datumOf(&p.Job.Fixture); d != nil {
		out = append(out, own[d.own()]...)
	}
	return out
}

// All are those of every kind.
func All() []Mistake {
	out := Mistakes()
	for _, kind := range slices.Sorted(maps.Keys(own)) {
		out = append(out, own[kind]...)
	}
	return out
}

// OwnMistakes are those that a kind of setup alone has.
func OwnMistakes(kind string) []Mistake { return append([]Mistake(nil), own[kind]...) }
