package fold_test

import (
	"fmt"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// longRecord is n events of a toy walk in which one step is read again and again.
func longRecord(n int) []jobs.Event {
	es := []jobs.Event{{Begin: "s"}, {Round: "s/t.mount/1"}, {Read: "s/t.mount/1/n", Value: "1"}, {Round: "s/t.square/1"}}
	round := 1
	for i := 1; len(es) < n; i++ {
		switch {
		case i%50 == 0:
			es = append(es, jobs.Event{Mishap: "s/left-alone"})
		case i%20 == 0:
			round++
			es = append(es, jobs.Event{Round: fmt.Sprintf("s/t.square/%d", round)})
		default:
			es = append(es, jobs.Event{Read: fmt.Sprintf("s/t.square/%d/n", round), Value: "1"})
		}
	}
	return es
}

func benchPlan(b *testing.B) *fold.Plan {
	j := &jobs.Job{Name: "toy", Allowance: 0.05, Setups: []jobs.Setup{{Name: "s", Kind: "toy", HoldDown: "T"}}}
	p, err := toys().Plan(j, "s", nil)
	if err != nil {
		b.Fatal(err)
	}
	return p
}

func BenchmarkFold10000(b *testing.B) {
	p, es := benchPlan(b), longRecord(10000)
	if st := fold.Fold(p, es); len(st.Troubles) > 0 {
		b.Fatal(st.Troubles[0])
	}
	for b.Loop() {
		fold.Fold(p, es)
	}
}

func BenchmarkStateAfterOneMore(b *testing.B) {
	p, es := benchPlan(b), longRecord(10000)
	l := toys().Log()
	for _, e := range es {
		l.Apply(e)
	}
	l.State(p)
	last := es[len(es)-1]
	for b.Loop() {
		l.Apply(last)
		l.State(p)
	}
}
