package rescue_test

import (
	"testing"

	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

func init() { fold.Strict = true }

func planOf(t *testing.T, hd string) *steps.Plan {
	t.Helper()
	texts, err := builtin.Texts(hd)
	if err != nil {
		t.Fatal(err)
	}
	j, err := builtin.Job(hd)
	if err != nil {
		t.Fatal(err)
	}
	programs := map[string]steps.ProgramFile{}
	s := j.Setups[0]
	for _, g := range s.Programs {
		programs[g.Role] = steps.ProgramFile{Name: g.File, Hash: "1234567890abcdef", Data: []byte(texts[g.File])}
	}
	p, err := steps.NewPlan(j, s.Name, programs)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestTheWholeRescue(t *testing.T) {
	for _, hd := range []string{"T", "S"} {
		p := planOf(t, hd)
		r, err := bench.Auto(p, bench.Options{Seed: 3, LetsGo: true})
		if err != nil {
			t.Fatal(err)
		}
		if r.State != "released" {
			t.Errorf("%s: %s at %v: %s; %v", hd, r.State, *r.HeldAt, r.Walk.Words, r.Walk.Failed)
		}
		st := r.Walk.State()
		for _, s := range st.Steps {
			t.Logf("%s %-10s %-8v %s", hd, s.ID, s.Verdict, s.Outcome.Learned)
			for _, l := range s.Outcome.Lines {
				t.Logf("      %s: %v %v ± %v", l.Label, l.Text, l.Value, l.Guard)
			}
			for _, c := range s.Outcome.Checks {
				t.Logf("      check %s %v %g ± %g of %g %s", c.Limit.ID, c.Verdict, c.Got, c.Guard, c.Limit.Max, c.Words)
			}
		}
		t.Log(r.Walk.World.Stopped())
		t.Log(r.TrueError)
	}
}
