// Package given refuses numbers that cannot be reckoned with, in the words of the house: what it
// is, its value, what to do.
package given

import (
	"fmt"
	"math"
)

// Finite is an error unless all numbers are. Pairs of name and float64.
func Finite(pairs ...any) error {
	for i := 0; i+1 < len(pairs); i += 2 {
		if v := pairs[i+1].(float64); math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%s is %g: it must be a finite number; enter it again", pairs[i], v)
		}
	}
	return nil
}

// Above is an error unless all numbers are finite and above 0. Pairs of name and float64.
func Above(pairs ...any) error {
	for i := 0; i+1 < len(pairs); i += 2 {
		if v := pairs[i+1].(float64); !(v > 0) || math.IsInf(v, 0) {
			return fmt.Errorf("%s is %g: it must be above 0; enter it again", pairs[i], v)
		}
	}
	return nil
}
