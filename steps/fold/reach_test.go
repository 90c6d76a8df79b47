package fold_test

import (
	"fmt"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// twoToys is a record of two setups of toys, begun by a walk, of which the first is done up to its screws.
func twoToys(t *testing.T, walk string) *toy {
	j := &jobs.Job{Name: "toys", Allowance: 0.05, Setups: []jobs.Setup{{Name: "s", Kind: "toy", HoldDown: "T"}, {Name: "other", Kind: "giver"}},
		Machine: jobs.Machine{Probe: &jobs.Probe{Radius: 1, Repeat: 0.001, Dof: 30}}}
	p, err := toys().Plan(j, "s", nil)
	if err != nil {
		t.Fatal(err)
	}
	y := &toy{t: t, p: p, l: toys().Log()}
	for _, s := range []string{"other", "s"} {
		e := fold.Begin(s, nil, "")
		e.Cards["walk"] = walk
		y.put(e)
	}
	y.until("t.screws")
	return y
}

// TestMishapReachesOtherSetups: the power fails for every begun setup of the record, a fixture that is
// tapped elsewhere is another fixture; a record of an earlier walk keeps what it has and says so.
func TestMishapReachesOtherSetups(t *testing.T) {
	for _, c := range []struct {
		mishap, walk string
		bore, spared bool // the bore falls; it would by today's table
	}{{"power-lost", "3", true, false}, {"rehomed", "3", true, false}, {"part-bumped", "3", false, false}, {"fixture-tapped", "3", false, false}, {"power-lost", "2", false, true}} {
		y := twoToys(t, c.walk)
		y.put(jobs.Event{Mishap: "other/" + c.mishap})
		st := y.l.State(y.p)
		if _, stands := st.Fact("bore"); stands == c.bore {
			t.Errorf("%s under another setup, walk %s: the bore stands: %t", c.mishap, c.walk, stands)
		}
		if (len(st.Spared) > 0) != c.spared || c.spared && !strings.Contains(st.Earlier(), "power lost at the machine, told under other") {
			t.Errorf("%s, walk %s: spared %v, %q", c.mishap, c.walk, st.Spared, st.Earlier())
		}
		if c.bore && len(st.Way) == 0 {
			t.Errorf("%s: nothing leads back", c.mishap)
		}
	}
}

// A setup that ended before is not reached: what was done there is done.
func TestEndedSetupIsNotReached(t *testing.T) {
	y := twoToys(t, "3")
	j := *y.p.Job
	p, err := toys().Plan(&j, "other", nil)
	if err != nil {
		t.Fatal(err)
	}
	y.put(jobs.Event{Round: "other/t.give/1"}, jobs.Event{Answer: "other/t.give/1/n", Value: "1"}, jobs.Event{Release: "other"})
	y.put(jobs.Event{Mishap: "s/spindle-crash"})
	if st := y.l.State(p); !st.Released || len(st.Mishaps) != 0 {
		t.Errorf("released %t, mishaps %+v", st.Released, st.Mishaps)
	}
}

// TestHalfReadSetIsTorn: what tears the mounting between the first and the last reading of a set makes it nothing.
func TestHalfReadSetIsTorn(t *testing.T) {
	set := &fold.Kind{Name: "set", Goal: "set", Line: []fold.Place{{ID: "t.set", Build: func(*fold.Plan) *fold.Spec {
		return &fold.Spec{Needs: fold.AsRead(facts.AMounting), Makes: []fold.FactID{"set"},
			Asks: func(fold.View) []fold.Ask {
				return []fold.Ask{{Field: "a", Kind: fold.Count}, {Field: "b", Kind: fold.Count}}
			}}
	}}}}
	h := *toys()
	h.Kinds = []*fold.Kind{set}
	p, err := h.Plan(&jobs.Job{Name: "set", Setups: []jobs.Setup{{Name: "s", Kind: "set"}}}, "s", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		mishap, walk string
		at           int // before, between, after the readings
		stands       bool
	}{{"probe-refitted", "3", 1, false}, {"rehomed", "3", 1, false}, {"power-lost", "3", 1, false}, {"offset-edited", "3", 1, true},
		{"rehomed", "3", 0, true}, {"rehomed", "3", 2, true}, {"rehomed", "2", 1, true}} {
		es := []jobs.Event{{Begin: "s", Cards: map[string]string{"walk": c.walk}}, {Round: "s/t.set/1"}}
		for i := range 3 {
			if i == c.at {
				es = append(es, jobs.Event{Mishap: "s/" + c.mishap})
			}
			if i < 2 {
				es = append(es, jobs.Event{Answer: fmt.Sprintf("s/t.set/1/%c", 'a'+i), Value: "1"})
			}
		}
		st := fold.Fold(p, es)
		if _, ok := st.Fact("set"); ok != c.stands {
			t.Errorf("%s at %d, walk %s: the set stands: %t", c.mishap, c.at, c.walk, ok)
		}
		if !c.stands && (st.Cursor.Step != "t.set" || st.Cursor.Round != 2 || len(st.Strays) != 1 || !strings.Contains(st.Strays[0].What, "was split by event 4")) {
			t.Errorf("%s: goes on at %+v, strays %v", c.mishap, st.Cursor, st.Strays)
		}
	}
}
