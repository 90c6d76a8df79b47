package steps_test

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/steps"
	"fliptrue/steps/bench"
)

// A program that was edited at the control is not the one that was read: asked of each, and the
// way on is to post it again or to read it back.
func TestEditedProgramIsAsked(t *testing.T) {
	p := planWith(t, "T", asShipped)
	w := bench.NewWorld(p, 7, bench.Effects{})
	if err := w.Make("program-edited", 0); err != nil {
		t.Fatal(err)
	}
	k := bench.NewWalk(p, w, nil)
	var says string
	k.Watch = func(st *steps.State) {
		if ss, _ := st.Step(st.Cursor.Step); ss.ID == "program" && says == "" {
			for _, a := range ss.Outcome.Next {
				says += a.Do + " " + a.Of + ": " + a.Words + "\n"
			}
		}
	}
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(k.Named, "program-edited") || !strings.Contains(says, "Post it again") || !k.State().Released {
		t.Errorf("named %v, released %v: %s", k.Named, k.State().Released, says)
	}
	for _, f := range k.Failed {
		if f.Cut || !f.Answer {
			t.Errorf("found by %+v", f)
		}
	}
}
