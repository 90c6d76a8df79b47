// Package asmade is the arithmetic of making a fixture: what its own bore, probed before it
// leaves the table, says about the cutter and about the pads; and what pocket to cut.
//
// Goals: the place of the part against its pads with covariance, from one bore instead of
// from a ball radius in every wall; advice while it can still be cut. Positive is defined for
// each number, and said.
//
// Non-goals: it knows no job, card or step and judges by budget.Decide only.
//
// Units: mm, rad, K, percent of humidity and of moisture content. X right, Y away, Z up.
// The fixture's frame has its zero on the axis of bore 1 as programmed.
package asmade

import (
	"fmt"
	"math"
)

// finite is an error unless all numbers are; name, value, name, value.
func finite(pairs ...any) error {
	for i := 0; i+1 < len(pairs); i += 2 {
		if v := pairs[i+1].(float64); math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%s is %g: it must be a finite number; enter it again", pairs[i], v)
		}
	}
	return nil
}

// above is an error unless all numbers are finite and above 0.
func above(pairs ...any) error {
	for i := 0; i+1 < len(pairs); i += 2 {
		if v := pairs[i+1].(float64); !(v > 0) || math.IsInf(v, 0) {
			return fmt.Errorf("%s is %g: it must be above 0; enter it again", pairs[i], v)
		}
	}
	return nil
}
