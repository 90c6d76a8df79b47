package bench

import (
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
)

// lid is the plan of the example job on disk, edited for a test.
func lid(t testing.TB, edit func(*jobs.Job)) *steps.Plan {
	t.Helper()
	j, fs := jobs.ReadJob(jobs.OS(), "../../jobs/testdata/lid.job.yaml")
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	if edit != nil {
		edit(j)
	}
	p, err := steps.NewPlan(j, j.Setups[0].Name, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestProbeWalk(t *testing.T) {
	p := lid(t, nil)
	w := NewWorld(p, 1, Usual(p))
	k := NewWalk(p, w, nil)
	k.Watch = func(st *steps.State) {
		ss, _ := st.Step(st.Cursor.Step)
		for _, c := range ss.Outcome.Checks {
			if !c.Verdict.OK() {
				t.Log(len(k.Events), st.Cursor.Step, c.Limit.ID, c.Verdict, c.Got, c.Guard, c.Limit.Max, c.Words, ss.Outcome.Next)
			}
		}
	}
	_, err := k.Until(nil)
	for _, e := range k.Events {
		t.Log(e.Round, e.Read, e.Answer, e.Value)
	}
	if err != nil {
		t.Log(err)
	}
	t.Logf("%+v", *k.Result(""))
	for _, tr := range k.State().Troubles {
		t.Log(tr)
	}
}
