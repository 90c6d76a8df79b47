package fold_test

import (
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Whatever a step has learned, where it does not pass its headline is the check that says why.
func TestHeadlineIsTheFailingFact(t *testing.T) {
	p := toyPlan(t)
	l := fold.Limit{ID: "a", Why: "the part stays", Max: 0.005, Unit: unit.KLength}
	for _, c := range []struct {
		name  string
		cs    []fold.Check
		heads string
	}{
		{"fail before not proven", []fold.Check{{Limit: l, Verdict: fold.NotProven, Words: "perhaps"}, {Limit: l, Verdict: fold.Fail, Words: "it moved"}}, "it moved"},
		{"one with words first", []fold.Check{judge.Of(l, 0.02, 0), {Limit: l, Verdict: fold.Fail, Words: "it moved"}}, "it moved"},
		{"without words", []fold.Check{judge.Of(l, 0.02, 0)}, "The part stays: 0.020 of 0.005 mm."},
		{"not proven without words", []fold.Check{judge.Of(l, 0.004, 0.002)}, "The part stays: not proven, 0.004 of 0.005 mm."},
		{"a minimum", []fold.Check{judge.Of(fold.Limit{Why: "thread engaged", Max: 4, Min: true, Unit: unit.KLength}, 3.2, 0)}, "Thread engaged: 3.200 of at least 4.000 mm."},
		{"an answer", []fold.Check{toys().Wanted(fold.Ask{Label: "clamps left on the table", Want: "0", WantWhy: "It is thrown."}, "1")}, "Clamps left on the table: 1, wanted 0. It is thrown."},
	} {
		if got := fold.Failing(c.cs).Headline(p); got != c.heads {
			t.Errorf("%s: %q", c.name, got)
		}
	}
	if fold.Failing([]fold.Check{judge.Of(l, 0.001, 0), {Limit: l, Verdict: fold.Waived}}) != nil {
		t.Error("a check that passes heads the outcome")
	}
}

// A minimum is judged as a limit is, with the signs turned round.
func TestJudgedMinimum(t *testing.T) {
	l := fold.Limit{Max: 4, Min: true}
	for _, c := range []struct {
		value, guard float64
		want         fold.Verdict
	}{{4, 0, fold.Pass}, {3.999, 0, fold.Fail}, {5, 0.5, fold.Pass}, {4.2, 0.5, fold.NotProven}, {3.5, 0.5, fold.Fail}} {
		if got := judge.Of(l, c.value, c.guard).Verdict; got != c.want {
			t.Errorf("%v ± %v of at least 4: %v, want %v", c.value, c.guard, got, c.want)
		}
	}
}

// A count with a plus, which the key that answers leaves where it is typed first, is that count; a word with one is not.
func TestAnswersThatAreTheSame(t *testing.T) {
	for _, c := range []struct {
		a, b string
		same bool
	}{{"+0", "0", true}, {"+6", "06", true}, {"yes", " YES", true}, {"G54", "g 54", false}, {"+", "", false}, {"-6", "6", false}, {"+a", "a", false}} {
		if fold.SameAnswer(c.a, c.b) != c.same {
			t.Errorf("%q and %q: same is %v", c.a, c.b, !c.same)
		}
	}
}
