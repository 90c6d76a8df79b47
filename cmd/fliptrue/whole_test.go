package main

import (
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
)

// One practice walks side 1, side 2 and the inspection into one record, which reads as three setups released; what moved in the cut
// is named by the inspection.
func TestPracticeOfTheWholeJob(t *testing.T) {
	for mistake, says := range map[string]string{"": "", "moved-in-cut": "the bench made in bench: moved-in-cut"} {
		e, disk, out := shop(t)
		code, err := practice(e, practiceOptions{holdDown: "T", setup: wholeJob, seed: 3, auto: true, out: "whole", mistake: mistake, mistakes: mistake != ""})
		if err != nil || mistake == "" && code != exitOK || !strings.Contains(out.String(), says) {
			t.Fatalf("%s: exit %d, error %v\n%s", mistake, code, err, out)
		}
		es, _, faults := jobs.ReadRecord(disk, "whole/"+strings.TrimSuffix(builtin.JobFile, ".job.yaml")+".1.record.yaml")
		if got := begun(es); len(faults) > 0 || strings.Join(got, " ") != "side1 side2 bench" {
			t.Errorf("%s: begun %v, faults %v", mistake, got, faults)
		}
		r, err := e.readRecord("whole/"+builtin.JobFile, "whole/"+strings.TrimSuffix(builtin.JobFile, ".job.yaml")+".1.record.yaml")
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range r.setups {
			if !f.state.Released && mistake == "" {
				t.Errorf("%s is not released", f.state.Setup)
			}
		}
		if mistake != "" && !strings.Contains(out.String(), "fixture-moved") && !strings.Contains(out.String(), "stood.bore") {
			t.Error(out.String())
		}
	}
}
