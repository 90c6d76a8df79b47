package side2_test

import (
	"slices"
	"testing"

	"fliptrue/calc/worth"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
	"fliptrue/steps/side2"
)

// Every mistake of the table is one that the bench can make or that is reckoned with, with words for the person; more is never missed
// at a higher level.
func TestLevelsName(t *testing.T) {
	reckoned := map[string]bool{}
	for _, m := range worth.Mistakes() {
		reckoned[m.Name] = true
	}
	for step, rows := range side2.Kind.Reads {
		for _, w := range rows {
			for m := range w.Catches {
				if side2.Kind.Called[m] == "" || !reckoned[m] {
					t.Errorf("%s %s: mistake %q has words %q, reckoned with %t", step, w.Field, m, side2.Kind.Called[m], reckoned[m])
				}
			}
		}
	}
	for _, m := range bench.Mistakes() { // what the bench makes and nobody reckons with would be free
		if !reckoned[m.Name] && m.Name != "refitted-probe" { // a false alarm and no harm
			t.Errorf("the bench makes %s, and no walk reckons with it", m.Name)
		}
	}
	for step, rows := range side2.Kind.Reads {
		for _, w := range rows {
			if w.Gate && w.From > fold.Full {
				t.Errorf("%s %s keeps what can hurt somebody away, and is asked from level %v on", step, w.Field, w.From)
			}
		}
	}
	for l := fold.Proven; l < fold.Irreplaceable; l++ {
		less, more := side2.Kind.Misses(l), side2.Kind.Misses(l+1)
		for _, m := range more {
			if !slices.Contains(less, m) {
				t.Errorf("%s is missed at %v and not at %v", m, l+1, l)
			}
		}
		if len(less) <= len(more) {
			t.Errorf("%v misses %d and %v %d", l, len(less), l+1, len(more))
		}
	}
	if got := side2.Kind.Misses(fold.Irreplaceable); len(got) > 0 {
		t.Errorf("the highest level misses %v", got)
	}
}
