package bench_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/desk"
	"fliptrue/steps/fixture"
	"fliptrue/steps/fold"
)

// seldomMet are shops, instruments and cards that few have.
func seldomMet(t *testing.T) []walked {
	t.Helper()
	none := func(with string) func(*jobs.Job, *jobs.Setup) {
		return func(j *jobs.Job, u *jobs.Setup) {
			u.Finds, j.Machine.Probe, j.Machine.Finder = with, nil, &jobs.EdgeFinder{Dia: 5, Repeat: 0.003}
		}
	}
	of := func(kind string, edit func(*jobs.Job, *jobs.Setup)) *fold.Plan {
		return shipped(t, kind, func(j *jobs.Job, _ map[string]string) { edit(j, &j.Setups[0]) })
	}
	return []walked{
		{setting{tag: "S no probe irreplaceable"}, lidWith(t, func(j *jobs.Job, u *jobs.Setup) { none("dial")(j, u); u.HoldDown = "S" }).AtLevel(fold.Irreplaceable), clean},
		{setting{tag: "T no probe irreplaceable"}, lidWith(t, none("dial")).AtLevel(fold.Irreplaceable), clean},
		{setting{tag: "T no probe proven"}, lidWith(t, none("edge finder")).AtLevel(fold.Proven), clean},
		{setting{tag: "T edge finder"}, lidWith(t, none("edge finder")), clean | mishappens},
		{setting{tag: "side 1 edge finder"}, sideOne(t, none("edge finder")), clean | mishappens},
		{setting{tag: "reuse by finder"}, of("reuse", none("edge finder")), clean},
		{setting{tag: "reuse pins by finder"}, of("reuse", func(j *jobs.Job, u *jobs.Setup) {
			none("edge finder")(j, u)
			j.Fixture.AsMade.Bore.Kind = "pin"
		}), clean | mistaken},
		{setting{tag: "reuse, damp unknown"}, of("reuse", func(j *jobs.Job, _ *jobs.Setup) { j.Fixture.AsMade.Humidity = 0 }), clean | mistaken},
		{setting{tag: "reuse of steel"}, of("reuse", func(j *jobs.Job, _ *jobs.Setup) { j.Fixture.Material = "steel" }), clean | mistaken},
		{setting{tag: "T floating proven"}, lidWith(t, func(_ *jobs.Job, u *jobs.Setup) { u.Floating, u.Against = true, nil }).AtLevel(fold.Proven), clean},
		{setting{tag: "T damp"}, lidWith(t, func(j *jobs.Job, _ *jobs.Setup) {
			j.Fixture.Material, j.Fixture.AsMade.Humidity, j.Allowance = "acrylic-cast", 0, 0.03
		}), clean},
		{setting{tag: "inspect much off"}, of("inspect", func(j *jobs.Job, _ *jobs.Setup) {
			j.Allowance = 0.015
			for i := range 3 {
				j.Fixture.Found = append(j.Fixture.Found, jobs.Found{Record: fmt.Sprint("lid.", i), At: fmt.Sprint("2026-02-0", i+1), X: 0.012, Y: 0.013, RH: 50})
			}
		}), clean},
		{setting{tag: "T witness cut"}, lidWith(t, func(_ *jobs.Job, u *jobs.Setup) { u.Cut.Witness = 0.3 }).AtLevel(fold.Irreplaceable), clean | wrongly},
		{setting{tag: "T coarse probe"}, lidWith(t, func(j *jobs.Job, _ *jobs.Setup) { j.Machine.Probe.Repeat = 0.02 }), clean},
		{setting{tag: "T coarse finder"}, lidWith(t, func(j *jobs.Job, u *jobs.Setup) { none("edge finder")(j, u); j.Machine.Finder.Repeat = 0.03 }), clean},
	}
}

// seldom notes what few shops, or few days, bring to light: each of these once.
func (s *said) seldom(t *testing.T) {
	t.Helper()
	for _, w := range seldomMet(t) {
		s.desk(w.setting, w.plan)
		s.outlook(w.setting, w.plan.Job, nil)
		k := s.walk(t, w, nil)
		s.earlier(w, k.Events)
		if w.much&wrongly != 0 {
			s.wrong(w, k.Events, func(id fold.StepID, _ int) bool { return id == "witness-cut" || id == "release" })
		}
		if w.much&mishappens != 0 {
			for _, m := range w.plan.Offered() {
				s.mishap(t, w, m, k)
			}
		}
		if w.much&mistaken != 0 {
			for _, m := range bench.MistakesIn(w.plan) {
				k := s.walk(t, w, func(k *bench.Walk) {
					if err := k.World.Make(m.Name, m.Size); err != nil {
						t.Fatal(err)
					}
				})
				s.earlier(w, k.Events)
			}
		}
	}
	for _, w := range programmed(t)[:2] {
		s.earlier(w, s.walk(t, w, nil).Events)
	}
	s.coarseGauge(t)
	s.marked(t)
	s.compared(t)
	s.chosen(t)
}

// compared reaches what the desk says of other ways to hold, of feeds and of the side that goes first.
func (s *said) compared(t *testing.T) {
	t.Helper()
	for _, kind := range []string{"T", "S", "vacuum", "tape", "soft-jaws", "dowel-flip", builtin.Inch} {
		for i, fz := range []float64{0, 0.001, 2} {
			p := shipped(t, kind, func(j *jobs.Job, _ map[string]string) {
				if u := &j.Setups[0]; i > 0 {
					u.Cut.Fz = fz
					u.Cut.Ae /= 5
				}
				if j.Machine.Spindle = [2]float64{}; i == 0 {
					j.Machine.Spindle = [2]float64{3000, 24000}
				}
			})
			made, err := fixture.Advise(p, fixture.Air(p), fixture.Days)
			if err != nil {
				t.Fatal(kind, err)
			}
			for _, l := range slices.Concat(desk.FeedsOf(p).Says(p), desk.WhichFirst(p), made.Lines(p)) {
				s.reach(l)
			}
			ways, err := steps.Ways(p.Job, p.Setup.Name)
			if err != nil {
				t.Fatal(err)
			}
			if i == 0 {
				for _, w := range ways {
					for _, l := range []string{w.What, w.Takes, w.Buy, w.Pulls, w.Why, w.Unheld} {
						s.reach(l)
					}
				}
			}
		}
	}
	if _, err := steps.Ways(readJob(t, lidJob), "none"); err != nil {
		s.reach(err.Error())
	}
}

// chosen are the looks that a person takes by choice, well and badly: the spindle run warm, and burrs and chips counted.
func (s *said) chosen(t *testing.T) {
	t.Helper()
	w := walked{setting{tag: "T"}, shipped(t, "T", nil), clean}
	for _, id := range []fold.StepID{"warm-up", "deburr"} {
		k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
		if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "seat" }); err != nil {
			t.Fatal(err)
		}
		l := steps.NewLog()
		at := w.plan.Setup.Name + "/" + string(id) + "/1"
		for _, e := range append(slices.Clone(k.Events), jobs.Event{Round: at}) {
			l.Apply(e)
		}
		for _, v := range []string{"2", "40", "0"} {
			st := l.State(w.plan)
			s.state(w.setting, &st, id)
			ss, _ := st.Step(id)
			for _, a := range ss.Asks {
				l.Apply(jobs.Event{Read: at + "/" + a.Field, Value: v, By: "bench"})
			}
			st = l.State(w.plan)
			s.state(w.setting, &st, id)
		}
	}
}

// marked lets a part go with a mark that is deeper than what still comes off there.
func (s *said) marked(t *testing.T) {
	t.Helper()
	k := s.letGo(t, walked{setting{tag: "rescue T"}, shipped(t, "T", nil).AtLevel(fold.Irreplaceable), clean}, "")
	l := steps.NewLog()
	for _, e := range k.Events {
		if strings.HasSuffix(e.Read, "/look/1/mark") {
			e.Value = "3"
		}
		l.Apply(e)
		if at, marked := strings.CutSuffix(e.Read, "mark"); marked && e.Value == "3" {
			l.Apply(jobs.Event{Read: at + "stock", Value: "1", By: "bench"})
		}
		if !strings.HasSuffix(e.Answer, "/look/1/faces") {
			continue
		}
		st := l.State(k.Plan())
		ss, _ := st.Step("look")
		for _, c := range ss.Outcome.Checks {
			l.Apply(jobs.Event{Waive: strings.TrimSuffix(e.Answer, "faces") + c.Limit.ID, Value: c.Shown(), Reason: "seen and accepted", By: "bench"})
		}
	}
	st := l.State(k.Plan())
	s.done(setting{tag: "rescue T"}, &st)
}

// coarseGauge walks without a probe until a gauge leaves the first cut open and the dial decides.
func (s *said) coarseGauge(t *testing.T) {
	t.Helper()
	p := shipped(t, builtin.Inch, nil).AtLevel(fold.FirstUse)
	for seed := range uint64(12) {
		asked := false
		k := bench.NewWalk(p, bench.NewWorld(p, seed, bench.Wide(p)), nil)
		see := s.watch(setting{"T no probe first use", true})
		if _, err := k.Until(func(st *fold.State) bool { see(st); asked = asked || st.Cursor.Field == "dialrim"; return false }); err != nil {
			t.Fatal(err)
		}
		if asked {
			return
		}
	}
	t.Error("no gauge left it open")
}

// earlier reaches what a record of the second and of the third walk says of the same readings: it keeps its words.
func (s *said) earlier(w walked, es []jobs.Event) {
	for _, walk := range []string{"2", "3"} {
		old := slices.Clone(es)
		for i, e := range old {
			if e.Begin != "" {
				old[i].Cards = maps.Clone(e.Cards)
				if old[i].Cards == nil {
					old[i].Cards = map[string]string{}
				}
				old[i].Cards["walk"] = walk
			}
		}
		then := newSaid()
		l := steps.NewLog()
		for _, e := range old {
			if l.Apply(e); e.Round != "" {
				st := l.State(w.plan)
				then.state(w.setting, &st)
			}
		}
		st := l.State(w.plan)
		then.done(w.setting, &st)
		then.wrong(w, old, func(id fold.StepID, _ int) bool { return id == "floor" })
		if ss, ok := st.Step("square"); ok {
			for _, a := range ss.Asks {
				then.misread(w.setting, &st, a)
			}
		}
		maps.Copy(s.texts, then.texts)
	}
}
