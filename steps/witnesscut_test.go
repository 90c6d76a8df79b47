package steps_test

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// With a witness cut most setups of an allowance of 0.02 are released, none of which could be without, and what it says of every
// feature holds; the others are held at the cut itself, by growth and squareness.
func TestWitnessCutProvesATightAllowance(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { // stabilised: wood that moves across its grain is beyond any shift
		j.Allowance = 0.02
		j.Setups[0].Cut.Witness = 0.3
	})
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
		for _, f := range steps.Register(k.State()) {
			for axis, e := range []float64{truth[f.Name].X, truth[f.Name].Y} {
				if all++; math.Abs(e-f.Error[axis]) <= f.U[axis] {
					in++
				}
			}
		}
	}
	t.Logf("released %d of 30, %d of %d intervals hold; %v", released, in, all, why)
	if released < 15 || float64(in) < 0.93*float64(all) {
		t.Errorf("released %d of 30, %d of %d intervals hold; %v", released, in, all, why)
	}
}
