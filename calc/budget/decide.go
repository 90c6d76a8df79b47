package budget

import "math"

// Verdict is what a measured value proves about its limit.
type Verdict int

const (
	NotProven Verdict = iota // neither: the limit lies inside the guard; also whatever is not a number
	Pass                     // inside the limit, proven
	Fail                     // outside the limit, proven
)

func (v Verdict) String() string {
	switch v {
	case Pass:
		return "PASS"
	case Fail:
		return "FAIL"
	}
	return "NOT PROVEN"
}

// Decide judges a value that must not exceed a limit, with a guard of one-sided 95 %: PASS if
// value + guard <= limit, FAIL if value - guard >= limit, else NOT PROVEN. The
// uncertainty counts against whoever makes the claim (ISO 14253-1; secondary sources). A value that may have either sign is
// given as its magnitude: a tolerance of ±limit about nominal.
//
// A number that is not one, an infinite guard or a negative one is NOT PROVEN.
func Decide(value, guard, limit float64) Verdict {
	switch {
	case !(guard >= 0) || math.IsInf(guard, 1):
		return NotProven
	case value+guard <= limit:
		return Pass
	case value-guard >= limit:
		return Fail
	}
	return NotProven
}

// DecideBetween judges a value against two limits, low <= high. It is PASS when both sides pass, FAIL when
// one fails, else NOT PROVEN.
func DecideBetween(value, guard, low, high float64) Verdict {
	below, above := Decide(-value, guard, -low), Decide(value, guard, high)
	switch {
	case below == Fail || above == Fail:
		return Fail
	case below == Pass && above == Pass:
		return Pass
	}
	return NotProven
}

// Provable says whether any value at all could pass: false means that the measurement is not good enough for
// the limit, which is not the same as FAIL.
func Provable(guard, limit float64) bool { return guard >= 0 && guard < limit }

// Conformance returns the probability that the true value lies between low and high, given the measured
// value and its standard uncertainty, taken as normal (JCGM 106:2012, 7.3 to 7.5; from memory). With std 0 it is 0 or 1.
func Conformance(value, std, low, high float64) float64 {
	if std == 0 {
		if value >= low && value <= high {
			return 1
		}
		return 0
	}
	return Phi((high-value)/std) - Phi((low-value)/std)
}

// Percent returns a share of 0 to 1 as a whole percentage; what is neither none nor all never shows as 0 or 100.
func Percent(share float64) int {
	p := int(math.Round(100 * share))
	if p <= 0 && share > 0 {
		return 1
	}
	if p >= 100 && share < 1 {
		return 99
	}
	return p
}
