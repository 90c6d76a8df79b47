package bench_test

import (
	"context"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/report"
)

// tables notes the tables, the titles, and what is known of each plan before anything is read.
func (s *said) tables(t *testing.T, all []walked, short bool) {
	t.Helper()
	none := setting{tag: "table"}
	for _, m := range facts.Mishaps.Rows {
		s.say(none, "mishaps", string(m.ID), "words", m.Words)
		s.say(none, "mishaps", string(m.ID), "question", m.Question)
		s.say(none, "mishaps", string(m.ID), "caution", m.Caution)
	}
	for _, k := range steps.House.Kinds {
		for m, words := range k.Called {
			s.say(none, "mistakes", m, "called", words)
		}
	}
	for _, w := range all {
		kind := w.plan.Setup.Kind
		for _, sp := range append(append([]*fold.Spec{}, w.plan.Line...), w.plan.Off...) {
			s.say(w.setting, kind, string(sp.ID), "title", sp.Title)
			s.pause(w.setting, kind, string(sp.ID), sp.Pause)
		}
		for _, p := range desk.OnPaper(w.plan) {
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
	if short {
		return
	}
	for name, edit := range crowded {
		for _, holdDown := range []string{"T", "S"} {
			p := shipped(t, holdDown, func(j *jobs.Job, _ map[string]string) {
				if len(j.Setups[0].Clamps) > 0 || !strings.Contains(name, "clamp") {
					edit(j, &j.Setups[0])
				}
			})
			if holdDown == "S" && !hold.MatchString(name) {
				s.desk(setting{tag: name}, p)
				continue
			}
			s.odd(setting{tag: name}, p)
		}
	}
	for name, edit := range crowdedPins {
		s.odd(setting{tag: name}, shipped(t, "dowel-flip", func(j *jobs.Job, _ map[string]string) { edit(j, &j.Setups[0]) }))
	}
	for name, edit := range crowdedFace {
		how, _, _ := strings.Cut(name, ":")
		s.odd(setting{tag: name}, shipped(t, how, func(j *jobs.Job, _ map[string]string) { edit(j, &j.Setups[0]) }))
	}
	for name, edit := range crowdedVise {
		s.odd(setting{tag: name}, sideOne(t, edit))
	}
	for _, w := range all {
		if w.much&inSlice != 0 && len(w.plan.Setup.Programs) > 0 {
			for _, text := range oddPrograms {
				s.program(t, w, "odd.nc", w.plan.Setup.Programs[0].Role, text, nil)
			}
		}
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

// odd notes what is said of a plan that can't be as planned, at the desk and on a walk as far as it goes.
func (s *said) odd(in setting, p *fold.Plan) {
	s.desk(in, p)
	if p.Setup.Kind == "second-side" {
		s.outlook(in, p.Job, nil)
	}
	for _, x := range desk.OnPaper(p) {
		s.asks(in, p.Setup.Kind, string(x.ID), x.Asks)
		s.page(in, p.Setup.Kind, string(x.ID), x.Page)
	}
	s.asFarAs(in, bench.NewWalk(p, bench.NewWorld(p, 7, bench.Usual(p)), nil))
}

// desk notes what is said of a plan at the desk.
func (s *said) desk(in setting, p *fold.Plan) {
	d := desk.AtDesk(p)
	kind := p.Setup.Kind
	s.budgets(in, kind, "desk", d.AsJob)
	s.say(in, kind, "desk", "finding", d.Findings...)
	s.say(in, kind, "desk", "source", d.Sources...)
	for _, c := range d.Checks {
		s.say(in, kind, "desk", "limit", c.Limit.Why)
		s.say(in, kind, "desk", "check", c.Words)
	}
	s.rows(in, kind, "desk", "line", d.HoldDown)
}

func (s *said) outlook(in setting, j *jobs.Job, l *fold.Log) {
	for _, o := range steps.Outlook(j, l) {
		s.say(in, o.Kind, "outlook", "open", o.Open...)
		s.say(in, o.Kind, "outlook", "problem", o.Problem)
		for _, n := range o.Needs {
			s.say(in, o.Kind, "outlook", "need", n.Words(), n.Void)
		}
	}
}

// program notes what the reader says of a program.
func (s *said) program(t *testing.T, w walked, name, role, text string, st *fold.State) {
	t.Helper()
	r, err := desk.CheckProgram(w.plan, context.Background(), name, role, strings.NewReader(text), st, nil)
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
