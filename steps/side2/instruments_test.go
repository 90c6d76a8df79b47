package side2_test

import (
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// What these instruments cannot prove is told at the desk with the instrument that it takes; with that one it is proven.
func TestTheDeskNamesTheInstrumentThatItTakes(t *testing.T) {
	dial := func(g float64) *fold.Plan {
		return trial.Plan(t, trial.Lid(t), "", func(j *jobs.Job) { j.Allowance, j.Machine.Dial.Graduation = 0.05, g })
	}
	probe := func(s float64) *fold.Plan {
		return trial.Plan(t, trial.Lid(t), "", func(j *jobs.Job) { j.Machine.Probe.Repeat = s })
	}
	said := func(p *fold.Plan, limit string) (string, bool) {
		for _, c := range p.Foreseen() {
			if strings.HasPrefix(c.Limit.ID, limit) && !c.Verdict.OK() {
				return c.Words, true
			}
		}
		return "", false
	}
	for _, c := range []struct {
		limit, takes string
		coarse, fine *fold.Plan
	}{
		{"straps.bow", "one of 0.010 mm", dial(0.02), dial(0.01)},
		{"shift.register", "a probe that repeats within ", probe(0.02), probe(0.001)},
	} {
		words, open := said(c.coarse, c.limit)
		if !open || !strings.Contains(words, "It takes "+c.takes) {
			t.Errorf("%s, coarse: open %v, %q", c.limit, open, words)
		}
		if words, open := said(c.fine, c.limit); open {
			t.Errorf("%s, fine enough: %q", c.limit, words)
		}
	}
}
