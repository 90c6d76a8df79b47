package steps_test

import (
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// An allowance that the lines can't prove holds the release, names the largest line
// and says what to do; a hard waiver with the number as shown lets it go on.
func TestReleaseHeldByItsBudget(t *testing.T) {
	j, err := builtin.Job("T")
	if err != nil {
		t.Fatal(err)
	}
	if j.Limits == nil {
		j.Limits = map[string]unit.Length{}
	}
	j.Limits["release.register"] = 0.018
	p := trial.Plan(t, j, j.Setups[0].Name, nil)
	k := bench.NewWalk(p, bench.NewWorld(p, 3, bench.Effects{}), nil)
	if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "release" && st.Cursor.Decide }); err != nil || !ok {
		t.Fatalf("%v, held at %v %s", err, k.HeldAt, k.Words)
	}
	st := k.State()
	ss, _ := st.Step("release")
	if ss.Verdict != fold.NotProven && ss.Verdict != fold.Fail {
		t.Fatalf("release is %v", ss.Verdict)
	}
	if _, err := st.Release(); err == nil {
		t.Fatal("it is released although its budget does not pass")
	}
	for _, c := range ss.Outcome.Checks {
		if c.Limit.ID != "release.register" {
			continue
		}
		if c.Largest == "" || !strings.Contains(c.Words, c.Largest) || len(ss.Outcome.Next) == 0 {
			t.Errorf("largest %q, words %q, next %v", c.Largest, c.Words, ss.Outcome.Next)
		}
		if _, err := st.Waive("release.register", "9.999", "sanded anyway"); err == nil {
			t.Error("waived with another number than the one shown")
		}
		es, err := st.Waive("release.register", c.Shown(), "sanded anyway")
		if err != nil {
			t.Fatal(err)
		}
		if err := k.Add(es...); err != nil {
			t.Fatal(err)
		}
	}
	if !k.State().Ready {
		t.Errorf("not ready after the waiver; at %v", k.State().Cursor)
	}
	held := false
	for _, c := range ss.Outcome.Checks {
		held = held || c.Limit.ID == "hold.retention" && c.Limit.Class == fold.Never && c.Verdict == fold.Pass
	}
	if notes := strings.Join(ss.Outcome.Notes, " "); !held || !strings.Contains(notes, "estimates (factor 2") {
		t.Errorf("retention held %v, notes %q", held, notes)
	}
}
