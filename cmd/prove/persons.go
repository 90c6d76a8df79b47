package main

import (
	"context"
	"fmt"
	"strings"

	"fliptrue/steps/bench"
)

// answered are mistakes that no reading shows: a question does.
var answered = []string{"clamp-left-on", "other-offset-number", "part-rotated", "flipped-wrong-axis", "wrong-side-up", "soft-thread",
	"screw-bottomed", "spindle-unmarked", "program-edited", "bolts-snug", "clearance-not-pushed"}

// slips are the shares of answers given wrong that are tried, per cent.
var slips = []float64{0, 3, 8, 15}

// persons walks with a person who errs: what of sound setups and of mistakes that only a question shows comes out harmed.
func persons(ctx context.Context, o options) (*table, error) {
	var ts []trial
	for _, t := range trials {
		for _, n := range answered {
			if t.name == n {
				ts = append(ts, t)
			}
		}
	}
	if o.verbose {
		return &table{}, o.tellPersons()
	}
	t := &table{Title: "a person who errs: walks released, and per cent of the parts cut that are harmed; with nothing wrong, and with a " +
		"mistake that only a question shows", Head: []string{"answers wrong %", "level", "sound", "released %", "harmed %", "harmed as",
		"with a mistake", "released %", "harmed %", "most of it"}}
	at := o.atLevels()
	rows := len(slips) * len(at)
	free, made := make([]outcome, rows*o.n), make([]outcome, rows*o.n)
	err := each(ctx, o, "persons", rows*o.n, func(i int) error {
		row, k := i/o.n, i%o.n
		q, seed := at[row%len(at)], o.seed+uint64(k)
		q.errs = slips[row/len(at)]
		_, res, err := q.usual(seed, "")
		if err != nil {
			return err
		}
		free[i] = outcome{begun: true, caught: res.State != "released"}
		if !free[i].caught {
			p := res.Walk.Plan()
			free[i].harm = harmOf(trial{}, bench.Made{}, res.Walk.World.Cut(), float64(p.Job.Allowance), float64(p.Job.Thickness))
		}
		tr := ts[k%len(ts)]
		made[i], res, err = q.attempt(tr, tr.sizes[len(tr.sizes)/2], seed, nil)
		made[i].caught = err == nil && res.State != "released"
		return err
	})
	if err != nil {
		return nil, err
	}
	for row := range rows {
		s, all, spoilt := newHaul(), newHaul(), map[string]int{}
		for k := range o.n {
			s.add(free[row*o.n+k])
			r := made[row*o.n+k]
			all.add(r)
			if r.begun && r.harm.what != "" {
				spoilt[ts[k%len(ts)].name]++
			}
		}
		t.row(fmt.Sprintf("%g", slips[row/len(at)]), at[row%len(at)].level().String(), s.made, 100-per(s.caught, s.made), per(s.harmed, s.made),
			most(s.as), all.made, 100-per(all.caught, all.made), per(all.harmed, all.made), most(spoilt))
	}
	t.Cases = 2 * rows * o.n
	t.Notes = append(t.Notes, "of numbers a twentieth of that share has a digit from the key beside it, and of acts a quarter is skipped",
		"mistakes in turn: "+strings.Join(answered, ", "))
	return t, nil
}

// tellPersons tells one case of a person who errs in full.
func (o options) tellPersons() error {
	if o.errs == 0 {
		o.errs = erring
	}
	_, res, err := o.usual(o.seed, "")
	if err != nil {
		return err
	}
	fmt.Fprintf(o.stdout, "seed %d, %g %% of the answers wrong: %s; cut it would be %+v\n", o.seed, o.errs, res.State, res.Walk.World.Cut())
	tell(o, res)
	return nil
}
