package judge

import (
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/steps/fold"
)

// Most judges a value that must not exceed l.Max; Least one that must reach it. A guard of
// 0 compares observations.
func Most(l fold.Limit, value, guard float64) fold.Check {
	l.Min = false
	return by(l, value, guard, budget.AtMost)
}

func Least(l fold.Limit, value, guard float64) fold.Check {
	l.Min = true
	return by(l, value, guard, budget.AtLeast)
}

// Of judges by the limit's own sense, as the table of limits has it.
func Of(l fold.Limit, value, guard float64) fold.Check {
	if l.Min {
		return Least(l, value, guard)
	}
	return Most(l, value, guard)
}

// Weighed judges by a combined budget and keeps its largest line.
func Weighed(l fold.Limit, value float64, r budget.Result) fold.Check {
	c := Of(l, value, r.Guard)
	c.Largest = r.Largest.Name
	return c
}

// At is a limit whose number the step derives.
func At(l fold.Limit, limit float64) fold.Limit {
	l.Max = limit
	return l
}

// Off judges how far a value is from the one wanted: what is read back, a page that must
// read zero (want 0, l.Max 0), a place or a length as before.
func Off(l fold.Limit, value, want, guard float64) fold.Check {
	return Most(l, math.Abs(value-want), guard)
}

// Ends judges by a material's two ends: value is shown beside the adverse end's limit.
func Ends(l fold.Limit, value float64, adverse, favourable bool) fold.Check {
	return fold.Check{Limit: l, Got: value, Verdict: verdicts[budget.DecideEnds(adverse, favourable)]}
}

// So judges an answer, or a list of faults, which passes when there is none.
func So(l fold.Limit, so bool, words string) fold.Check {
	c := fold.Check{Limit: l, Count: true, Verdict: fold.Pass}
	if !so {
		c.Verdict, c.Words = fold.Fail, words
	}
	return c
}

func Faults(l fold.Limit, faults []string) fold.Check {
	c := So(l, len(faults) == 0, strings.Join(faults, " "))
	c.Got = float64(len(faults))
	return c
}

// Refused is the check of readings that make nothing: no reason mends that.
func Refused(id, why string, err error) fold.Check {
	return So(fold.Limit{ID: id, Why: why, Class: fold.Never}, false, err.Error()+".")
}

// Unknown is one that could not be judged.
func Unknown(l fold.Limit, words string) fold.Check {
	return fold.Check{Limit: l, Count: true, Verdict: fold.NotProven, Words: words}
}

// Fails overrules a check by what its number does not say: a reading named as bad, a tap
// that went the wrong way, a second limit of the same thing.
func Fails(c fold.Check, words string) fold.Check {
	c.Verdict, c.Words = fold.Fail, words
	return c
}

func by(l fold.Limit, value, guard float64, s budget.Sense) fold.Check {
	return fold.Check{Limit: l, Got: value, Guard: guard, Verdict: verdicts[budget.Decide(value, guard, s, l.Max)]}
}

var verdicts = [...]fold.Verdict{budget.NotProven: fold.NotProven, budget.Pass: fold.Pass, budget.Fail: fold.Fail}
