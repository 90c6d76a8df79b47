package desk_test

import (
	"math"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

// A card value with a sign weighs the same with the other: a negative squareness, which the tram
// setup itself writes, made a negative half width, and square was NOT PROVEN with limit 0.000.
func TestCardValuesWithBothSigns(t *testing.T) {
	slope := func(v float64) *unit.Slope { s := unit.Slope(v); return &s }
	for name, set := range map[string]func(*jobs.Job, float64){
		"squareness": func(j *jobs.Job, s float64) {
			j.Machine.Squareness, j.Machine.SquareMeasured = unit.Slope(s*0.05/300), true
		},
		"eccentricity": func(j *jobs.Job, s float64) { j.Machine.Probe.Eccentricity = [2]float64{s * 0.02, -s * 0.01} },
		"tram": func(j *jobs.Job, s float64) {
			j.Machine.Tram = &jobs.Tram{X: unit.Slope(s * 1e-4), Y: unit.Slope(-s * 5e-5)}
		},
		"column":    func(j *jobs.Job, s float64) { j.Machine.Tram = &jobs.Tram{ZX: slope(s * 1e-4), ZY: slope(-s * 5e-5)} },
		"edge zero": func(j *jobs.Job, s float64) { j.Fixture.AsMade.Edge.Zero = unit.Slope(s * 1e-4) },
		"bias":      func(j *jobs.Job, s float64) { j.Fixture.AsMade.Bore.Bias = [2]float64{s * 0.01, -s * 0.01} },
	} {
		var limit, guard [2]float64
		for i, s := range []float64{1, -1} {
			j := trial.Lid(t)
			set(j, s)
			p := trial.Plan(t, j, "side2", nil)
			limit[i], guard[i] = checks.SkewLimit(p, fold.Walk), kit.OffsetGuard(p, fold.Walk)
			if !(limit[i] > 1e-5) || !(guard[i] > 0) || math.IsInf(guard[i], 0) {
				t.Errorf("%s %+.0f: skew limit %g, guard %g", name, s, limit[i], guard[i])
			}
		}
		if math.Abs(limit[0]-limit[1]) > 1e-9 || math.Abs(guard[0]-guard[1]) > 1e-9 {
			t.Errorf("%s: limits %v, guards %v", name, limit, guard)
		}
	}
}
