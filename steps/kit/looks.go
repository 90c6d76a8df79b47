package kit

import (
	"fliptrue/calc/budget"
	"fliptrue/steps/fold"
)

// Looks is the factor from the standard uncertainty of the mean of all looks so far to its guard, u that of each look, after
// so many goes that could not tell: looking again until it passes lets no more pass than one look would. Up to the third walk
// each look was the only one.
func Looks(v fold.View, goes int, u ...float64) float64 {
	if v.Walks(4) {
		return budget.Looks(budget.LookShare(goes), u...)
	}
	return budget.OneSided
}

// OneLook is the factor of a step that looks once each go.
func OneLook(v fold.View, goes int) float64 { return Looks(v, goes, 1) }
