package side2_test

import (
	"slices"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// A depth gauge of half a thousandth left a third of the sound heights open, however often it was read again. What it leaves open the dial
// decides, and where it decides alone no dial is asked for. A record without a level is asked as it was.
func TestDialDecidesWhatTheGaugeLeavesOpen(t *testing.T) {
	t.Parallel()
	for _, l := range []fold.Level{fold.Proven, fold.FirstUse, fold.Irreplaceable, fold.Full} {
		p := builtinAt(t, builtin.Inch, l)
		dials, open := 0, 0
		for seed := range uint64(12) {
			k := bench.NewWalk(p, bench.NewWorld(p, seed, bench.Wide(p)), nil)
			if _, err := k.Until(nil); err != nil {
				t.Fatal(err)
			}
			for _, f := range k.Failed {
				if f.Limit == "skim.height" {
					open++
					break
				}
			}
			steps := k.State().Steps
			skim := steps[slices.IndexFunc(steps, func(s fold.StepState) bool { return s.ID == "skim" })]
			if r := skim.Rounds[len(skim.Rounds)-1]; slices.ContainsFunc(r.Taken, func(x fold.Taken) bool { return x.Field == "dialrim" }) {
				dials++
			}
		}
		if short := l != fold.Full; short && (open > 0 || dials == 0 || dials == 12) || !short && (dials > 0 || open == 0) {
			t.Errorf("level %v: %d of 12 left open, %d by the dial", l, open, dials)
		}
	}
}
