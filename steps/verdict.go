package steps

import (
	"encoding/json"
	"math"
)

// Verdict is the state of a check, a step or a fact.
type Verdict int

const (
	NoVerdict Verdict = iota
	Pass
	Fail
	NotProven // within the limit, but not by its guard (ISO 14253-1)
	Void
	Waived
	Waiting
	Current
	NotApplicable
)

var verdictWords = [...]string{"", "PASS", "FAIL", "NOT PROVEN", "VOID", "WAIVED", "waiting", "current", "not applicable"}
var verdictJSON = [...]string{"", "pass", "fail", "not_proven", "void", "waived", "waiting", "current", "not_applicable"}

func (v Verdict) String() string { return verdictWords[v] }

// MarshalJSON writes the lower-case word.
func (v Verdict) MarshalJSON() ([]byte, error) { return json.Marshal(verdictJSON[v]) }

// OK says that the work may go on.
func (v Verdict) OK() bool { return v == Pass || v == Waived }

// Judged is the one rule for every computed limit (ISO 14253-1, guard one-sided 95 %):
//
//	PASS if value + guard <= limit, FAIL if value - guard >= limit, else NOT PROVEN
//
// A guard of 0 compares observations (repeat, closing, form) and never gives NOT PROVEN.
// A value that is not a number fails; one that sits on its limit but for the last bits
// of its decimal readings is on the good side of it.
func Judged(l Limit, value, guard float64) Check {
	c := Check{Limit: l, Got: value, Guard: guard}
	switch {
	case value+guard <= l.Max+1e-9*math.Abs(l.Max):
		c.Verdict = Pass
	case value-guard >= l.Max || guard == 0 || value != value || guard != guard:
		c.Verdict = Fail
	default:
		c.Verdict = NotProven
	}
	return c
}

// worst is the verdict of several checks together.
func worst(cs []Check) Verdict {
	v := Pass
	rank := func(x Verdict) int {
		switch x {
		case Fail:
			return 3
		case NotProven:
			return 2
		case Waived:
			return 1
		}
		return 0
	}
	for _, c := range cs {
		if rank(c.Verdict) > rank(v) {
			v = c.Verdict
		}
	}
	return v
}
