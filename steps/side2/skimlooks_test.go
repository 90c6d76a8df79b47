package side2_test

import (
	"slices"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// A depth gauge of half a thousandth left a third of the sound heights open, however often it was read again, so long as the floor may lean
// to its limit. What it leaves open the dial decides; where the lean of the floor was measured the gauge decides alone.
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
		// of 100 walks the two looks leave open 3, 0, 0 and 2
		if measured := p.Reads(fold.Irreplaceable); open > 1 || measured != (dials == 0) || dials == 12 {
			t.Errorf("level %v: %d of 12 left open, %d by the dial", l, open, dials)
		}
	}
}
