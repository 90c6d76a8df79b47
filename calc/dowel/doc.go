// Package dowel is the arithmetic of a part located by two pins: its play, what that does at
// a feature, how much a diamond pin frees, and whether heat jams it.
//
// Goals: worst case and standard uncertainty at any feature; the diamond by its exact
// geometry; the side to which the part is pushed in the result with its sign.
//
// Non-goals: it knows no budget of a job and no step.
//
// Units: mm, rad, K. The frame has its zero at pin 1, x along the line to pin 2.
package dowel

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
