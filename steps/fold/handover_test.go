package fold_test

import (
	"reflect"
	"slices"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Two toy setups, of which one hands a fact over.
var (
	giverKind = &fold.Kind{Name: "giver", Goal: "part/toy", Hands: []fold.FactID{"part"}, Line: []fold.Place{{ID: "t.give", Build: func(*fold.Plan) *fold.Spec {
		return &fold.Spec{Makes: []fold.FactID{"part/toy"}, Asks: func(fold.View) []fold.Ask { return []fold.Ask{{Field: "n", Kind: fold.Count}} }, Judge: func(v fold.View) fold.Outcome {
			c := judge.Of(fold.Limit{ID: "n", Max: 9, Class: fold.Soft}, float64(v.Int("n")), 0)
			c.Count = true
			return fold.Outcome{Facts: []fold.Known{{ID: "part/toy"}}, Checks: []fold.Check{c}}
		}}
	}}}}
	takerKind = &fold.Kind{Name: "taker", Goal: "taken", Line: []fold.Place{{ID: "t.take", Build: func(*fold.Plan) *fold.Spec {
		return &fold.Spec{Needs: fold.LiveIfThere("part/toy"), Makes: []fold.FactID{"taken"}, Asks: func(fold.View) []fold.Ask { return []fold.Ask{{Field: "n", Kind: fold.Count}} }}
	}}}}
)

// A waiver in one setup counts in the other at once, whichever of them was looked at before.
func TestSplitsOfTwoSetups(t *testing.T) {
	j := &jobs.Job{Name: "toys", Setups: []jobs.Setup{{Name: "a", Kind: "giver"}, {Name: "b", Kind: "taker"}}}
	p, err := toys().Plan(j, "b", nil)
	if err != nil {
		t.Fatal(err)
	}
	es := []jobs.Event{{Begin: "a"}, {Begin: "b"}, {Round: "a/t.give/1"}, {Read: "a/t.give/1/n", Value: "12"},
		{Waive: "a/t.give/1/n", Value: "12", Reason: "a toy"}, {Round: "b/t.take/1"}, {Answer: "b/t.take/1/n", Value: "1"},
		{Read: "a/t.give/1/n", Value: "11"}, {Waive: "a/t.give/1/n", Value: "11", Reason: "a toy"}}
	l := toys().Log()
	for i, e := range es {
		es[i].At = time.Date(2026, 3, 1, 10, i, 0, 0, time.UTC)
		e.At = es[i].At
		l.Apply(e)
		st := l.State(p)
		if want := fold.Fold(p, es[:i+1]); !reflect.DeepEqual(st, want) {
			t.Fatalf("after event %d the state is %+v, folded at once %+v", i+1, st, want)
		}
		if _, ok := st.Fact("part/toy"); ok != (i == 4 || i == 5 || i == 6 || i == 8) {
			t.Errorf("after event %d the fact stands: %v", i+1, ok)
		}
	}
}

// Two setups that would show each other what neither makes have nothing, and do not ask for ever.
func TestTwoThatShowWhatNeitherMakes(t *testing.T) {
	show := func(name string) *fold.Kind {
		k := *takerKind
		k.Name, k.Shows = name, []fold.FactID{"part"}
		return &k
	}
	h := *toys()
	h.Kinds = append(slices.Clone(h.Kinds), show("one"), show("other"))
	p, err := h.Plan(&jobs.Job{Name: "toys", Setups: []jobs.Setup{{Name: "a", Kind: "one"}, {Name: "b", Kind: "other"}}}, "b", nil)
	if err != nil {
		t.Fatal(err)
	}
	l := h.Log()
	l.Apply(jobs.Event{Begin: "a"})
	l.Apply(jobs.Event{Begin: "b"})
	st := l.State(p)
	if len(st.Troubles) > 0 || st.Cursor.Step != "t.take" {
		t.Errorf("at %q, troubles %v", st.Cursor.Step, st.Troubles)
	}
	if _, ok := st.Fact("part/toy"); ok {
		t.Error("the fact stands")
	}
}
