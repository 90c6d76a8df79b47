package kit_test

import (
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// A ball of the card is the same one while both its radius and its place are within what their checks tell
// (0.003 and 0.005): either alone beyond that makes it another.
func TestSameBall(t *testing.T) {
	p, err := (&fold.House{Kinds: []*fold.Kind{{Name: "none"}}, Limits: judge.LimitRows}).Plan(&jobs.Job{Setups: []jobs.Setup{{Name: "s", Kind: "none"}}}, "s", nil)
	if err != nil {
		t.Fatal(err)
	}
	ball := func(rx, ry, ex, ey float64) fold.Known {
		return fold.Known{ID: "ball", Value: []float64{rx, ry, ex, ey, 0.001, 30}}
	}
	was := ball(0.990, 0.992, 0.010, -0.004)
	for name, c := range map[string]struct {
		now  fold.Known
		want bool
	}{
		"itself":               {was, true},
		"a little of each":     {ball(0.992, 0.994, 0.013, -0.001), true}, // 0.0042 off
		"larger along X":       {ball(0.994, 0.992, 0.010, -0.004), false},
		"smaller along Y":      {ball(0.990, 0.988, 0.010, -0.004), false},
		"farther off":          {ball(0.990, 0.992, 0.016, -0.004), false},
		"off in both a little": {ball(0.990, 0.992, 0.014, -0.008), false}, // 0.0057
	} {
		if got := kit.Cards["ball"].Same(p, was, c.now); got != c.want {
			t.Errorf("%s: the same ball: %t", name, got)
		}
	}
}
