package bench_test

import (
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// torn puts in what is said of rounds that were read half before and half after a mishap, and what a
// record of an earlier walk says of mishaps told under another setup.
func (s *said) torn(t *testing.T, w walked, whole []jobs.Event) {
	t.Helper()
	cut := map[fold.StepID]bool{}
	for i, e := range whole {
		a := strings.Split(e.Read, "/")
		if len(a) < 4 || whole[i-1].Read == "" || !strings.HasPrefix(whole[i-1].Read, strings.Join(a[:3], "/")) || cut[fold.StepID(a[1])] {
			continue
		}
		cut[fold.StepID(a[1])] = true
		es := append(whole[:i:i], jobs.Event{Mishap: w.plan.Setup.Name + "/power-lost", At: e.At}, e)
		st := fold.Fold(w.plan, es)
		s.state(w.setting, &st)
	}
	if len(cut) < 3 {
		t.Fatalf("only %d rounds were torn", len(cut))
	}
	j := sidesJob(t, nil)
	p := planOf(t, j, "side2", nil)
	es := []jobs.Event{{Begin: "side1", Cards: map[string]string{"walk": "2"}}, {Begin: "side2", Cards: map[string]string{"walk": "2"}}, {Mishap: "side1/power-lost"}}
	st := fold.Fold(p, es)
	s.state(setting{tag: "both sides"}, &st)
	if len(st.Spared) == 0 {
		t.Fatal("an earlier record spares nothing")
	}
}
