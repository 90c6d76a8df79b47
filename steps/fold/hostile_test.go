package fold_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Hostile walks over two setups of one record, held against an oracle that shares nothing with the
// resolver: it reads the list of events and the printed table, and knows only this much. A fact that
// was first read at a place cannot stand when a mishap that voids it stands after that place, told
// here or told elsewhere and reaching here; nor when one that puts it in doubt does and no recheck
// that lifts it was read since.
func TestHostileWalksOverTwoSetups(t *testing.T) {
	seeds := 150
	if testing.Short() {
		seeds = 40
	}
	stood, fell := 0, 0
	for seed := range seeds {
		r := rand.New(rand.NewPCG(uint64(seed), 7))
		j := &jobs.Job{Name: "toys", Allowance: 0.05, Setups: []jobs.Setup{{Name: "s", Kind: "toy", HoldDown: "T"}, {Name: "u", Kind: "toy", HoldDown: "T"}},
			Machine: jobs.Machine{Probe: &jobs.Probe{Radius: 1, Repeat: 0.001, Dof: 30}}}
		plans := map[string]*fold.Plan{}
		l := toys().Log()
		var es []jobs.Event
		put := func(more ...jobs.Event) {
			for _, e := range more {
				e.At = time.Date(2026, 3, 1, 10, 0, len(es), 0, time.UTC)
				l.Apply(e)
				es = append(es, e)
			}
		}
		for _, s := range []string{"s", "u"} {
			plans[s], _ = toys().Plan(j, s, nil)
			put(fold.Begin(s, nil, ""))
		}
		for range 60 {
			name := []string{"s", "u"}[r.IntN(2)]
			st := l.State(plans[name])
			switch {
			case r.IntN(9) == 0:
				m := facts.Offered()[r.IntN(len(facts.Offered()))]
				put(jobs.Event{Mishap: name + "/" + string(m.ID)})
			case st.Ready:
				more, _ := st.Release()
				put(more...)
			case !st.Cursor.Idle && !st.Cursor.Decide:
				more, err := st.Take("keyed", [2]string{st.Cursor.Field, "1"})
				if err != nil {
					t.Fatal(err)
				}
				put(more...)
			}
			for s, p := range plans {
				st := l.State(p)
				for _, f := range st.Facts {
					if f.By == "" || f.First == 0 {
						continue
					}
					if why := down(es, s, f, p); why != "" && f.Void == nil {
						t.Fatalf("seed %d, after event %d: %s of %s, read at %d, stands although %s", seed, len(es), f.ID, s, f.First, why)
					}
					if f.Void == nil {
						stood++
					} else {
						fell++
					}
				}
			}
		}
	}
	if stood < 1000 || fell < 1000 {
		t.Fatalf("%d facts stood and %d were void: nothing was tried", stood, fell)
	}
}

// down is the oracle: why the fact can't stand, "" when nothing speaks against it.
func down(es []jobs.Event, setup string, f fold.Known, p *fold.Plan) string {
	elsewhere := map[string]bool{"probe-refitted": true, "probe-changed": true, "spindle-crash": true, "head-moved": true, "rehomed": true,
		"power-lost": true, "offset-edited": true, "temperature-moved": true, "left-alone": true}
	for i := int(f.First); i < len(es); i++ {
		in, id, ok := strings.Cut(es[i].Mishap, "/")
		if !ok || in != setup && !elsewhere[id] {
			continue
		}
		cell := byte('.')
		for _, row := range facts.Mishaps.Rows {
			for c, col := range facts.Mishaps.Columns {
				if string(row.ID) == id && col == f.ID {
					cell = row.Cells[2*c]
				}
			}
		}
		switch cell {
		case 'V':
			return fmt.Sprintf("event %d, %s under %s, voids it", i+1, id, in)
		case 'R':
			if !readSince(es[i+1:], setup, f.ID, p) {
				return fmt.Sprintf("event %d, %s under %s, put it in doubt and no recheck was read since", i+1, id, in)
			}
		}
	}
	return ""
}

// readSince says that a step which lifts the fact has a reading among the events.
func readSince(es []jobs.Event, setup string, f fold.FactID, p *fold.Plan) bool {
	for _, e := range es {
		a := strings.Split(e.Read+e.Answer, "/")
		if len(a) < 4 || a[0] != setup {
			continue
		}
		sp, ok := p.Spec(fold.StepID(a[1]))
		if !ok {
			continue
		}
		for _, g := range sp.Lifts() {
			if g == f {
				return true
			}
		}
	}
	return false
}
