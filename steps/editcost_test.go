package steps_test

import (
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// An edit costs the readings that were measured against the old value, and no other. What only judges is judged again:
// where the verdict stands nothing is asked, and putting the value back brings all of it back.
func TestWhatAnEditCostsAfterTheRelease(t *testing.T) {
	for _, c := range []struct {
		name, key, value string
		most             int // readings and answers of the person
	}{
		{"a feature's coordinate", "job.part.features.far corner.0", "95", 0},
		{"a tool's name", "job.tools.3.name", "another name", 0},
		{"a looser allowance", "job.allowance", "0.08", 0},
		{"depth of the planned cut", "job.setups.side2.cut.ap", "0.19", 0},
		{"the tool's stick-out", "job.tools.3.stickout", "31", 40},
	} {
		p := lidPlan(t, nil)
		cards := jobs.Flatten(p.Job)
		if _, ok := cards[c.key]; !ok {
			t.Fatalf("%s: the job has no %s", c.name, c.key)
		}
		k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Effects{}), cards)
		if _, err := k.Until(nil); err != nil || !k.State().Released {
			t.Fatalf("held at %v: %s %v", k.HeldAt, k.Words, err)
		}
		n := len(k.Events)
		if err := k.Add(jobs.Event{Plan: "edited", Cards: map[string]string{c.key: c.value}, Changed: []string{c.key}}); err != nil {
			t.Fatal(err)
		}
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		var given []string
		for _, e := range k.Events[n+1:] {
			if e.Read+e.Answer != "" && e.By != fold.BySelf {
				given = append(given, strings.TrimPrefix(e.Read+e.Answer, "side2/"))
			}
		}
		if len(given) > c.most || !k.State().Released {
			t.Errorf("%s: %d asked again, released %v: %v (held at %v %s)", c.name, len(given), k.State().Released, given, k.HeldAt, k.Words)
		}
		back := append([]jobs.Event{}, k.Events[:n+1]...)
		back = append(back, jobs.Event{Plan: p.Job.Hash, Cards: map[string]string{c.key: cards[c.key]}, Changed: []string{c.key}})
		if st := fold.Fold(p, back); !st.Released {
			t.Errorf("%s put back: at %+v", c.name, st.Cursor)
		}
	}
}
