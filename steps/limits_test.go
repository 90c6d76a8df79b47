package steps_test

import (
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// The file reads every limit of a job as a length: one that is none keeps its number.
func TestALimitOfNoLengthKeepsItsNumber(t *testing.T) {
	for _, id := range []string{"seat.warmth", "square.skew", "floor.tilt"} {
		for _, sys := range []unit.System{unit.Metric, unit.Imperial} {
			inch := 1.0
			if sys == unit.Imperial {
				inch = float64(unit.Inch)
			}
			p := lidPlan(t, func(j *jobs.Job) { j.Unit = sys })
			p.Job.Limits = map[string]unit.Length{id: unit.Length(1.0 / (1 << 17) * inch)} // as the reader gives a bare 0.5
			l := p.Limit(id)
			want := 1.0 / (1 << 17)
			if l.Unit == unit.KLength {
				want *= inch
			}
			if l.Max != want {
				t.Errorf("%s in %v: %g, want %g", id, sys, l.Max, want)
			}
		}
	}
}
