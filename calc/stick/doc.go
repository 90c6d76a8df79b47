// Package stick is the arithmetic of a part held by a face that sticks: vacuum, or tape with
// or without adhesive. What it holds is a number of the shop's own, or it is nothing.
//
// Goals: capacity from a test on scrap, cut down by its own factors and by turning about the worst
// pole; leak, and how long a reservoir lasts; how far a thin floor is drawn into a hollow.
//
// Non-goals: no untested hold passes, and there is no second case: a pump that fails or a film
// that lets go leaves nothing. It knows no job and no step.
//
// Units: mm, N, MPa, degrees Celsius, min.
package stick

import (
	"fmt"
	"math"
)

// above is an error unless all numbers are finite and above 0.
func above(pairs ...any) error {
	for i := 0; i+1 < len(pairs); i += 2 {
		if v := pairs[i+1].(float64); !(v > 0) || math.IsInf(v, 0) {
			return fmt.Errorf("%s is %g: it must be above 0; enter it again", pairs[i], v)
		}
	}
	return nil
}
