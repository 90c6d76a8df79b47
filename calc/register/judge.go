package register

import (
	"errors"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
)

// Judged is what an error comes to at the worst of several places.
type Judged struct {
	Place        int     // index into the places
	Axis         int     // 0 X, 1 Y
	Value, Guard float64 // |error| and its one-sided 95 % guard, mm
	Verdict      budget.Verdict
}

// Judge judges an error and its guard, known at each place, against a limit: the worst of |error| + guard of all
// places and both axes. No place is an error.
func Judge(places []frame.Vec, limit float64, known func(frame.Vec) (d, guard frame.Vec)) (Judged, error) {
	if len(places) == 0 {
		return Judged{}, errors.New("no place to judge at; give the part's corners, or those of what is still to be cut")
	}
	var ks []Known
	for _, p := range places {
		d, g := known(p)
		ks = append(ks, Known{Error: [2]float64{d.X, d.Y}, Guard: [2]float64{g.X, g.Y}})
	}
	var w Judged
	w.Place, w.Axis, w.Value, w.Guard = Worst(ks)
	w.Verdict = budget.Decide(w.Value, w.Guard, budget.AtMost, limit)
	return w, nil
}
