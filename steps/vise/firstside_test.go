package vise_test

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// The edge under the dial is the fixed jaw's, whatever fixture the job has; nothing of the fixture is kept, and no
// sentence of the fixture's is said. Side 1 has no offset to carry a skew.
func TestTheFixedJawIsTheEdge(t *testing.T) {
	for jaw, want := range map[string]string{"away": "front", "toward": "rear"} {
		p := plan(t, func(j *jobs.Job, s *jobs.Setup) {
			s.Vise.Jaw = jaw
			j.Fixture.AsMade.Edge = &jobs.Edge{Side: "left", Length: 30, Zero: unit.Slope(0.01)}
		})
		e, ok := kit.EdgeOf(p)
		if !ok || e.Side != want || e.Length != 96 || e.Zero != 0 || kit.AlongY(p) {
			t.Errorf("jaw %s: %+v", jaw, e)
		}
		if got := p.Limit("square.skew").Max; math.Abs(got-0.1*0.05/100) > 1e-15 {
			t.Errorf("jaw %s: skew limit %g", jaw, got)
		}
		o := judged(t, p, "square", nil, [2]string{"jog0", "0"}, [2]string{"jog1", "0.2"}, [2]string{"bolts", "4"}, [2]string{"close", "0"},
			[2]string{"s1", "0"}, [2]string{"s2", "0"}, [2]string{"s3", "0"}, [2]string{"s4", "0"}, [2]string{"s5", "0"}, [2]string{"s6", "0"}, [2]string{"s7", "0"})
		if c := checkOf(t, o, "square.skew"); c.Verdict != fold.Pass || c.Limit.Why != "skew of the fixed jaw" {
			t.Errorf("%+v", c)
		}
		if !strings.HasPrefix(o.Learned, "The fixed jaw is true") || !strings.HasSuffix(o.Learned, "Side 1 will lie so.") {
			t.Error(o.Learned)
		}
	}
}
