package steps_test

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// With a witness cut an allowance of 0.02 is released, and what it says of every feature holds.
func TestWitnessCutProvesATightAllowance(t *testing.T) {
	p := practicePlan(t, "S")
	j := *p.Job
	j.Allowance = 0.02
	j.Setups = append([]jobs.Setup(nil), j.Setups...)
	j.Setups[0].Cut.Witness = 0.3
	p, err := steps.NewPlan(&j, j.Setups[0].Name, nil)
	if err != nil {
		t.Fatal(err)
	}
	p = p.AtLevel(fold.Irreplaceable)
	released, in, all := 0, 0, 0
	why := map[string]int{}
	for seed := uint64(1); seed <= 30; seed++ {
		k := bench.NewWalk(p, bench.NewWorld(p, seed, bench.Usual(p)), nil)
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		if k.HeldAt != nil {
			why[string(*k.HeldAt)+": "+k.Words]++
			continue
		}
		released++
		truth := k.World.TrueError()
		for _, f := range kit.Register(k.State()) {
			for axis, e := range []float64{truth[f.Name].X, truth[f.Name].Y} {
				if all++; math.Abs(e-f.Error[axis]) <= f.U[axis] {
					in++
				}
			}
		}
	}
	t.Logf("released %d of 30, %d of %d intervals hold; %v", released, in, all, why)
	if released < 24 || float64(in) < 0.93*float64(all) {
		t.Errorf("released %d of 30, %d of %d intervals hold; %v", released, in, all, why)
	}
}
