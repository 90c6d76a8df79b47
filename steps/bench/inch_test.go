package bench

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
)

// The inch shop has no probe, no home position and a control that takes a preset: the same
// first side by edge finder, over 50 benches; and its tram.
func TestInchShopWalksSideOneByEdgeFinder(t *testing.T) {
	j, fs := jobs.ReadJob(jobs.OS(), "../../jobs/testdata/inch.job.yaml")
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	for _, name := range []string{"side1", "tram"} {
		p, err := steps.NewPlan(j, name, nil)
		if err != nil {
			t.Fatal(err)
		}
		released := 0
		for seed := uint64(1); seed <= 50; seed++ {
			w := NewWorld(p, seed, Usual(p))
			k := NewWalk(p, w, nil)
			if _, err := k.Until(nil); err != nil {
				t.Fatalf("%s, seed %d: %v", name, seed, err)
			}
			st := k.State()
			if !st.Released {
				t.Logf("%s, seed %d: held at %s: %s", name, seed, st.Cursor.Step, k.Words)
				continue
			}
			released++
			if of, ok := st.Fact("offset"); ok {
				truth, _ := w.SideOne()
				if d := math.Max(math.Abs(of.Value[2]-truth.Z0), math.Max(math.Abs(of.Value[0]-truth.Zero.X), math.Abs(of.Value[1]-truth.Zero.Y))); d > 0.03 {
					t.Errorf("%s, seed %d: zero off by %.4f", name, seed, d)
				}
			}
		}
		if t.Logf("%s: %d of 50 released", name, released); released < 45 {
			t.Errorf("%s: only %d of 50 walks were released", name, released)
		}
	}
}
