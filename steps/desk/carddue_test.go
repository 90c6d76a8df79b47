package desk_test

import (
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// What a setup proves of machine and ball goes to the card under its own key: X by X, Y by Y, a lean as a
// ratio over 300, a length in the card's unit.
func TestCardIsWrittenAxisByAxis(t *testing.T) {
	step := func(id fold.StepID, fs ...fold.Known) fold.Place {
		return fold.Place{ID: id, Build: func(*fold.Plan) *fold.Spec {
			s := &fold.Spec{Asks: func(fold.View) []fold.Ask { return []fold.Ask{{Field: "n", Kind: fold.Count}} },
				Judge: func(fold.View) fold.Outcome { return fold.Outcome{Facts: fs} }}
			for _, f := range fs {
				s.Makes = append(s.Makes, f.ID)
			}
			return s
		}}
	}
	h := fold.House{Kinds: []*fold.Kind{{Name: kit.FirstSide, Raw: true, Goal: "tram", Line: []fold.Place{
		step("ball", fold.Known{ID: "ball", Value: []float64{0.991, 0.995, 0.012, -0.004, 0.0015, 40}}),
		step("tram", fold.Known{ID: "tram", Value: []float64{0.0001, -0.0002}}, fold.Known{ID: "tram/column", Value: []float64{0.0003, -0.0004}}),
		step("square", fold.Known{ID: "squareness", Value: []float64{0.0005}})}}},
		Mishaps: facts.Mishaps, Limits: judge.LimitRows}
	for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
		j := &jobs.Job{Setups: []jobs.Setup{{Name: "s", Kind: kit.FirstSide}}, Machine: jobs.Machine{Unit: sys, Probe: &jobs.Probe{}}}
		p, err := h.Plan(j, "s", nil)
		if err != nil {
			t.Fatal(err)
		}
		es := []jobs.Event{{Begin: "s"}}
		for _, s := range []string{"ball", "tram", "square"} {
			es = append(es, jobs.Event{Round: "s/" + s + "/1"}, jobs.Event{Answer: "s/" + s + "/1/n", Value: "1"})
		}
		got := map[string]string{}
		for _, w := range desk.CardChanges(fold.Fold(p, es)) {
			for k, v := range w.Set {
				got[k] = v
			}
		}
		want := map[string]string{"tram.x": "0.03/300", "tram.y": "-0.06/300", "tram.column-x": "0.09/300", "tram.column-y": "-0.12/300", "squareness": "0.15/300"}
		if sys == unit.Metric {
			for k, v := range map[string]string{"probe.radius": "0.9930mm", "probe.radius-x": "0.9910mm", "probe.radius-y": "0.9950mm",
				"probe.eccentricity.0": "0.0120mm", "probe.eccentricity.1": "-0.0040mm", "probe.repeat": "0.0015mm", "probe.dof": "40"} {
				want[k] = v
			}
		}
		for k, v := range want {
			if got[k] != v {
				t.Errorf("unit %v: %s is written as %q, want %q", sys, k, got[k], v)
			}
		}
	}
}
