package bench_test

import (
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
