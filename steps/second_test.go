package steps

import (
	"math"
	"testing"

	"fliptrue/jobs"
)

// lidPlan is the second side of the example job on disk.
func lidPlan(t testing.TB, edit func(*jobs.Job)) *Plan {
	t.Helper()
	j, fs := jobs.ReadJob(jobs.OS(), "../jobs/testdata/lid.job.yaml")
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	if edit != nil {
		edit(j)
	}
	p, err := NewPlan(j, "side2", nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestOffsetGuardIsFinite(t *testing.T) {
	p := lidPlan(t, nil)
	if g := p.offsetGuard(); !(g > 0.003 && g < 0.025) {
		t.Errorf("guard of the offset %v, expected some hundredths", g)
	}
	if l := p.skewLimit(); !(l > 0) || math.IsInf(l, 0) {
		t.Errorf("skew limit %v", l)
	}
}
