package steps_test

import (
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// Plan S: with the witness set read, a bump costs a recheck; without it the seat and the screws.
func TestWitnessSetInPlanS(t *testing.T) {
	for _, way := range []struct {
		answer string
		again  fold.StepID // what the way back begins the part with
		not    fold.StepID
	}{{"leave it", "seat", "seat-check"}, {"read it now", "seat-check", "seat"}} {
		p := practicePlan(t, "S")
		k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Effects{}), nil)
		if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "reference" }); err != nil || !ok {
			t.Fatalf("no way to the witness set: %v, held %v %s", err, k.HeldAt, k.Words)
		}
		es, err := k.State().Take("keyed", [2]string{"way", way.answer})
		if err != nil {
			t.Fatal(err)
		}
		if err := k.Add(es...); err != nil {
			t.Fatal(err)
		}
		if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "deck" }); err != nil || !ok {
			t.Fatalf("%s: %v, held %v %s", way.answer, err, k.HeldAt, k.Words)
		}
		if err := k.Declare("part-bumped", ""); err != nil {
			t.Fatal(err)
		}
		found := false
		for _, id := range k.State().Left {
			found = found || id == way.again
			if id == way.not {
				t.Errorf("%s: a bump costs %s", way.answer, id)
			}
		}
		if !found {
			t.Errorf("%s: way back %v without %s", way.answer, k.State().Left, way.again)
		}
		if _, err := k.Until(nil); err != nil || !k.State().Released {
			t.Errorf("%s: held at %v %s %v", way.answer, k.HeldAt, k.Words, err)
		}
	}
}
