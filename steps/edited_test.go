package steps_test

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
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
	k.Watch = func(st *fold.State) {
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

// What was edited at the control stays so while its program's file is missing or is another.
func TestEditedProgramWithoutItsFile(t *testing.T) {
	with := planWith(t, "T", asShipped)
	for name, p := range map[string]*fold.Plan{"there": with, "missing": with.WithPrograms(nil),
		"another": with.WithPrograms(map[string]fold.ProgramFile{"top": {Name: "top.nc", Hash: "2", Data: []byte("%\nG21\nM30\n")}})} {
		k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
		if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "program" }); err != nil {
			t.Fatal(err)
		}
		ss, _ := k.State().Step("program")
		var edited []string
		for _, a := range ss.Asks {
			v := a.Want
			if strings.HasSuffix(a.Field, ".same") {
				v = a.Options[1]
				edited = append(edited, a.Field)
			}
			es, err := k.State().Take("keyed", [2]string{a.Field, v})
			if err != nil {
				t.Fatal(err)
			}
			if err := k.Add(es...); err != nil {
				t.Fatal(err)
			}
		}
		ss, _ = k.State().Step("program")
		if len(edited) != len(p.Setup.Programs) || ss.Verdict != fold.Fail || ss.Outcome.Named != "program-edited" {
			t.Errorf("%s: asked %v, %v, named %q", name, edited, ss.Verdict, ss.Outcome.Named)
		}
	}
}
