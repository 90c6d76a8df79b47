package kit

import "fliptrue/steps/fold"

// Load is what shows that the part is still held once it was cut, by what holds it.
type Load struct {
	Holds   []fold.FactID                  // what must stand for the release
	Freed   []fold.FactID                  // and what held it before
	Screws  fold.FactID                    // that it is held, which the first load confirms
	Asks    []fold.Ask                     // two or more; the first comes after the act
	Wrong   func(fold.View) bool           // by what was answered so far it does not hold
	Slips   func(fold.View, *fold.Outcome) // the act then
	Through fold.Ask                       // what is seen of it through the shut door
	Try     string                         // words: how it is looked at
	Read    string                         // how that is read
	Why     string
	Held    string // what was learned
	Stopped string // what was learned at a stop
}
