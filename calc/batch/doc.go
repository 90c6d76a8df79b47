// Package batch is the arithmetic of many blanks on one mounting: how often to look again, what
// a look can see, what drifts, and which parts are in doubt when something is found.
//
// Goals: an interval that weighs minutes against parts; frequencies that learn from what a
// shop's own records caught.
//
// Non-goals: it holds no list of parts and knows no step.
//
// Units: mm, rad, min.
package batch

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
