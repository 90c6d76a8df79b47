package fold_test

import (
	"fmt"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// A kind of two or three steps, for one rule each: whatever a step makes it makes from one count n.

// at is a place of a walk with that step.
func at(id fold.StepID, s fold.Spec) fold.Place {
	if s.Asks == nil {
		s.Asks = counts("n")
	}
	return fold.Place{ID: id, Build: func(*fold.Plan) *fold.Spec { c := s; return &c }}
}

func counts(fields ...string) func(fold.View) []fold.Ask {
	var asks []fold.Ask
	for _, f := range fields {
		asks = append(asks, fold.Ask{Field: f, Kind: fold.Count})
	}
	return func(fold.View) []fold.Ask { return asks }
}

// upTo9 is a recheck's judge: 9 passes, 10 fails.
func upTo9(v fold.View) fold.Outcome {
	c := fold.Check{Limit: fold.Limit{ID: "n", Max: 9}, Count: true, Got: float64(v.Int("n")), Verdict: fold.Pass}
	if v.Int("n") > 9 {
		c.Verdict = fold.Fail
	}
	return fold.Outcome{Checks: []fold.Check{c}}
}

// small is a record of setups of such a kind, begun by a walk; the toy is that of the first.
func small(t *testing.T, k *fold.Kind, walk string, setups ...string) *toy {
	t.Helper()
	h := *toys()
	h.Kinds = []*fold.Kind{k}
	j := &jobs.Job{Name: "small"}
	for _, s := range setups {
		j.Setups = append(j.Setups, jobs.Setup{Name: s, Kind: k.Name})
	}
	p, err := h.Plan(j, setups[0], nil)
	if err != nil {
		t.Fatal(err)
	}
	y := &toy{t: t, p: p, l: h.Log()}
	for _, s := range setups {
		y.put(jobs.Event{Begin: s, Cards: map[string]string{"walk": walk}})
	}
	return y
}

// again reads the newest round of a step once more.
func (y *toy) again(step fold.StepID, n int) {
	y.put(jobs.Event{Read: fmt.Sprintf("s/%s/%d/n", step, len(y.l.Rounds("s", step))), Value: fmt.Sprint(n)})
}

// holds says which facts have to stand now, and which not.
func (y *toy) holds(why string, want map[fold.FactID]bool) {
	y.t.Helper()
	st := y.l.State(y.p)
	for f, w := range want {
		if _, ok := st.Fact(f); ok != w {
			y.t.Errorf("%s: %s stands: %t, want %t", why, f, ok, w)
		}
	}
}
