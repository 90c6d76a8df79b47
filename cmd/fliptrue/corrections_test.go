package main

import (
	"strings"
	"testing"

	"fliptrue/jobs"
)

// takeBackOnce takes a correction back with a reason: the card has its values from before, history keeps both; a second time, without a
// reason, or where the card was edited since, nothing is written.
func takeBackOnce(t *testing.T, e *env, took bool, before jobs.Fixture) {
	t.Helper()
	const card = "pl-2.fixture.yaml"
	now, _ := jobs.ReadFixture(e.disk, card)
	if cs := correctionsOn(&now); len(cs) == 1 != took {
		t.Fatalf("%d corrections, took %v", len(cs), took)
	}
	if code, err := corrections(e, correctionsOptions{card: card, back: true}); code != exitUsage || err == nil {
		t.Errorf("without a reason: %d %v", code, err)
	}
	code, err := corrections(e, correctionsOptions{card: card, back: true, because: "the dial stood steep"})
	if !took {
		if code != exitInput || err == nil {
			t.Errorf("nothing to take back: %d %v", code, err)
		}
		return
	}
	if code != exitOK || err != nil {
		t.Fatal(code, err)
	}
	f, faults := jobs.ReadFixture(e.disk, card)
	cs := correctionsOn(&f)
	if len(faults) > 0 || len(cs) != 1 || cs[0].Back == "" || cs[0].Why != "the dial stood steep" || !strings.Contains(cs[0].Reason, "gain") {
		t.Fatalf("%v %+v", faults, cs)
	}
	a, b := jobs.Flatten(&jobs.Job{Fixture: f}), jobs.Flatten(&jobs.Job{Fixture: before})
	for key, v := range b {
		if strings.HasPrefix(key, "fixture.as-made.") && f.AsMade.PartZero != before.AsMade.PartZero {
			t.Errorf("%s is %s, before it was %s", key, a[key], v)
		}
	}
	if len(f.History) <= len(now.History) {
		t.Error("history was shortened")
	}
	if code, err = corrections(e, correctionsOptions{card: card, back: true, because: "again"}); code != exitInput || err == nil {
		t.Errorf("taken back twice: %d %v", code, err)
	}
}
