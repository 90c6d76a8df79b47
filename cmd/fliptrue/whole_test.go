package main

import (
	"math"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
)

// One practice makes the fixture, walks side 1, side 2 and the inspection into one record, which reads as four setups released; what moved in the cut
// is named by the inspection.
func TestPracticeOfTheWholeJob(t *testing.T) {
	for mistake, says := range map[string]string{"": "", "moved-in-cut": "the bench made in bench: moved-in-cut"} {
		e, disk, out := shop(t)
		code, err := practice(e, practiceOptions{holdDown: "T", setup: wholeJob, seed: 3, auto: true, out: "whole", mistake: mistake, mistakes: mistake != ""})
		if err != nil || mistake == "" && code != exitOK || !strings.Contains(out.String(), says) {
			t.Fatalf("%s: exit %d, error %v\n%s", mistake, code, err, out)
		}
		es, _, faults := jobs.ReadRecord(disk, "whole/"+strings.TrimSuffix(builtin.JobFile, ".job.yaml")+".1.record.yaml")
		if got := begun(es); len(faults) > 0 || strings.Join(got, " ") != "plate side1 side2 bench" {
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

// The first part's practice writes the fixture's card as made; the next part goes by it, and its fixture is not made again. The card's
// only changes are its making and its use: what the wood grew is no correction.
func TestTheNextPartGoesByTheCard(t *testing.T) {
	e, disk, out := shop(t)
	for part := 1; part <= 2; part++ {
		code, err := practice(e, practiceOptions{holdDown: "T", setup: wholeJob, seed: 4, auto: true, out: "whole"})
		if err != nil || code != exitOK {
			t.Fatalf("part %d: exit %d, error %v\n%s", part, code, err, out)
		}
	}
	es, _, _ := jobs.ReadRecord(disk, "whole/back.2.record.yaml")
	if got := strings.Join(begun(es), " "); got != "side1 side2 bench" {
		t.Errorf("the next part: begun %s", got)
	}
	f, faults := jobs.ReadFixture(disk, "whole/"+builtin.FixtureFile)
	if len(faults) > 0 || f.AsMade.Revision != 1 || f.Uses != 2 || len(f.Found) != 2 {
		t.Fatalf("the card: %+v, uses %d, found %d, faults %v", f.AsMade, f.Uses, len(f.Found), faults)
	}
	if as := es[0].Cards["fixture.as-made.revision"]; as != "1" {
		t.Errorf("the next part's record has the card of revision %q", as)
	}
	for _, r := range f.Found {
		if r.Record == "back.1" && math.Abs(r.Y) < 0.015 || math.Abs(r.Y-r.Grew.Y) > 0.008 || r.Took != (jobs.Took{}) {
			t.Errorf("%s: found %+.4f along Y, of it growth %+.4f, taken out of the card %+v", r.Record, r.Y, r.Grew.Y, r.Took)
		}
	}
	if cs := correctionsOn(&f); len(cs) != 0 {
		t.Errorf("the making of a fixture stands as a correction: %+v", cs)
	}
}
