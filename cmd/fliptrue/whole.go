package main

import (
	"fmt"
	"path/filepath"
	"slices"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/tui"
)

// wholeJob is the practice that walks one setup after the other in one record: what is wrong in one and not found there arrives
// in the next.
const wholeJob = "whole"

// inOrderOfWalk are the plans of a job's setups, each at its own level. The fixture is made once, for the first part.
func (e *env) inOrderOfWalk(p prepared, o practiceOptions) (out []*fold.Plan, err error) {
	for _, l := range steps.Outlook(p.job, nil) {
		if l.Kind == kit.Making && partOf(p.path) > 1 {
			continue
		}
		q, err := e.atItsLevel(p, o, l.Name)
		if err != nil {
			return nil, err
		}
		out = append(out, q)
	}
	return out, nil
}

// atItsLevel is the plan of one setup by job and cards as they lie there now.
func (e *env) atItsLevel(p prepared, o practiceOptions, setup string) (*fold.Plan, error) {
	q, err := e.plan(p.job, setup)
	if err != nil {
		return nil, err
	}
	how, err := e.chooseLevel(o.levelOptions, filepath.Join(p.dir, builtin.JobFile), partOf(p.path), q)
	if err != nil {
		return nil, err
	}
	return q.AtLevel(how.level), nil
}

// madeBefore is the bench on which the fixture of an earlier part was made; nil for the first part.
func (e *env) madeBefore(p prepared, o practiceOptions) ([]*bench.World, error) {
	i := slices.IndexFunc(p.job.Setups, func(s jobs.Setup) bool { return s.Kind == kit.Making })
	if partOf(p.path) == 1 || i < 0 {
		return nil, nil
	}
	q, err := e.plan(p.job, p.job.Setups[i].Name)
	if err != nil {
		return nil, err
	}
	return []*bench.World{bench.NewWorld(q, o.seed, bench.Usual(q))}, nil
}

// madeIn is the setup in which a mistake is made: its own kind's, else the second side.
func madeIn(mistake string, plans []*fold.Plan) string {
	in := ""
	for _, p := range plans {
		if slices.ContainsFunc(bench.MistakesIn(p), func(m bench.Mistake) bool { return m.Name == mistake }) && (in == "" || p.Setup.Second()) {
			in = p.Setup.Name
		}
	}
	return in
}

// wholeJSON is a practice of all setups.
type wholeJSON struct {
	Setups []*bench.Result `json:"setups"`
	In     string          `json:"in"` // the setup in which the mistake was made, "" without one
}

// wholeAuto lets the scripted person walk them all.
func wholeAuto(e *env, o practiceOptions, p prepared, kept bool) (exit, error) {
	plans, err := e.inOrderOfWalk(p, o)
	if err != nil {
		return exitOf(err), err
	}
	in := ""
	if o.mistake != "" {
		in = madeIn(o.mistake, plans)
	}
	before, err := e.madeBefore(p, o)
	if err != nil {
		return exitOf(err), err
	}
	rs, err := bench.Chain(plans, bench.Options{Seed: o.seed, Mistake: o.mistake, In: in, Cards: p.cards(), Before: before,
		Part: partOf(p.path) - 1})
	if err != nil {
		return exitInput, err
	}
	var events []jobs.Event
	for _, r := range rs {
		events = append(events, r.Walk.Events...)
	}
	if kept {
		if err := p.record.Append(events...); err != nil {
			return exitDisk, err
		}
		c, log := newCardBack(e.disk, p.job, p.path, nil), steps.NewLog()
		for _, q := range plans {
			c.walks(q)
		}
		for _, ev := range events {
			log.Apply(ev)
		}
		if _, err := c.settle(log); err != nil {
			return exitDisk, err
		}
	}
	code := exitNo
	if len(rs) == len(plans) && rs[len(rs)-1].State == "released" {
		code = exitOK
	}
	if o.asJSON {
		e.json(wholeJSON{rs, in})
		return code, nil
	}
	for i := range rs {
		if i > 0 {
			fmt.Fprintln(e.out)
		}
		fmt.Fprint(e.out, foldRecord(plans[i], events).text())
	}
	if in != "" {
		fmt.Fprintf(e.out, "  the bench made in %s: %s\n", in, o.mistake)
	}
	if kept {
		fmt.Fprintf(e.out, "record: %s\n", p.path)
	}
	return code, nil
}

// chained are the worlds of a practice that walks all setups, on a screen: the next one begins where the one before ended.
type chained struct {
	plans  []*fold.Plan
	before []*bench.World // that made the fixture for an earlier part
	worlds []*bench.World
	in     string
}

// next begins the setup after those walked, in the same record; false when there is none.
func (c *chained) next(e *env, o practiceOptions, p prepared, events []jobs.Event) (*session, *bench.World, bool, error) {
	n := len(c.worlds)
	if n == len(c.plans) {
		return nil, nil, false, nil
	}
	var err error
	if p.job, err = e.readJob(p.job.Path); err != nil { // a setup before may have written to a card
		return nil, nil, false, err
	}
	plan, err := e.atItsLevel(p, o, c.plans[n].Setup.Name)
	if err != nil {
		return nil, nil, false, err
	}
	p.plan = plan
	world := bench.NewWorld(plan, o.seed, bench.Usual(plan))
	world.NextPart(partOf(p.path) - 1)
	for _, before := range slices.Concat(c.before, c.worlds) {
		world.Follow(before)
	}
	if o.mistake != "" && c.in == plan.Setup.Name {
		if err := world.Make(o.mistake, 0); err != nil {
			return nil, nil, false, &usageError{what: err.Error()}
		}
	}
	c.worlds = append(c.worlds, world)
	s := &session{job: p.job, plan: plan, record: p.record, path: p.path, log: steps.NewLog(), events: slices.Clone(events)}
	for _, ev := range events {
		s.log.Apply(ev)
	}
	s.due = newCardBack(e.disk, p.job, p.path, events)
	s.due.walks(plan)
	if n > 0 {
		s.notes = append(s.notes, "the same part goes on: "+plan.Setup.Name)
	}
	begin := plan.Level().At(fold.Begin(plan.Setup.Name, p.cards(), "bench"))
	return s, world, true, s.append(e.now(), begin)
}

// wholeScreen walks them on the screen, one after the other, until one is left before its release.
func wholeScreen(e *env, o practiceOptions, look tui.Look) (exit, error) {
	p, err := e.prepare(o)
	if err != nil {
		return exitOf(err), err
	}
	defer p.record.Close()
	c := &chained{}
	if c.plans, err = e.inOrderOfWalk(p, o); err != nil {
		return exitOf(err), err
	}
	if c.before, err = e.madeBefore(p, o); err != nil {
		return exitOf(err), err
	}
	if o.mistake != "" {
		c.in = madeIn(o.mistake, c.plans)
	}
	var events []jobs.Event
	var named []string
	released := false
	for len(c.worlds) < len(c.plans) {
		var s *session
		res, err := e.show(look, filepath.Join(o.out, builtin.JobFile), func() (t tui.Options, err error) {
			var world *bench.World
			if s, world, _, err = c.next(e, o, p, events); err != nil {
				return t, err
			}
			t = s.options(e, look)
			t.Bench, t.Part = world, "practice, "+t.Part
			return t, nil
		})
		if err != nil {
			return exitOf(err), err
		}
		events = s.events
		named = append(named, foldRecord(s.plan, events).named...)
		if released = res.Released; !released {
			break
		}
	}
	fmt.Fprint(e.out, practiceEnd(o.mistake, released, named))
	return exitOK, nil
}
