package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/calc/worth"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// place is where a level is meant for: what the part is worth, minutes, and whether fixture and programs are proven.
type place struct {
	level  fold.Level
	worth  float64
	proven bool
}

var places = []place{{fold.Proven, 180, true}, {fold.FirstUse, 600, false}, {fold.Irreplaceable, 3000, false}}

// worthSeeds are the benches that each set is walked at.
const worthSeeds = 3

// asking is one level of one plan: what it asks, and what the register's budget comes to with all and without each.
type asking struct {
	holdDown  string
	place     place
	allowance float64
	thick     float64
	groups    []steps.Asked
	u         float64   // with all, mm; 0 where the walk can't prove its allowance
	without   []float64 // mm, by group
	stops     []string  // by group: the step at which the walk stops without it
}

// earns is what the walks of a plan at a level say.
func (o options) earns(holdDown string, at place, allowance float64, alone bool) (*asking, error) {
	a := &asking{holdDown: holdDown, place: at, allowance: allowance}
	p, err := planAt(holdDown, at.level, allowance)
	if err != nil {
		return nil, err
	}
	a.thick = float64(p.Job.Thickness)
	var u []float64
	for seed := range uint64(worthSeeds) {
		res, err := bench.Auto(p, bench.Options{Seed: o.seed + seed})
		if err != nil {
			return nil, err
		}
		if res.State == "released" {
			u = append(u, registerU(res))
		}
		if st := res.Walk.State(); a.groups == nil || len(steps.AskedIn(st, res.Walk.Events)) > len(a.groups) {
			a.groups = steps.AskedIn(st, res.Walk.Events)
		}
	}
	a.u = meanOf(u)
	a.without, a.stops = make([]float64, len(a.groups)), make([]string, len(a.groups))
	if alone {
		return a, nil
	}
	for i, g := range a.groups {
		if a.without[i], a.stops[i], err = o.spared(p, g); err != nil {
			return nil, fmt.Errorf("%s without %s: %w", holdDown, g.Name, err)
		}
	}
	return a, nil
}

// spared walks without a group: what the register is then known to, or where most walks stop.
func (o options) spared(p *fold.Plan, g steps.Asked) (u float64, stops string, err error) {
	var us []float64
	for seed := range uint64(worthSeeds) {
		if 2*len(us) > worthSeeds {
			break
		}
		res, err := bench.Auto(p.Without(g.Fields...), bench.Options{Seed: o.seed + seed})
		if err != nil {
			return 0, "", err
		}
		if res.State == "released" {
			us = append(us, registerU(res))
			continue
		}
		stops = string(*res.HeldAt)
	}
	if 2*len(us) > worthSeeds {
		return meanOf(us), "", nil
	}
	return 0, stops, nil
}

func planAt(holdDown string, l fold.Level, allowance float64) (*fold.Plan, error) {
	j, programs, err := builtinJob(holdDown)
	if err != nil {
		return nil, err
	}
	j.Allowance = unit.Length(allowance)
	p, err := steps.NewPlan(j, j.Setups[0].Name, programs)
	if err != nil {
		return nil, err
	}
	return p.AtLevel(l), nil
}

// registerU is the standard uncertainty at the worst feature as a walk's own budget has it.
func registerU(res *bench.Result) float64 {
	_, _, _, guard := kit.WorstFeature(steps.Register(res.Walk.State()))
	return worth.Of95(guard)
}

func meanOf(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / math.Max(1, float64(len(x)))
}

// offered is a group as it could be asked at a level: as it is asked there, else as a higher one asks it.
type offered struct {
	worth.Group
	asked            bool
	numbers, answers int
	gate             bool
	needed           string // the step at which the walk stops without it
	u                float64
}

// offers are the groups of a level and those that only higher ones ask, in walk order; all are of one plan, from the least level up.
func offers(all []*asking, k int) (out []offered) {
	for i, a := range all[k:] {
		for n, g := range a.groups {
			if slices.ContainsFunc(out, func(o offered) bool { return o.Name == g.Name }) {
				continue
			}
			if g.Gate && i > 0 { // there another one stands in its place
				continue
			}
			o := offered{Group: g.Group, asked: i == 0, numbers: g.Numbers, answers: g.Answers, gate: g.Gate, needed: a.stops[n], u: a.without[n]}
			if o.u > a.u {
				o.Adds = o.u*o.u - a.u*a.u
			}
			switch {
			case g.Gate:
				o.Kept = "gate"
			case o.asked && o.needed != "":
				o.Kept = "needed"
			}
			out = append(out, o)
		}
	}
	return out
}

// model is the loss of sets at a level, and the set that is read there today.
func (a *asking) model(os []offered, worthOf, often float64, proven bool) (*worth.Model, []bool, error) {
	v := a.u * a.u
	gs, in := make([]worth.Group, len(os)), make([]bool, len(os))
	for i, o := range os {
		gs[i], in[i] = o.Group, o.asked
		if !o.asked {
			v -= o.Adds
		}
	}
	s := worth.Setting{Allowance: a.allowance, Thickness: a.thick, Worth: worthOf, Proven: proven, Strapped: a.holdDown == "T", Often: often,
		U: math.Sqrt(math.Max(v, a.u*a.u/4))}
	m, err := worth.NewModel(s, gs)
	return m, in, err
}

// worthTable is what each group of readings earns.
func worthTable(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "what each group of readings saves, minutes of risk, and whether that pays for its own minutes",
		Head: []string{"plan", "group", "asked", "minutes"}}
	for _, p := range places {
		t.Head = append(t.Head, fmt.Sprintf("%v, %.0f", p.level, p.worth))
	}
	t.Head = append(t.Head, "u with and without", "verdict")
	plans := []string{"T", "S"}
	all := make([]*asking, len(plans)*len(places))
	err := each(ctx, o, "worth", len(all), func(i int) (err error) {
		all[i], err = o.earns(plans[i/len(places)], places[i%len(places)], allowed, false)
		return err
	})
	if err != nil {
		return nil, err
	}
	for i, plan := range plans {
		if err := t.earned(plan, all[i*len(places):(i+1)*len(places)]); err != nil {
			return nil, err
		}
	}
	t.Cases = len(all)
	for i, plan := range plans {
		if err := t.bests(plan, all[i*len(places):(i+1)*len(places)]); err != nil {
			return nil, err
		}
	}
	if err := o.breaks(ctx, t, plans); err != nil {
		return nil, err
	}
	t.Notes = append(t.Notes,
		"how often each mistake is made is judgement, may be wrong by three; how far it spoils the part and from which size a reading finds it "+
			"is the bench's (prove catch)",
		"+ it is asked there, . it is not; saved: by the group, the rest of what that level asks in place; u: of the register at the worst "+
			"feature, as the walk's own budget has it, without the group",
		"needed: without it the walk stops there; gate: it keeps what can hurt somebody away")
	return t, nil
}

// allowed is the allowance of the built-in job, mm, for which sizes in the walk's table hold.
const allowed = 0.05

// earned are the rows of one plan.
func (t *table) earned(plan string, all []*asking) error {
	type cells struct {
		o     offered
		saved []string
		pays  []string
	}
	var rows []cells
	for k, a := range all {
		os := offers(all, k)
		m, in, err := a.model(os, a.place.worth, 1, a.place.proven)
		if err != nil {
			return err
		}
		for i, o := range os {
			r := slices.IndexFunc(rows, func(c cells) bool { return c.o.Name == o.Name })
			if r < 0 {
				r = len(rows)
				rows = append(rows, cells{o: o, saved: make([]string, len(all))})
			}
			c := &rows[r]
			saves, mark := m.Saves(in, i), "."
			if o.asked {
				mark = "+"
				if !c.o.asked {
					c.o = o
				}
			}
			c.saved[k] = fmt.Sprintf("%s %.2f", mark, saves)
			if word := o.verdict(saves); word != "" {
				c.pays = append(c.pays, fmt.Sprintf("%s at %v", word, a.place.level))
			}
		}
	}
	for _, c := range rows {
		u := ""
		if c.o.u > 0 {
			u = fmt.Sprintf("%+.4f", c.o.u-math.Sqrt(math.Max(0, c.o.u*c.o.u-c.o.Adds)))
		}
		verdict := strings.Join(c.pays, "; ")
		if verdict == "" {
			verdict = "pays where it is asked, nowhere else"
		}
		switch {
		case c.o.gate:
			verdict = "gate"
		case c.o.needed != "":
			verdict = "needed: stops at " + c.o.needed
		}
		row := []any{plan, c.o.Name, fmt.Sprintf("%d + %d", c.o.numbers, c.o.answers), fmt.Sprintf("%.1f", c.o.Minutes)}
		for _, s := range c.saved {
			row = append(row, s)
		}
		t.row(append(row, u, verdict)...)
	}
	return nil
}

// verdict is a word where a level asks what does not pay or leaves out what would.
func (o offered) verdict(saves float64) string {
	switch {
	case o.asked && saves < o.Minutes && o.needed == "":
		return "does not pay"
	case !o.asked && saves > o.Minutes:
		return "would pay"
	}
	return ""
}

// bests are the best set of each level beside what it asks today.
func (t *table) bests(plan string, all []*asking) error {
	for k, a := range all {
		os := offers(all, k)
		m, in, err := a.model(os, a.place.worth, 1, a.place.proven)
		if err != nil {
			return err
		}
		today := m.Loss(in)
		set, best := m.Best()
		n, ans := 0, 0
		var less, more []string
		for i, o := range os {
			if set[i] {
				n, ans = n+o.numbers, ans+o.answers
			}
			switch {
			case set[i] && !in[i]:
				more = append(more, o.Name)
			case in[i] && !set[i]:
				less = append(less, o.Name)
			}
		}
		tn, ta := 0, 0
		for _, g := range a.groups {
			tn, ta = tn+g.Numbers, ta+g.Answers
		}
		t.Notes = append(t.Notes, fmt.Sprintf("plan %s, %v, a part of %.0f: today %d + %d, %.1f minutes, risk %.1f, u %.4f; best %d + %d, %.1f "+
			"minutes, risk %.1f; best leaves out: %s; takes in: %s; most of today's risk: %s", plan, a.place.level, a.place.worth, tn, ta,
			today.Reading, today.Risk(), a.u, n, ans, best.Reading, best.Risk(), orNone(less), orNone(more), shares(today.By, today.Mistakes)))
	}
	return nil
}

func orNone(s []string) string {
	if len(s) == 0 {
		return "nothing"
	}
	return strings.Join(s, ", ")
}
