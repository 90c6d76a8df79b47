package steps_test

import (
	"math"
	rand "math/rand/v2"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/steps/judge"
	"fliptrue/steps/side2"
)

// Sound sets are called bad once in about 300, however many pairs they hold: simulated with the
// probe's own scatter, taken as known to its degrees of freedom.
func TestRepeatOfManyPairs(t *testing.T) {
	p := lidPlan(t, nil)
	s, dof := judge.ProbeS(p)
	if one, ten := side2.RepeatOf(p, 1).Max, side2.RepeatOf(p, 10).Max; !(ten > one && one >= p.Limit("repeat").Max && ten < 10*s) {
		t.Fatalf("limits %g and %g for a scatter of %g", one, ten, s)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 5, 10} {
		l, bad := side2.RepeatOf(p, n).Max, 0
		const sets = 40000
		for range sets {
			// the card's s was itself found from so many readings
			chi := 0.0
			for range int(dof) {
				chi += math.Pow(r.NormFloat64(), 2)
			}
			sigma := s / math.Sqrt(chi/dof)
			worst := 0.0
			for range n {
				worst = math.Max(worst, math.Abs(sigma*(r.NormFloat64()-r.NormFloat64())))
			}
			if worst > l {
				bad++
			}
		}
		// 40000 sets, 120 expected: four standard deviations are 44; the largest of n is not independent of s
		if bad > 120+44 || bad < 40 {
			t.Errorf("%d pairs: %d of %d sound sets are called bad", n, bad, sets)
		}
	}
	p.Job.Limits = map[string]unit.Length{"repeat": 0.004}
	if got := side2.RepeatOf(p, 10).Max; got != 0.004 {
		t.Errorf("the job's own limit 0.004 became %g", got)
	}
}
