package side2_test

import (
	"slices"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
	"fliptrue/steps/side2"
)

// Every mistake of the table is one that the bench can make, with words for the person; more is never missed at a higher level.
func TestLevelsName(t *testing.T) {
	for step, rows := range side2.Kind.Reads {
		for _, w := range rows {
			for m := range w.Catches {
				if side2.Kind.Called[m] == "" || !slices.Contains(bench.MistakeNames(), m) {
					t.Errorf("%s %s: mistake %q has words %q, made by the bench %t", step, w.Field, m, side2.Kind.Called[m], slices.Contains(bench.MistakeNames(), m))
				}
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
