package steps_test

import (
	"fmt"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// reopened is a real walk up to a step, with as many more rounds of a step that were opened,
// the newest ones with a reading.
func reopened(b *testing.B, p *fold.Plan, n int) []jobs.Event {
	b.Helper()
	k := bench.NewWalk(p, bench.NewWorld(p, 3, bench.Usual(p)), nil)
	if ok, err := k.Until(func(st *fold.State) bool { return st.Ready }); err != nil || !ok {
		b.Fatal(ok, err)
	}
	es := k.Events
	st := k.State()
	ss, ok := st.Step("bore")
	if !ok {
		b.Fatal("no bore")
	}
	var taken []jobs.Event
	for _, t := range ss.Round.Taken {
		taken = append(taken, jobs.Event{Read: t.Field, Value: t.Value})
	}
	for i := 0; i < n; i++ {
		at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC).Add(time.Duration(i) * time.Second)
		es = append(es, jobs.Event{Round: fmt.Sprintf("side2/bore/%d", i+2), At: at})
		for _, e := range taken[:1] {
			e.At, e.Read = at, fmt.Sprintf("side2/bore/%d/%s", i+2, e.Read)
			es = append(es, e)
		}
	}
	return es
}

// BenchmarkManyRounds is a record of 5,000 rounds of one step: opened, and one event more.
func BenchmarkManyRounds(b *testing.B) {
	p := practicePlan(b, "T")
	es := reopened(b, p, 5000)
	if st := fold.Fold(p, es); len(st.Troubles) > 0 {
		b.Fatal(st.Troubles[0])
	}
	b.Run("fold", func(b *testing.B) {
		for b.Loop() {
			fold.Fold(p, es)
		}
	})
	b.Run("one more", func(b *testing.B) {
		l := steps.NewLog()
		for _, e := range es {
			l.Apply(e)
		}
		l.State(p)
		note := jobs.Event{Note: "x", At: es[len(es)-1].At}
		for b.Loop() {
			l.Apply(note)
			l.State(p)
		}
	})
}
