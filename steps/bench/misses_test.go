package bench

import (
	"slices"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// What ? says is not seen is what the readings do not see: a part bumped before its screws, in plan S seen at the highest level alone,
// since the straps' witness sets see it in T.
func TestMissesHeedThePlan(t *testing.T) {
	const bumped = "a part that was bumped"
	for _, plan := range []string{"T", "S"} {
		for _, l := range fold.Levels {
			p := lid(t, func(j *jobs.Job) { j.Setups[0].HoldDown = plan }).AtLevel(l)
			says := slices.Contains(p.Misses(), bumped)
			if says != (plan == "S" && l < fold.Irreplaceable) {
				t.Errorf("plan %s, %v: not seen are %q", plan, l, p.Misses())
			}
			r := auto(t, p, Options{Seed: 1, Mistake: "bumped-part", Size: 0.05})
			if slept := r.Walk.World.Wrong(); slept != says {
				t.Errorf("plan %s, %v: a part bumped by 0.05 goes into the cut %t, ? says so %t: %s, %s", plan, l, slept, says, r.State, r.Walk.Words)
			}
		}
		if plan == "S" {
			p := lid(t, func(j *jobs.Job) { j.Setups[0].HoldDown = plan }).AtLevel(fold.Irreplaceable).Without("screws/walls")
			r := auto(t, p, Options{Seed: 1, Mistake: "bumped-part", Size: 0.05})
			if !r.Walk.World.Wrong() {
				t.Error("the strips after the screws are not what sees it")
			}
		}
	}
}
