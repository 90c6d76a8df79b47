package bench_test

import (
	"fmt"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// records notes what is said of records and cards that are not as they should be.
func (s *said) records(t *testing.T, all []walked, short bool) {
	t.Helper()
	for _, w := range all {
		if w.much&inSlice == 0 {
			continue
		}
		s.troubles(w)
		k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
		s.refusals(w.setting, k.State())
		asked := func(st *fold.State) bool {
			if ss, ok := st.Step(st.Cursor.Step); ok && !st.Cursor.Idle {
				for _, a := range ss.Asks {
					s.misread(w.setting, st, a)
				}
			}
			return false
		}
		if _, err := k.Until(asked); err != nil {
			t.Fatal(err)
		}
		s.refusals(w.setting, k.State())
		s.changed(w, k.Events)
		s.reported(k.State())
		if short {
			continue
		}
		s.unpassed(w, k.Events)
		if cards, err := k.State().Taken(); err == nil {
			next := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 8, bench.Usual(w.plan)), cards)
			s.on(t, w.setting, next)
			s.wrong(w, next.Events, func(fold.StepID, int) bool { return true })
			cards["taken.bore"], cards["taken.luck"] = "{", "{}"
			st := fold.Fold(w.plan, []jobs.Event{{Begin: w.plan.Setup.Name, Cards: cards}})
			s.state(w.setting, &st)
			for _, bad := range badTaken {
				cards["taken.bore"] = bad
				st := fold.Fold(w.plan, []jobs.Event{{Begin: w.plan.Setup.Name, Cards: cards}})
				s.state(w.setting, &st)
			}
		}
	}
	if short {
		return
	}
	s.kept(t)
	s.loosened(t)
	s.waived(t)
	s.sheets(t)
	later := fold.Begin(lidWith(t, nil).Setup.Name, nil, "")
	later.Cards["walk"] = "99"
	newer := fold.Fold(lidWith(t, nil), []jobs.Event{later})
	s.say(setting{tag: "T"}, "any", "record", "earlier", newer.Earlier())
	flat := jobs.Flatten(readJob(t, lidJob))
	flat["job.allowance"] = "wide"
	p := lidWith(t, nil)
	st := fold.Fold(p, []jobs.Event{{Begin: p.Setup.Name, Cards: flat}})
	s.state(setting{tag: "T"}, &st)
	for _, setup := range []string{"nope", "side2"} {
		j := readJob(t, lidJob)
		j.Setups[0].Kind = "nothing"
		if _, err := steps.NewPlan(j, setup, nil); err != nil {
			s.say(setting{tag: "any"}, "any", "plan", "refusal", err.Error())
		}
	}
}

// badTaken are cards of a bore that no version wrote, one for each reason to refuse it.
var badTaken = []string{
	"x", `{"fact":{"x":1},"value":[1]}`, `{"fact":{"x":1}}`, `{"fact":{"x":1,"y":2,"zz":3}}`, `{"value":[1,2,3]} x`, `{"value":[1,2,3]}`, `{"value":[1]}`, `{"value":[1e9,2,3]}`,
	`{"value":[1,2,3],"dof":-1}`, `{"value":[1,2,3],"cov":[]}`, `{"value":[1,2,3],"cov":[[1]]}`, `{"value":[1,2,3],"cov":[[1,0],[0]]}`, `{"value":[1,2,3],"cov":[[-1,0],[0,1]]}`,
	`{"value":[1,2,3],"cov":[[1,2],[2,1]]}`, `{"value":[1,2,3],"cov":{"x x":1}}`, `{"value":[1,2,3],"cov":{"x x":1,"y y":1,"z z":1}}`,
	`{"value":[1,2,3,0,0],"cov":[[1,-0.9,-0.9,0],[-0.9,1,-0.9,0],[-0.9,-0.9,1,0],[0,0,0,1]]}`,
}

// loosened notes what is said of limits that a job sets looser than they may be, and of one that holds.
func (s *said) loosened(t *testing.T) {
	t.Helper()
	for _, c := range []struct {
		id, why string
		mm      unit.Length
	}{{"seat.rock", "", 0.03}, {"seat.rock", "why", 40}, {"tip.gap", "why", 30}, {"floor.tilt", "why", 0.03}} {
		p := lidWith(t, func(j *jobs.Job, _ *jobs.Setup) {
			j.Limits, j.Reasons = map[string]unit.Length{c.id: c.mm}, map[string]string{}
			if c.why != "" {
				j.Reasons[c.id] = c.why
			}
		})
		k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Usual(p)), nil)
		s.on(t, setting{tag: "T"}, k)
		s.reported(k.State())
		for _, w := range k.State().Waivers {
			s.say(setting{tag: "T"}, "any", "waiver", "reason", w.Reason)
		}
	}
}

// waived notes what is said of an allowance that nothing can prove, each limit before it passed over.
func (s *said) waived(t *testing.T) {
	t.Helper()
	p := shipped(t, "S", func(j *jobs.Job, _ map[string]string) { j.Allowance = 0.008 }).AtLevel(fold.FirstUse)
	k := bench.NewWalk(p, bench.NewWorld(p, 1, bench.Usual(p)), nil)
	see := s.watch(setting{tag: "S first use"})
	for range 12 {
		if _, err := k.Until(func(st *fold.State) bool { see(st); return st.Cursor.Decide }); err != nil {
			t.Fatal(err)
		}
		st := k.State()
		ss, _ := st.Step(st.Cursor.Step)
		for _, c := range ss.Outcome.Checks {
			if c.Verdict.OK() {
				continue
			}
			es, err := st.Waive(c.Limit.ID, c.Shown(), "seen and accepted")
			if err != nil {
				return // one that none may pass over
			}
			if err := k.Add(es...); err != nil {
				t.Fatal(err)
			}
			st = k.State()
		}
		k.HeldAt = nil
	}
}

// troubles notes what is said of events that can't be.
func (s *said) troubles(w walked) {
	n := w.plan.Setup.Name
	first := string(w.plan.Line[0].ID)
	begin := jobs.Event{Begin: n}
	at := fmt.Sprintf("%s/%s/1", n, first)
	for _, es := range [][]jobs.Event{
		{begin, {Read: at + "/n", Value: "1"}}, {{Read: at + "/n", Value: "1"}}, {begin, {Round: n + "/" + first + "/2"}}, {begin, {Round: n + "/nope/1"}},
		{begin, {Mishap: n + "/nope"}}, {begin, {Mishap: n + "/straps-off"}}, {begin, begin}, {{}}, {begin, {Round: at}, {Read: n + "/" + first, Value: "1"}},
		{begin, {Round: at}, {Read: at + "/nope", Value: "1"}}, {begin, {Round: at}, {Waive: at + "/nope", Value: "1", Reason: "why"}},
		{begin, {Round: at}, {Round: n + "/" + first + "/2"}, {Read: at + "/n", Value: "1"}}, {begin, {Release: "nope"}}, {begin, {Release: n}},
	} {
		st := fold.Fold(w.plan, es)
		s.state(w.setting, &st)
		for i := range st.Steps {
			s.step(w.setting, w.plan.Setup.Kind, &st.Steps[i])
		}
		for _, x := range st.Troubles {
			s.say(w.setting, "any", "record", "refusal", x.Error())
		}
	}
	for _, sp := range w.plan.Line { // each step before its time, and a value that is none
		at := fmt.Sprintf("%s/%s/1", n, sp.ID)
		st := fold.Fold(w.plan, []jobs.Event{begin, {Round: at}, {Read: at + "/nope", Value: "1"}, {Waive: at + "/nope", Value: "1", Reason: "why"}})
		s.state(w.setting, &st, sp.ID)
		if ss, ok := st.Step(sp.ID); ok && len(ss.Asks) > 0 {
			bad := fold.Fold(w.plan, []jobs.Event{begin, {Round: at}, {Read: at + "/" + ss.Asks[0].Field, Value: "one"}})
			s.state(w.setting, &bad, sp.ID)
		}
	}
}

// refusals notes what is said of what can't be done now.
func (s *said) refusals(in setting, st *fold.State) {
	no := func(_ any, err error) {
		if err != nil {
			s.say(in, "any", "person", "refusal", err.Error())
		}
	}
	no(st.Again())
	no(st.Reopen("nope"))
	no(st.Declare("nope", ""))
	no(st.Release())
	no(st.Taken())
	no(st.Take("keyed", [2]string{"nope", "1"}))
	no(st.Understand("nope", "1"))
	no(st.Waive("nope", "1", "why"))
	ss, ok := st.Step(st.Cursor.Step)
	if !ok || !st.Cursor.Decide {
		return
	}
	for _, c := range ss.Outcome.Checks {
		no(st.Waive(c.Limit.ID, "", ""))
		no(st.Waive(c.Limit.ID, "x", "why"))
	}
}

// misread notes what is said of values that are not of the kind that is asked, or look wrong.
func (s *said) misread(in setting, st *fold.State, a fold.Ask) {
	kind := st.Plan().Setup.Kind
	bad := []string{"", "one", "-1", "9999", "99999", "..12", ".."}
	if a.Window != nil {
		for _, f := range []float64{0, -1, 10, 0.1, 25.4, 1 / 25.4} {
			bad = append(bad, fmt.Sprintf("%.4f", f*a.Window.Want))
		}
	}
	for _, v := range bad {
		e, err := st.Understand(a.Field, v)
		if err != nil {
			step := "any"
			if a.Kind == fold.Choice {
				step = string(st.Cursor.Step)
			}
			s.say(in, kind, step, "refusal", err.Error())
		}
		for _, x := range e.Slips {
			s.say(in, kind, "any", "slip", x.Words)
		}
	}
}

// changed notes what is said after each thing of the job that a step was measured against was edited.
func (s *said) changed(w walked, es []jobs.Event) {
	keys := []string{"machine.probe.radius", "machine.probe.void", "machine.dial.graduation", "part.features", "part.size", "part.skin", "allowance", "posted", "tools"}
	for _, k := range []string{"hits", "finds", "zero", "z0", "vise", "cut", "flip", "against", "offset", "programs", "screws", "clamps", "fixture"} {
		keys = append(keys, "setups."+w.plan.Setup.Name+"."+k)
	}
	for _, key := range keys {
		st := fold.Fold(w.plan, append(es[:len(es):len(es)], jobs.Event{Plan: "edited", Changed: []string{key}, At: es[len(es)-1].At}))
		s.state(w.setting, &st)
		for i := range st.Steps {
			s.step(w.setting, w.plan.Setup.Kind, &st.Steps[i])
		}
	}
}

// unpassed notes what is refused, waived and reported where steps do not pass.
func (s *said) unpassed(w walked, es []jobs.Event) {
	for n := 1; n < len(es); n++ {
		e := es[n]
		if e.Read == "" && e.Answer == "" || n+1 < len(es) && es[n+1].Round == "" {
			continue
		}
		round, _ := parted(e.Read + e.Answer)
		e.Value = "9"
		bad := append(es[:n:n], e)
		st := fold.Fold(w.plan, bad)
		if !st.Cursor.Decide {
			continue
		}
		s.refusals(w.setting, &st)
		ss, _ := st.Step(st.Cursor.Step)
		for _, c := range ss.Outcome.Checks {
			if c.Verdict.OK() {
				continue
			}
			bad = append(bad, jobs.Event{Waive: round + "/" + c.Limit.ID, Value: c.Shown(), Reason: "seen", At: e.At})
		}
		st = fold.Fold(w.plan, bad)
		s.state(w.setting, &st, ss.ID)
		s.reported(&st)
	}
}

// kept notes what is said of records of earlier walks, and of several setups in one.
func (s *said) kept(t *testing.T) {
	t.Helper()
	for _, c := range []struct{ job, record string }{
		{"../../testdata/lid/lid.job.yaml", "../../testdata/lid/lid.1.record.yaml"}, {"../../testdata/lid/lid.job.yaml", "../../testdata/lid/lid.2.record.yaml"},
		{trayJob, "../../testdata/tray/tray.1.record.yaml"}, {trayJob, "../../testdata/tray/tray.2.record.yaml"},
	} {
		j := readJob(t, c.job)
		es, _, fs := jobs.ReadRecord(jobs.OS(), c.record)
		if len(fs) > 0 {
			t.Fatal(fs)
		}
		p := planOf(t, j, "side2", nil)
		in := setting{"T", false}
		if c.job == trayJob {
			in = setting{"T inch", true}
		}
		l := steps.NewLog()
		watch := s.watch(in)
		for i, e := range es {
			l.Apply(e)
			if i%4 == 0 || i == len(es)-1 {
				s.wrong(walked{setting: in, plan: p}, es, func(id fold.StepID, _ int) bool { return id == "skim" || id == "seat" }) // of an earlier walk
				st := l.State(p)
				watch(&st)
			}
		}
		st := l.State(p)
		for i := range st.Steps {
			s.step(in, p.Setup.Kind, &st.Steps[i])
		}
		s.reported(&st)
		s.outlook(in, j, l)
	}
	s.both(t)
}

// both walks the tram, the ball and side 1 into one record before side 2, then mishaps of side 1 count for both.
func (s *said) both(t *testing.T) {
	t.Helper()
	j := sidesJob(t, nil)
	j.Setups = append([]jobs.Setup{{Name: "head", Kind: "tram"}, {Name: "ring", Kind: "ball", Finds: "probe"}}, j.Setups...)
	var es []jobs.Event
	for _, name := range []string{"head", "ring", "side1", "side2"} {
		p := planOf(t, j, name, nil)
		k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Usual(p)), nil)
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		es = append(es, k.Events...)
		for _, m := range facts.Offered() {
			l := steps.NewLog()
			for _, e := range append(es[:len(es):len(es)], jobs.Event{Mishap: name + "/" + string(m.ID), At: es[len(es)-1].At}) {
				l.Apply(e)
			}
			s.outlook(setting{tag: "both sides"}, j, l)
			for _, of := range []string{"side1", "side2"} {
				st := l.State(planOf(t, j, of, nil))
				s.state(setting{tag: "both sides"}, &st)
			}
		}
	}
	for _, of := range []string{"side1", "side2"} {
		l := steps.NewLog()
		for _, e := range es {
			l.Apply(e)
		}
		st := l.State(planOf(t, j, of, nil))
		for i := range st.Steps {
			s.step(setting{tag: "both sides"}, st.Plan().Setup.Kind, &st.Steps[i])
		}
		s.reported(&st)
	}
}
