package kit_test

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// The lean of the spindle steps the walls of both sides by twice its slope times their height along the axis of the
// flip, and by nothing across it: worked by hand for a part 10 thick.
func TestKinkOfALeaningSpindle(t *testing.T) {
	tram := fold.Known{ID: "tram", Value: []float64{-0.0001, 0.0003}}
	offset := fold.Known{ID: "offset", Value: []float64{10, 20, 0, 0, 0, 0, 10, 20, 1, 0, 0, 0}, Cov: [][]float64{{0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}}, Dof: 30}
	for flip, want := range map[string][2]float64{"x": {0.002, 0}, "y": {0, 0.006}} {
		j := &jobs.Job{Allowance: 0.05, Setups: []jobs.Setup{{Name: "s", Kind: kit.SecondSide, Flip: flip, Z0: "floor"}}}
		j.Part.Size = [3]float64{96, 64, 10}
		p, err := (&fold.House{Kinds: []*fold.Kind{{Name: kit.SecondSide}}, Limits: judge.LimitRows}).Plan(j, "s", nil)
		if err != nil {
			t.Fatal(err)
		}
		fs := kit.RegisterOf(p, func(id fold.FactID) (fold.Known, bool) {
			f, ok := map[fold.FactID]fold.Known{"tram": tram, "offset": offset}[id]
			return f, ok
		}, true)
		if len(fs) != 4 {
			t.Fatalf("%d features of a part that lists none, want its corners", len(fs))
		}
		for _, f := range fs {
			if math.Abs(f.Kink[0]-want[0]) > 1e-12 || math.Abs(f.Kink[1]-want[1]) > 1e-12 {
				t.Errorf("flipped about %s: the kink is %v, want %v", flip, f.Kink, want)
			}
		}
	}
}

// The worst feature is that of the largest error, kink and guard together; what is judged is error and kink.
func TestWorstFeature(t *testing.T) {
	i, axis, value, guard := kit.WorstFeature([]kit.FeatureError{
		{Error: [2]float64{0.020, -0.021}, Guard: [2]float64{0.005, 0.005}},
		{Error: [2]float64{0.010, -0.012}, Kink: [2]float64{0, 0.015}, Guard: [2]float64{0.004, 0.004}},
		{Error: [2]float64{0.022, 0}, Guard: [2]float64{0.006, 0.001}}})
	if i != 1 || axis != 1 || math.Abs(value-0.027) > 1e-12 || guard != 0.004 {
		t.Errorf("feature %d, axis %d: %g with %g, want 1, 1: 0.027 with 0.004", i, axis, value, guard)
	}
}
