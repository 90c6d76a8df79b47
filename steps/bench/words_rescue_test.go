package bench_test

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// rescues has parts let go: held in each way, with each mistake, answered wrongly, and once more.
func (s *said) rescues(t *testing.T) {
	t.Helper()
	worth := func(j *jobs.Job, _ map[string]string) { j.Worth = 20 }
	for _, w := range []walked{
		{setting{tag: "rescue T"}, shipped(t, "T", nil).AtLevel(fold.Irreplaceable), clean | wrongly | mistaken},
		{setting{tag: "rescue T full"}, shipped(t, "T", worth), clean | wrongly},
		{setting{tag: "rescue S"}, shipped(t, "S", nil), clean | wrongly | mistaken},
		{setting{tag: "rescue vacuum"}, shipped(t, "vacuum", nil), clean},
		{setting{tag: "rescue turned"}, shipped(t, "T", func(j *jobs.Job, _ map[string]string) { j.Machine.Rotation = "G68" }), clean},
		{setting{tag: "rescue two programs"}, shipped(t, "T", func(j *jobs.Job, _ map[string]string) {
			j.Setups[0].Programs = append(j.Setups[0].Programs, jobs.Program{Role: "rim", File: "rim.nc"})
		}), clean},
		{setting{tag: "rescue proven"}, shipped(t, "T", nil).AtLevel(fold.Proven), clean},
		{setting{tag: "rescue loose"}, shipped(t, "T", func(j *jobs.Job, _ map[string]string) {
			j.Setups[0].Floating, j.Setups[0].Against = true, nil
		}).AtLevel(fold.Proven), clean | wrongly},
		{setting{"rescue inch", true}, shipped(t, "inch", nil), clean | wrongly},
	} {
		k := s.letGo(t, w, "")
		if w.much&wrongly != 0 {
			s.wrong(walked{w.setting, k.Plan(), w.much}, k.Events, func(fold.StepID, int) bool { return true })
			s.otherways(w, k.Plan(), k.Events)
		}
		if w.much&mistaken != 0 {
			for _, m := range bench.MistakesIn(k.Plan()) {
				s.letGo(t, w, m.Name)
			}
		}
		if w.much&mistaken != 0 {
			s.heldBy(t, w)
			s.earlyLoss(w)
			s.stoodElsewhere(t, w)
			s.begunBefore(k.Plan(), slices.DeleteFunc(slices.Clone(k.Events), func(e jobs.Event) bool { return strings.HasSuffix(e.Read, "/stood") }))
		}
		if err := k.LetGo(); err != nil { // once more
			t.Fatal(err)
		}
		s.on(t, w.setting, k)
	}
}

// letGo is a walk whose part lets go, with a mistake after that.
func (s *said) letGo(t *testing.T, w walked, mistake string) *bench.Walk {
	t.Helper()
	k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	if err := k.LetGo(); err != nil {
		t.Fatal(err)
	}
	if mistake != "" {
		if err := k.World.Make(mistake, 0); err != nil {
			t.Fatal(err)
		}
	}
	s.on(t, w.setting, k)
	return k
}

// heldBy holds a part that let go by straps, and by a film with and without its test.
func (s *said) heldBy(t *testing.T, w walked) {
	t.Helper()
	k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	if err := k.LetGo(); err != nil {
		t.Fatal(err)
	}
	at := func(st *fold.State) bool { return st.Cursor.Step == "hold" && st.Cursor.Field == "way" }
	if there, err := k.Until(at); !there || err != nil {
		t.Fatal(there, err)
	}
	const film = "tape or glue at the skirts"
	for _, given := range [][][2]string{
		{{"way", "straps on finished faces"}, {"strap-torque", "1Nm"}},
		{{"way", film}, {"test-load", "60N"}},
		{{"way", film}, {"test-load", "60N"}, {"test-x", "25mm"}, {"test-y", "25mm"}, {"test-minutes", "10"}, {"test-at", "30C"},
			{"film-x", "84mm"}, {"film-y", "52mm"}, {"film-hot", "28C"}},
	} {
		s.answered(t, w, k, given)
	}
}

// stoodElsewhere are tools that were lifted, sunk or pushed aside before their place was read, lines that are read otherwise after that,
// and a cutter that was pulled: each by as much as the field is changed.
func (s *said) stoodElsewhere(t *testing.T, w walked) {
	t.Helper()
	for _, by := range []map[string]float64{{"mz": 3, "wz": 3}, {"mz": 0.5, "wz": 0.5}, {"my": 300, "wy": 300}, {"line": 900}, {"line": -13}, nil} {
		k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		if err := k.LetGo(); err != nil {
			t.Fatal(err)
		}
		if there, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "decide" }); !there || err != nil {
			t.Fatal(there, err)
		}
		step := k.State().Setup + "/wrote/1/"
		var es []jobs.Event
		for _, e := range k.Events {
			if d, is := by[strings.TrimPrefix(e.Read, step)]; is {
				v, err := strconv.ParseFloat(e.Value, 64)
				if err != nil {
					t.Fatal(err)
				}
				es = append(es, jobs.Event{Read: e.Read, Value: fmt.Sprintf("%.3f", v+d), By: "bench"})
			}
		}
		if by == nil {
			es = append(es, jobs.Event{Answer: k.State().Setup + "/look/1/tool", Value: "pulled from its collet", By: "bench"})
		}
		if err := k.Add(es...); err != nil {
			t.Fatal(err)
		}
		s.on(t, w.setting, k)
	}
}

// answered gives the step in hand these answers first, then what the bench offers.
func (s *said) answered(t *testing.T, w walked, k *bench.Walk, given [][2]string) {
	t.Helper()
	p, l := k.Plan(), steps.NewLog()
	for _, e := range k.Events {
		l.Apply(e)
	}
	take := func(st *fold.State, field, value string) {
		es, err := st.Take("bench", [2]string{field, value})
		if err != nil {
			t.Fatalf("%s: %s %s: %v", w.tag, field, value, err)
		}
		for _, e := range es {
			l.Apply(e)
		}
	}
	for _, x := range given {
		st := l.State(p)
		if _, asked := st.Ask(x[0]); asked {
			take(&st, x[0], x[1])
		}
	}
	st := l.State(p)
	for here := st.Cursor.Step; st.Cursor.Step == here && !st.Cursor.Decide && !st.Cursor.Idle; st = l.State(p) {
		a, ok := st.Ask(st.Cursor.Field)
		if !ok {
			break
		}
		v, err := k.Offer(&st, a)
		if err != nil {
			t.Fatal(err)
		}
		take(&st, a.Field, v)
	}
	s.state(w.setting, &st, "hold")
}

// earlyLoss is a part that lets go before its work offset is known.
func (s *said) earlyLoss(w walked) {
	k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
	if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "floor" }); err != nil || k.LetGo() != nil {
		return
	}
	s.asFarAs(w.setting, k)
}

// begunBefore reaches what a record of the third walk was not asked.
func (s *said) begunBefore(p *fold.Plan, es []jobs.Event) {
	old := slices.Clone(es)
	for i, e := range old {
		if e.Begin != "" {
			old[i].Cards = maps.Clone(e.Cards)
			old[i].Cards["walk"] = "3"
		}
	}
	st := fold.Fold(p, old)
	s.reach(st.Earlier())
}

// otherways answers each question of a rescue by each of its options, up to there and one state on.
func (s *said) otherways(w walked, p *fold.Plan, es []jobs.Event) {
	l := steps.NewLog()
	for _, e := range es {
		if _, field := parted(e.Answer); e.Answer != "" && field != "" {
			st := l.State(p)
			if a, ok := st.Ask(field); ok && a.Kind == fold.Choice {
				for _, o := range a.Options {
					other := e
					other.Value = o
					l.Apply(other)
					now := l.State(p)
					s.state(w.setting, &now, "")
				}
			}
		}
		l.Apply(e)
	}
}
