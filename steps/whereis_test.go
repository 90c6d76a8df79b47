package steps_test

import (
	"testing"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// A place says where to jog to once the bore is found, and where it is as seen from it.
func TestPlacesToJogTo(t *testing.T) {
	p := lidPlan(t, nil)
	inch := lidPlan(t, func(j *jobs.Job) { j.Unit = unit.Imperial })
	bore := fold.Known{Value: []float64{-273, -155.4, 8}}
	for _, c := range []struct {
		p     *fold.Plan
		q     jobs.Point
		found bool
		want  string
	}{
		{p, jobs.Point{X: 54.6, Y: 26.4}, true, "M X -218.4 Y -129.0 (54.6 right, 26.4 away of the bore)"},
		{p, jobs.Point{X: 54.6, Y: 26.4}, false, "54.6 right, 26.4 away of the bore"},
		{p, jobs.Point{X: -3, Y: -10}, false, "3.0 left, 10.0 toward you of the bore"},
		{inch, jobs.Point{X: 25.4, Y: 50.8}, false, "1.00 right, 2.00 away of the bore"},
	} {
		if got := kit.OnFixture(c.p, c.q, bore, c.found); got != c.want {
			t.Errorf("%v: %q, want %q", c.q, got, c.want)
		}
	}
	off := facts.Offset.Is(facts.OffsetFact{X: -223, Y: -139, Z: -286})
	for _, c := range []struct {
		s     kit.Spot
		found bool
		want  string
	}{
		{kit.Spot{Label: "part, face LEFT", Axis: fit.AxisX, At: fit.Point{Y: 27}}, true, "part, face LEFT: W Y +27.0 = M Y -112.0"},
		{kit.Spot{Label: "part, face TOWARD YOU, LEFT end", Axis: fit.AxisY, At: fit.Point{X: 8}}, false, "part, face TOWARD YOU, LEFT end: W X +8.0"},
		{kit.Spot{Label: "part top, NEAR LEFT", Axis: fit.AxisZ, At: fit.Point{X: 19, Y: 8}}, true, "part top, NEAR LEFT: W X +19.0 Y +8.0 = M X -204.0 Y -131.0"},
	} {
		if got := kit.WitnessAt(p, c.s, off, c.found); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
