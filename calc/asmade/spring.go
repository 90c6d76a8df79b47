package asmade

import (
	"fmt"
	"math"

	"fliptrue/calc/given"
)

// SpringMost is how far a place of the finished fixture may move when its bolts are let
// go to snug, mm: beyond it stress is left in it. Common practice.
const SpringMost = 0.010

// Spring is how a fixture moved when its bolts were let go.
type Spring struct {
	Moved []float64 // after - before, in the order given, the common rise of heights kept
	Worst int       // place, from 0
	Most  float64   // |Moved| there
	Keeps bool      // Most is at most SpringMost
}

// Springs compares readings of the same places before and after. One or more of each, as many
// before as after, else an error.
func Springs(before, after []float64) (Spring, error) {
	if len(before) == 0 || len(before) != len(after) {
		return Spring{}, fmt.Errorf("%d places before and %d after cannot be compared; read the same places", len(before), len(after))
	}
	s := Spring{Moved: make([]float64, len(before))}
	for i := range before {
		if err := given.Finite(fmt.Sprintf("place %d", i+1), after[i]-before[i]); err != nil {
			return Spring{}, err
		}
		s.Moved[i] = after[i] - before[i]
		if m := math.Abs(s.Moved[i]); m > s.Most {
			s.Most, s.Worst = m, i
		}
	}
	s.Keeps = s.Most <= SpringMost*(1+1e-9)
	return s, nil
}
