package steps_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// visePlan is a first side on the example job.
func visePlan(t testing.TB) *fold.Plan {
	t.Helper()
	j := trial.Lid(t)
	s := jobs.Setup{Name: "side1", Kind: "first-side", Z0: "top skin", Offset: "G55", Finds: "probe", Hits: 6, Stations: 7, Zero: "corner",
		Vise: jobs.Vise{Jaw: "away", JawTop: -11.5, Parallel: 20, Grip: 5, Stop: "left", Wall: 2, WallSpan: 40},
		Cut:  jobs.Cut{Tool: 3, Ae: 1, Ap: 0.5, Fz: 0.02, Lowest: -9}}
	j.Setups = append([]jobs.Setup{s}, j.Setups...)
	p := trial.Plan(t, j, "side1", nil)
	return p
}

// In the vise too every mishap at every step has a way back, in an order in which nothing
// is asked for before what it stands on.
func TestEveryMishapInTheViseHasAWayBack(t *testing.T) {
	p := visePlan(t)
	for _, sp := range p.Line {
		for _, m := range facts.Offered() {
			if testing.Short() && len(m.ID)%3 != 0 {
				continue
			}
			if err := wayBack(p, string(sp.ID), func(st *fold.State) bool { return st.Cursor.Step == sp.ID }, m); err != nil {
				t.Errorf("%s at %s: %v", m.ID, sp.ID, err)
			}
		}
	}
}

// Rechecks stand on facts as well, and those have rechecks of their own. For every recheck
// off the line and every mishap that voids what it stands on: where it is asked for, that
// mishap is declared. Nothing is asked for before what it stands on, and the walk ends
// released. The steps of the line are walked so by the tests of all mishaps at all steps.
func TestARecheckComesAfterWhatItStandsOn(t *testing.T) {
	tried := map[fold.StepID]int{}
	plans := []*fold.Plan{practicePlan(t, "T"), practicePlan(t, "M"), practicePlan(t, "S"), visePlan(t)}
	if testing.Short() {
		plans = plans[:1]
	}
	for _, p := range plans {
		for _, sp := range p.Off {
			for _, m := range facts.Offered() {
				f, hit := hitUnder(sp, m)
				if !hit {
					continue
				}
				k := asking(t, p, sp)
				if k == nil {
					continue
				}
				if err := k.Declare(m.ID, f.Thing()); err != nil {
					t.Fatal(err)
				}
				tried[sp.ID]++
				var wrong error
				ok, err := k.Until(func(st *fold.State) bool {
					if wrong == nil {
						wrong = asksTooEarly(p, st)
					}
					return wrong != nil || released(st)
				})
				switch {
				case err != nil:
					t.Fatal(err)
				case wrong != nil:
					t.Errorf("plan %s, %s at %s: %v", p.Setup.HoldDown, m.ID, sp.ID, wrong)
				case !ok:
					t.Errorf("plan %s, %s at %s: held at %v: %s", p.Setup.HoldDown, m.ID, sp.ID, k.State().Cursor, k.Words)
				}
			}
		}
	}
	for _, id := range []fold.StepID{"next", "datum-check", "reread", "seat-check"} {
		if tried[id] == 0 && !testing.Short() {
			t.Errorf("%s was not tried: %v", id, tried)
		}
	}
}

// hitUnder is the first fact under the step that the mishap concerns.
func hitUnder(sp *fold.Spec, m fold.Mishap) (fold.FactID, bool) {
	for _, f := range sp.Stands() {
		if f == facts.AMounting {
			continue // nothing waits for it
		}
		if m.Cell(f) != fold.Untouched && !slices.Contains(sp.Makes, f) && !slices.Contains(sp.Lifts(), f) {
			return f, true
		}
	}
	return "", false
}

// asking is a walk that has come to where an off-line step is asked for; nil when none leads there.
func asking(t *testing.T, p *fold.Plan, sp *fold.Spec) *bench.Walk {
	t.Helper()
	w := bench.NewWorld(p, 7, bench.Effects{})
	here := func(st *fold.State) bool { return st.Cursor.Step == sp.ID }
	if sp.ID == "next" {
		k := nextWalk(t, p, w)
		if !here(k.State()) {
			t.Fatalf("the next part begins at %s", k.State().Cursor.Step)
		}
		return k
	}
	for _, m := range facts.Offered() {
		for _, f := range append(slices.Clone(sp.Lifts()), sp.Makes...) {
			if m.Recheck(f) != sp.ID && !(m.ID == "offset-edited" && f == "echo") {
				continue
			}
			k := bench.NewWalk(p, w, nil)
			if ok, err := k.Until(func(st *fold.State) bool { _, stands := st.Fact("offset"); return stands }); err != nil || !ok {
				t.Fatal(ok, err)
			}
			if err := k.Declare(m.ID, f.Thing()); err != nil {
				t.Fatal(err)
			}
			ok, err := k.Until(here)
			if err != nil {
				t.Fatal(err)
			}
			if ok {
				return k
			}
			w = bench.NewWorld(p, 7, bench.Effects{})
		}
	}
	return nil
}

// In a walk that was done in order nothing comes to be too early by what is read after it:
// every step's first reading taken again, as it was and far out, costs no hole.
func TestNothingReadInOrderComesToBeTooEarly(t *testing.T) {
	p := practicePlan(t, "T")
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
	if ok, err := k.Until(func(st *fold.State) bool { return st.Ready }); err != nil || !ok {
		t.Fatal(ok, err)
	}
	n := 0
	for _, ss := range k.State().Steps {
		if ss.Round == nil || ss.ID == "drill" {
			continue
		}
		for _, tk := range ss.Round.Taken[:1] {
			for _, value := range []string{tk.Value, "99"} {
				n++
				at := fmt.Sprintf("%s/%s/%d/%s", p.Setup.Name, ss.ID, ss.Round.No, tk.Field)
				st := fold.Fold(p, append(slices.Clone(k.Events), jobs.Event{Read: at, Value: value}))
				for _, s := range st.Strays {
					if strings.Contains(s.What, "Nothing of this round counts") {
						t.Errorf("%s %s: %s", at, value, s.What)
					}
				}
				if _, ok := st.Fact("holes"); !ok {
					t.Errorf("%s %s: the holes do not count any more", at, value)
				}
			}
		}
	}
	if n < 20 {
		t.Errorf("only %d were read again", n)
	}
}
