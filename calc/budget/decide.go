package budget

import "math"

// Verdict is what a measured value proves about its limit.
type Verdict int

const (
	NotProven Verdict = iota // neither: the limit lies inside the guard
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

// Sense says on which side of its limit a value is good.
type Sense int

const (
	AtMost  Sense = iota // up to the limit
	AtLeast              // from the limit on
	Equal                // the limit itself, as of a count or of a page that must read zero
)

// OneSided is the factor from a standard uncertainty to its one-sided 95 % guard where that is
// taken as normal and well known, rounded up from 1.64485.
// A guard of several lines, or of few degrees of freedom, is Combine's.
const OneSided = 1.645

// lastBits is the share of a limit within which a value sits on it: what is left of decimal readings.
const lastBits = 1e-9

// Decide is the one rule by which a value is judged, with a guard of one-sided 95 % (ISO 14253-1; secondary
// sources): the uncertainty counts against whoever makes the claim.
//
//	AtMost:  PASS if value + guard <= limit, FAIL if value - guard >= limit, else NOT PROVEN
//	AtLeast: the same with both turned round: PASS if value - guard >= limit
//	Equal:   |value - limit| at most 0, so that only a guard of 0 can pass
//
// A guard of 0 compares observations (a repeat, a count, a form) and never gives NOT PROVEN. A value that sits on its
// limit but for its last bits is on the good side. A value that may have either sign is given as its magnitude, a
// tolerance of ±limit about nominal. What is not a number, and a negative guard, fail; an infinite guard proves nothing.
func Decide(value, guard float64, s Sense, limit float64) Verdict {
	slack := lastBits * math.Abs(limit)
	switch s {
	case AtLeast:
		value, limit = -value, -limit
	case Equal:
		value, limit = math.Abs(value-limit), 0
	}
	switch {
	case !(guard >= 0) || value != value || limit != limit:
		return Fail
	case value+guard <= limit+slack:
		return Pass
	case value-guard >= limit || guard == 0:
		return Fail
	}
	return NotProven
}

// DecideEnds judges by a limit that is itself known only as a range, such as what holds by the adverse and by the
// favourable end of a material: PASS when both ends allow it, FAIL when neither does, else NOT PROVEN.
func DecideEnds(adverse, favourable bool) Verdict {
	switch {
	case adverse && favourable:
		return Pass
	case adverse || favourable:
		return NotProven
	}
	return Fail
}

// AgreeWithin is how far two measurements of one thing may differ, by their variances: 3 standard uncertainties
// of the difference (common practice). What they can't tell apart is no fault.
func AgreeWithin(v1, v2 float64) float64 { return 3 * math.Sqrt(v1+v2) }
