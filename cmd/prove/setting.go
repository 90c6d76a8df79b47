package main

import (
	"fmt"

	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// setting is what is walked: the built-in job in a hold-down plan or as a kind of setup, at a level.
type setting struct {
	kind  string
	level fold.Level
	as    string // "", or otherwise than the job has it: one bore, floating
}

// sideTwos are those whose register is stated: the plans of the second side, and the kinds that stand for it.
var sideTwos = []string{"T", "M", "S", "vacuum", "tape", "stops", "dowel-flip", "soft-jaws"}

// levels are those that have one, the full one last.
func levels() []fold.Level { return append(append([]fold.Level{}, fold.Levels...), fold.Full) }

// settings are all of them at all levels, or at the one that was asked for.
func (o options) settings(kinds []string) (out []setting) {
	for _, k := range kinds {
		for _, l := range levels() {
			if o.at == "" || l == o.level() {
				out = append(out, setting{k, l, ""})
			}
		}
	}
	return out
}

// settingTurns is how many plans a setting has: what does not change a verdict is taken in turn by the seed.
const settingTurns = 6

// plan is the setting's plan for a seed.
func (s setting) plan(seed uint64) (*fold.Plan, error) {
	j, programs, err := builtinJob(s.kind)
	if err != nil {
		return nil, err
	}
	u := &j.Setups[0]
	if seed %= settingTurns; seed%2 == 1 && u.Kind == "second-side" {
		j.Machine.Rotation = "G68"
	}
	if u.HoldDown != "V" {
		u.Hits = []int{6, 8, 5}[seed/2]
	}
	switch s.as {
	case "one bore":
		j.Fixture.AsMade.Bore2 = nil
	case "floating":
		u.Floating, u.Against = true, nil
	}
	p, err := steps.NewPlan(j, u.Name, programs)
	if err != nil {
		return nil, err
	}
	return p.AtLevel(s.level), nil
}

// lend takes it off the shelf.
func (s setting) lend(seed uint64) (p *fold.Plan, back func(), err error) {
	return lend(fmt.Sprint(s, seed%settingTurns), func() (*fold.Plan, error) { return s.plan(seed) })
}

// effects are the wide world's as the flags leave them.
func (o options) effects(p *fold.Plan) (bench.Effects, error) {
	e := bench.Wide(p)
	if o.errs > 0 {
		e = bench.Erring(e, o.errs)
	}
	err := o.switchEffects(&e)
	return e, err
}

// walk walks a setting from a seed; edit has the last word on the effects.
func (o options) walk(s setting, seed uint64, edit func(*bench.Effects)) (*bench.Result, error) {
	p, back, err := s.lend(seed)
	if err != nil {
		return nil, err
	}
	defer back()
	e, err := o.effects(p)
	if err != nil {
		return nil, err
	}
	if edit != nil {
		edit(&e)
	}
	res, err := bench.Auto(p, bench.Options{Seed: seed, Effects: &e})
	if err != nil {
		return nil, fmt.Errorf("seed %d, %s %v: %w", seed, s.kind, s.level, err)
	}
	return res, nil
}
