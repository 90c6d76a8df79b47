package kit

import "fliptrue/steps/fold"

// Lies is how a part comes to lie on its fixture: what a kind of setup asks of that beside what is asked of
// every part, its way over, rock, strips under its corners and height.
type Lies struct {
	Drop     string // the act that brings it there, after it was turned over
	Onto     string // what it then lies against
	Lay      string // where strips lie under it beside its corners: " and at the walls"
	Why, Act string // of the page
	Caution  string // after the page's own
	Needs    []fold.Need
	Makes    []fold.FactID
	Asks     func(fold.View) []fold.Ask
	Judge    func(fold.View, *fold.Outcome) // nil where the answers say it all
}
