package steps_test

import (
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/trial"
)

// A mill driven by its readout: every hole is ticked by what is displayed, and the walk
// comes to its release.
func TestWalkByReadout(t *testing.T) {
	texts, err := builtin.Texts("T")
	if err != nil {
		t.Fatal(err)
	}
	texts["bench.machine.yaml"] = strings.Replace(texts["bench.machine.yaml"], "delivers: type-in", "delivers: readout", 1)
	j, faults := jobs.ReadJob(jobs.Mem(texts), builtin.JobFile)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	p := trial.Plan(t, j, "side2", nil)
	k := bench.NewWalk(p, bench.NewWorld(p, 11, bench.Usual(p)), nil)
	if ok, err := k.Until(released); err != nil || !ok {
		t.Fatalf("released %v: %v %v %q", ok, err, k.State().Cursor, k.Words)
	}
	ticked := 0
	for _, e := range k.Events {
		if strings.HasPrefix(e.Read, "side2/drill/1/hole") {
			ticked++
		}
	}
	if ticked != 12 {
		t.Errorf("%d of 12 coordinates of holes were typed", ticked)
	}
}
