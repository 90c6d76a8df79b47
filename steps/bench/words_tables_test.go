package bench_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/report"
)

// tables notes the tables, the titles, and what is known of each plan before anything is read.
func (s *said) tables(t *testing.T, all []walked) {
	t.Helper()
	none := setting{tag: "table"}
	for _, m := range steps.Mishaps.Rows {
		s.say(none, "mishaps", string(m.ID), "words", m.Words)
		s.say(none, "mishaps", string(m.ID), "question", m.Question)
		s.say(none, "mishaps", string(m.ID), "caution", m.Caution)
	}
	for _, w := range all {
		kind := w.plan.Setup.Kind
		for _, sp := range append(append([]*steps.Spec{}, w.plan.Line...), w.plan.Off...) {
			s.say(w.setting, kind, string(sp.ID), "title", sp.Title)
			s.pause(w.setting, kind, string(sp.ID), sp.Pause)
		}
		for _, p := range w.plan.OnPaper() {
			s.asks(w.setting, kind, string(p.ID), p.Asks)
			s.page(w.setting, kind, string(p.ID), p.Page)
			s.pause(w.setting, kind, string(p.ID), p.Pause)
		}
		for _, r := range w.plan.LimitTable() {
			l := w.plan.Limit(r.Label)
			s.say(w.setting, "limits", r.Label, "rule", r.Text)
			s.say(w.setting, "limits", r.Label, "why", l.Why)
		}
		s.desk(w.setting, w.plan)
		if kind == "second-side" { // the others stand something in for the job
			s.outlook(w.setting, w.plan.Job, nil)
		}
		s.reach(report.MakeSheet(w.plan).Text())
	}
	for name, edit := range crowded {
		p := shipped(t, "T", func(j *jobs.Job, _ map[string]string) { edit(j, &j.Setups[0]) })
		s.desk(setting{tag: name}, p)
		s.outlook(setting{tag: name}, p.Job, nil)
	}
	for _, w := range programmed(t) {
		for _, g := range w.plan.Setup.Programs {
			if f, ok := w.plan.Program(g.Role); ok {
				for _, role := range []string{g.Role, ""} {
					s.program(t, w, g.File, role, string(f.Data), nil)
				}
			}
		}
	}
}

// crowded are second sides that can't be as planned, each in its way.
var crowded = map[string]func(j *jobs.Job, s *jobs.Setup){
	"desk: narrow":    func(j *jobs.Job, s *jobs.Setup) { j.Allowance = 0.005 },
	"desk: floating":  func(j *jobs.Job, s *jobs.Setup) { s.Floating, s.Against, j.Allowance = true, nil, 0.03 },
	"desk: heavy cut": func(j *jobs.Job, s *jobs.Setup) { s.Cut.Ap, s.Cut.Ae, s.Cut.Fz = 6, 3, 0.1 },
	"desk: deep":      func(j *jobs.Job, s *jobs.Setup) { s.Cut.Lowest = -20 },
	"desk: no threads": func(j *jobs.Job, s *jobs.Setup) {
		j.Fixture.Threads.Kind = "none"
	},
	"desk: short screws": func(j *jobs.Job, s *jobs.Setup) { s.Screws.Length = 3 },
	"desk: long screws":  func(j *jobs.Job, s *jobs.Setup) { s.Screws.Length = 40 },
	"desk: odd thread":   func(j *jobs.Job, s *jobs.Setup) { s.Screws.Thread = "M99" },
	"desk: no screws":    func(j *jobs.Job, s *jobs.Setup) { s.Screws.At = nil },
	"desk: outside":      func(j *jobs.Job, s *jobs.Setup) { s.Screws.At[0] = jobs.Point{X: 300, Y: 300} },
	"desk: material":     func(j *jobs.Job, s *jobs.Setup) { j.Part.Material = "unobtainium" },
	"desk: no fixture material": func(j *jobs.Job, s *jobs.Setup) {
		j.Fixture.Material = "unobtainium"
	},
	"desk: no tool": func(j *jobs.Job, s *jobs.Setup) { s.Cut.Tool = 77 },
	"desk: no clamp force": func(j *jobs.Job, s *jobs.Setup) {
		for i := range s.Clamps {
			s.Clamps[i].Torque, s.Clamps[i].Tip = 1, 300
		}
	},
	"desk: hard clamps": func(j *jobs.Job, s *jobs.Setup) {
		for i := range s.Clamps {
			s.Clamps[i].Torque = 200000
		}
	},
	"desk: clamp in the way": func(j *jobs.Job, s *jobs.Setup) {
		s.Clamps[0].Outline, s.Clamps[0].Top = jobs.Outline{{X: -50, Y: 2}, {X: 20, Y: 2}, {X: 20, Y: 20}, {X: -50, Y: 20}}, 60
	},
	"desk: regions": func(j *jobs.Job, s *jobs.Setup) {
		s.Cut.Regions = []jobs.Region{{Name: "over all", Lowest: 1, Outline: jobs.Outline{{X: -30, Y: -30}, {X: 130, Y: -30}, {X: 130, Y: 100}, {X: -30, Y: 100}}}}
		s.Table = jobs.Outline{{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 20, Y: 20}, {X: 0, Y: 20}}
		s.Obstacles = []jobs.Standing{{Name: "stop", Top: 30, Outline: jobs.Outline{{X: 100, Y: 0}, {X: 120, Y: 0}, {X: 120, Y: 20}, {X: 100, Y: 20}}}}
	},
	"desk: no holder": func(j *jobs.Job, s *jobs.Setup) {
		for n, tool := range j.Tools {
			tool.Holder, tool.Stickout, tool.Flute, tool.Shank = jobs.Holder{}, 0, 0, 0
			j.Tools[n] = tool
		}
	},
	"desk: short tool": func(j *jobs.Job, s *jobs.Setup) {
		for n, tool := range j.Tools {
			tool.Stickout, tool.Flute = 4, 2
			j.Tools[n] = tool
		}
		s.Cut.Lowest = 2
	},
	"desk: no probe":   func(j *jobs.Job, s *jobs.Setup) { j.Machine.Probe, j.Machine.Tram = nil, nil },
	"desk: shallow":    func(j *jobs.Job, s *jobs.Setup) { j.Fixture.Threads.Depth = 1 },
	"desk: worn":       func(j *jobs.Job, s *jobs.Setup) { j.Fixture.Threads.Retire, j.Fixture.Threads.Cycles = 5, 9 },
	"desk: two setups": func(j *jobs.Job, s *jobs.Setup) { j.Setups = append(j.Setups, jobs.Setup{Name: "x", Kind: "nothing"}) },
	"desk: side 1": func(j *jobs.Job, s *jobs.Setup) {
		j.Setups = append(j.Setups, jobs.Setup{Name: "side1", Kind: "first-side", Zero: "corner", Z0: "top skin", Offset: "G55", Finds: "probe", HolesHere: true})
	},
}

// desk notes what is said of a plan at the desk.
func (s *said) desk(in setting, p *steps.Plan) {
	d := p.AtDesk()
	kind := p.Setup.Kind
	s.say(in, kind, "desk", "finding", d.Findings...)
	s.say(in, kind, "desk", "source", d.Sources...)
	for _, c := range d.Checks {
		s.say(in, kind, "desk", "limit", c.Limit.Why)
		s.say(in, kind, "desk", "check", c.Words)
	}
	s.rows(in, kind, "desk", "line", d.HoldDown)
}

func (s *said) outlook(in setting, j *jobs.Job, l *steps.Log) {
	for _, o := range steps.Outlook(j, l) {
		s.say(in, o.Kind, "outlook", "open", o.Open...)
		s.say(in, o.Kind, "outlook", "problem", o.Problem)
		for _, n := range o.Needs {
			s.say(in, o.Kind, "outlook", "need", n.Words(), n.Void)
		}
	}
}

// program notes what the reader says of a program.
func (s *said) program(t *testing.T, w walked, name, role, text string, st *steps.State) {
	t.Helper()
	r, err := w.plan.CheckProgram(context.Background(), name, role, strings.NewReader(text), st, nil)
	kind := w.plan.Setup.Kind
	if err != nil {
		s.say(w.setting, kind, "program-file", "refusal", err.Error())
		return
	}
	for _, c := range r.Checks {
		s.say(w.setting, kind, "program-file", "limit", c.Limit.Why)
		s.say(w.setting, kind, "program-file", "check", c.Words)
	}
	s.say(w.setting, kind, "program-file", "note", r.Notes...)
	s.rows(w.setting, kind, "program-file", "row", r.Rows)
}

// records notes what is said of records and cards that are not as they should be.
func (s *said) records(t *testing.T, all []walked, short bool) {
	t.Helper()
	for _, w := range all {
		if w.much&inShort == 0 {
			continue
		}
		s.troubles(w)
		k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
		s.refusals(w.setting, k.State())
		asked := func(st *steps.State) bool {
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
			s.wrong(w, next.Events, false)
			cards["taken.bore"], cards["taken.luck"] = "{", "{}"
			st := steps.Fold(w.plan, []jobs.Event{{Begin: w.plan.Setup.Name, Cards: cards}})
			s.state(w.setting, &st)
		}
	}
	if short {
		return
	}
	s.kept(t)
	flat := jobs.Flatten(readJob(t, lidJob))
	flat["job.allowance"] = "wide"
	p := lidWith(t, nil)
	st := steps.Fold(p, []jobs.Event{{Begin: p.Setup.Name, Cards: flat}})
	s.state(setting{tag: "T"}, &st)
	for _, setup := range []string{"nope", "side2"} {
		j := readJob(t, lidJob)
		j.Setups[0].Kind = "nothing"
		if _, err := steps.NewPlan(j, setup, nil); err != nil {
			s.say(setting{tag: "any"}, "any", "plan", "refusal", err.Error())
		}
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
		st := steps.Fold(w.plan, es)
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
		st := steps.Fold(w.plan, []jobs.Event{begin, {Round: at}, {Read: at + "/nope", Value: "1"}, {Waive: at + "/nope", Value: "1", Reason: "why"}})
		s.state(w.setting, &st, sp.ID)
		if ss, ok := st.Step(sp.ID); ok && len(ss.Asks) > 0 {
			bad := steps.Fold(w.plan, []jobs.Event{begin, {Round: at}, {Read: at + "/" + ss.Asks[0].Field, Value: "one"}})
			s.state(w.setting, &bad, sp.ID)
		}
	}
}

// refusals notes what is said of what can't be done now.
func (s *said) refusals(in setting, st *steps.State) {
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
func (s *said) misread(in setting, st *steps.State, a steps.Ask) {
	kind := st.Plan().Setup.Kind
	bad := []string{"", "one", "-1", "99999"}
	if a.Window != nil {
		for _, f := range []float64{0, -1, 10, 0.1, 25.4, 1 / 25.4} {
			bad = append(bad, fmt.Sprintf("%.4f", f*a.Window.Want))
		}
	}
	for _, v := range bad {
		e, err := st.Understand(a.Field, v)
		if err != nil {
			step := "any"
			if a.Kind == steps.Choice {
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
	seen := map[string]bool{}
	keys := []string{"machine.probe.radius", "machine.probe.void", "machine.dial.graduation", "job.part.features"}
	for _, sp := range append(append([]*steps.Spec{}, w.plan.Line...), w.plan.Off...) {
		keys = append(keys, sp.Keys...)
	}
	for _, key := range keys {
		if seen[key] {
			continue
		}
		seen[key] = true
		st := steps.Fold(w.plan, append(es[:len(es):len(es)], jobs.Event{Plan: "edited", Changed: []string{key}, At: es[len(es)-1].At}))
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
		st := steps.Fold(w.plan, bad)
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
		st = steps.Fold(w.plan, bad)
		s.state(w.setting, &st, ss.ID)
		s.reported(&st)
	}
}

// reported puts in the sheets.
func (s *said) reported(st *steps.State) {
	s.reach(report.Make(st, report.About{Part: 1, Record: "a.record.yaml", Version: "1"}).Text())
	s.reach(report.MakeTag(st.Plan()).Text())
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
		for _, m := range steps.Offered() {
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
