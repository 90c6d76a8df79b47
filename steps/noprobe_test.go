package steps_test

import (
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/trial"
)

// A shop without a probe walks the same line, each instrument with its own readings,
// and sees a part that moved at the swap.
func TestWalkWithoutAProbe(t *testing.T) {
	for _, finds := range []string{"dial", "edge finder"} {
		for _, mistake := range []string{"", "shift-at-swap"} {
			j, err := builtin.Job("T")
			if err != nil {
				t.Fatal(err)
			}
			j.Setups[0].Finds = finds
			j.Machine.Probe = nil
			j.Machine.Finder = &jobs.EdgeFinder{Dia: 5, Repeat: 0.002}
			p := trial.Plan(t, j, j.Setups[0].Name, nil)
			size := 0.0
			if mistake != "" {
				size = 0.1
			}
			r, err := bench.Auto(p, bench.Options{Seed: 4, Mistake: mistake, Size: size})
			if err != nil {
				t.Errorf("%s: %v", finds, err)
				continue
			}
			if r.State != "released" {
				t.Errorf("%s %s: held at %v: %s", finds, mistake, *r.HeldAt, r.Walk.Words)
			}
			named := false
			for _, n := range r.Named {
				named = named || n == "shift-at-swap"
			}
			if named != (mistake != "") {
				t.Errorf("%s with mistake %q: named %v", finds, mistake, r.Named)
			}
		}
	}
}
