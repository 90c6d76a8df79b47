package jaws_test

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// Demonstration: a ring of mean radius 30, wall 2, height 12, stiffness 2900, held over 75 degrees; computed elsewhere with
// numpy: largest less smallest diameter 0.0736 P R³/(E I), so that a wall moves by 0.010 at 0.2336 N. Nest 0.010 wider: it lets a wall
// move by 0.005(1 - cos 75°) = 0.003706.
func TestWorkedExample(t *testing.T) {
	j, err := builtin.Job("soft-jaws")
	if err != nil {
		t.Fatal(err)
	}
	j.Part.Size = [3]float64{62, 62, 12}
	j.Part.Features = nil
	j.Materials = map[string]jobs.Material{j.Part.Material: {E: [2]float64{2900, 2900}, Source: "demonstration"}}
	s := &j.Setups[0]
	s.Jaws = jobs.Jaws{Shape: "ring", Wall: 2, Wrap: 75, Grip: 5, Force: 250, Most: 0.2336, Source: "demonstration"}
	p := trial.Plan(t, j, s.Name, nil)
	nest := facts.Nest.Is(facts.NestFact{Wide: 62.010, Depth: 5})
	v := fold.Trial(p, "grip", trial.When, []fold.Known{nest}, [2]string{"w1", "62"}, [2]string{"w2", "61.998"}, [2]string{"wall", "2"})
	sp, _ := p.Spec("grip")
	o := sp.Judge(v)
	want := map[string]float64{"nest less part": 0.010, "wall bows by itself": 0.010, "the nest lets it move": 0.003706}
	for _, r := range o.Lines {
		if w, ok := want[r.Label]; ok {
			t.Logf("%-26s %10.6f %10.6f", r.Label, w, r.Value)
			if math.Abs(r.Value-w) > 1e-5 {
				t.Errorf("%s %.6f, want %.6f", r.Label, r.Value, w)
			}
			delete(want, r.Label)
		}
	}
	for _, c := range o.Checks {
		if c.Limit.ID == "jaws.gentle" && c.Verdict != fold.Pass {
			t.Errorf("bounded by its nest: %v %s", c.Verdict, c.Words)
		}
	}
	if len(want) > 0 || o.Named != "" {
		t.Errorf("not shown %v; named %q", want, o.Named)
	}
}
