package stick_test

import (
	"fmt"
	"math"
	"testing"

	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/stick"
	"fliptrue/steps/trial"
)

// Demonstration, computed elsewhere: 84 x 52 inside the seal at the gate of 0.060 MPa presses with 262.1 N; held at the corner
// of 96 x 64 it bears 0.401 of what it does in its middle. A film of 60 N on 625 mm² bears 419.3 N over the same face.
func TestWorkedExample(t *testing.T) {
	plan := func(setup string) *fold.Plan {
		j := trial.Job(t, "testdata/shelf/shelf.job.yaml")
		p := trial.Plan(t, j, setup, nil)
		return p
	}
	near := func(what string, got, want, tol float64) {
		t.Logf("%-30s %10.4f %10.4f", what, want, got)
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("%s %.4f, want %.4f", what, got, want)
		}
	}
	shown := func(h desk.OneHold, label string) (n float64) {
		for _, r := range h.More {
			if r.Label == label {
				if _, err := fmt.Sscan(r.Text, &n); err != nil {
					t.Errorf("%s: %q", label, r.Text)
				}
			}
		}
		return n
	}
	v, f := stick.Face(plan("side2")), stick.Face(plan("taped"))
	near("pressed, N", shown(v, "pressed on its seat"), 262.08, 0.5) // shown in whole newtons
	near("tape sideways, N", shown(f, "tape bears sideways, before its factor"), 60*84*52/625.0*0.401, 0.9)
	if v.Ceiling <= 0.2 || f.Ceiling <= v.Ceiling {
		t.Errorf("ceilings %v and %v", v.Ceiling, f.Ceiling)
	}
}
