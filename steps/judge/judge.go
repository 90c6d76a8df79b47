package judge

import (
	"math"

	"fliptrue/steps/fold"
)

// Judged is the one rule for every computed limit (ISO 14253-1, guard one-sided 95 %):
//
//	PASS if value + guard <= limit, FAIL if value - guard >= limit, else NOT PROVEN
//
// A guard of 0 compares observations (repeat, closing, form) and never gives NOT PROVEN.
// A value that is not a number fails; one that sits on its limit but for the last bits
// of its decimal readings is on the good side of it.
//
// Of a minimum the same holds with the signs turned round.
func Judged(l fold.Limit, value, guard float64) fold.Check {
	c := fold.Check{Limit: l, Got: value, Guard: guard}
	most := l.Max
	if l.Min {
		value, most = -value, -most
	}
	switch {
	case value+guard <= most+1e-9*math.Abs(most):
		c.Verdict = fold.Pass
	case value-guard >= most || guard == 0 || value != value || guard != guard:
		c.Verdict = fold.Fail
	default:
		c.Verdict = fold.NotProven
	}
	return c
}
