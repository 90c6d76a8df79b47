package steps

import (
	"reflect"
	"testing"
	"time"

	"fliptrue/jobs"
)

// Two toy setups, of which one hands a fact over.
var (
	giverKind = &Kind{Name: "giver", Goal: "part/toy", Hands: []FactID{"part"}, Line: []Place{{ID: "t.give", Build: func(*Plan) *Spec {
		return &Spec{Makes: []FactID{"part/toy"}, Asks: func(View) []Ask { return []Ask{{Field: "n", Kind: Count}} }, Judge: func(v View) Outcome {
			c := Judged(Limit{ID: "n", Max: 9, Class: Soft}, float64(v.Int("n")), 0)
			c.Count = true
			return Outcome{Facts: []Fact{{ID: "part/toy"}}, Checks: []Check{c}}
		}}
	}}}}
	takerKind = &Kind{Name: "taker", Goal: "taken", Line: []Place{{ID: "t.take", Build: func(*Plan) *Spec {
		return &Spec{Binds: []FactID{"part/toy"}, Makes: []FactID{"taken"}, Asks: func(View) []Ask { return []Ask{{Field: "n", Kind: Count}} }}
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
		if want := Fold(p, es[:i+1]); !reflect.DeepEqual(st, want) {
			t.Fatalf("after event %d the state is %+v, folded at once %+v", i+1, st, want)
		}
		if _, ok := st.Fact("part/toy"); ok != (i == 4 || i == 5 || i == 6 || i == 8) {
			t.Errorf("after event %d the fact stands: %v", i+1, ok)
		}
	}
}
