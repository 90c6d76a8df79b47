package steps_test

import (
	"strings"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// TestNotProvenNamesWhatWasWaived: what is not proven because a skew was passed over sends back to the skew first.
func TestNotProvenNamesWhatWasWaived(t *testing.T) {
	t.Parallel()
	p := practicePlan(t, "S")
	p.Job.Allowance = 0.008 // nothing of this machine can prove it
	p = p.AtLevel(fold.FirstUse)
	k := bench.NewWalk(p, bench.NewWorld(p, 1, bench.Usual(p)), nil)
	for range 12 {
		if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Decide }); err != nil {
			t.Fatal(err)
		}
		st := k.State()
		ss, _ := st.Step(st.Cursor.Step)
		if ss.ID == "offset" {
			sq, _ := st.Step("square")
			next := ss.Outcome.Next[0]
			if ss.Verdict != fold.NotProven && ss.Verdict != fold.Fail {
				t.Fatalf("offset %v", ss.Verdict)
			}
			if sq.Verdict != fold.Waived || next.Do != "reopen" || next.Of != "square" || !strings.Contains(next.Words, "waived") {
				t.Errorf("square %v, next %+v", sq.Verdict, next)
			}
			return
		}
		for _, c := range ss.Outcome.Checks {
			if c.Verdict.OK() {
				continue
			}
			es, err := st.Waive(c.Limit.ID, c.Shown(), "seen and accepted")
			if err != nil {
				t.Fatal(err)
			}
			if err := k.Add(es...); err != nil {
				t.Fatal(err)
			}
			st = k.State()
		}
		k.HeldAt = nil
	}
	t.Fatal("the offset is never judged")
}
