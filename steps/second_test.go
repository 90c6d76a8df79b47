package steps_test

import (
	"math"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

// lidPlan is the second side of the example job on disk.
func lidPlan(t testing.TB, edit func(*jobs.Job)) *fold.Plan {
	t.Helper()
	return trial.Plan(t, trial.Lid(t), "side2", edit)
}

// walker types values at whatever is asked.
type walker struct {
	t  testing.TB
	p  *fold.Plan
	l  *fold.Log
	es []jobs.Event
}

func newWalker(t testing.TB, p *fold.Plan) *walker {
	w := &walker{t: t, p: p, l: steps.NewLog()}
	w.put(p.Level().At(fold.Begin("side2", nil, "")))
	return w
}

func (w *walker) put(es ...jobs.Event) {
	for _, e := range es {
		e.At = time.Date(2026, 3, 1, 10, 0, len(w.es), 0, time.UTC)
		w.l.Apply(e)
		w.es = append(w.es, e)
	}
}

// type_ answers the fields of the current step in turn; "" ends.
func (w *walker) types(step fold.StepID, values ...string) fold.State {
	w.t.Helper()
	st := w.l.State(w.p)
	for _, v := range values {
		if st.Cursor.Step != step {
			w.t.Fatalf("asked is %s %s, not %s, when typing %q", st.Cursor.Step, st.Cursor.Field, step, v)
		}
		es, err := st.Take("keyed", [2]string{st.Cursor.Field, v})
		if err != nil {
			w.t.Fatalf("%s %s: %v", step, st.Cursor.Field, err)
		}
		w.put(es...)
		st = w.l.State(w.p)
	}
	return st
}

func TestOffsetGuardIsFinite(t *testing.T) {
	p := lidPlan(t, nil)
	if g := kit.OffsetGuard(p, 3); !(g > 0.003 && g < 0.025) {
		t.Errorf("guard of the offset %v, expected some hundredths", g)
	}
	if l := checks.SkewLimit(p, 3); !(l > 0) || math.IsInf(l, 0) {
		t.Errorf("skew limit %v", l)
	}
}
