package bench

import (
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
)

// BenchmarkStateAfterAKey is what a key costs on side 2 of a record that holds tram, ball
// and side 1 as well: one event applied and the state made anew.
func BenchmarkStateAfterAKey(b *testing.B) {
	j := both(b)
	es := record(b, j, 5, "head", "ring", "side1", "side2")
	p := plan(b, j, "side2")
	l := steps.NewLog()
	for _, e := range es {
		l.Apply(e)
	}
	l.State(p)
	last := es[len(es)-1].At
	b.ResetTimer()
	for b.Loop() {
		l.Apply(jobs.Event{Note: "x", At: last})
		l.State(p)
	}
}
