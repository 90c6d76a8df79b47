package main

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// cleanWalk is what a sound setup was stopped by.
type cleanWalk struct {
	failed []bench.Failure
	held   bool // given up
}

// noProbe is the row of --only that walks shops without one: plan T, by dial and by edge finder in turn.
const noProbe = "no probe"

// soundShop is the setup of a seed with its effects, in a shop with a probe or without; back gives the plan back.
func (o options) soundShop(seed uint64) (p *fold.Plan, e bench.Effects, back func(), err error) {
	if o.only != noProbe {
		return o.shop(seed, "")
	}
	const turns = 6 // what the seed draws below
	p, back, err = lend(fmt.Sprint("no probe ", o.at, o.without, seed%turns), func() (*fold.Plan, error) {
		j, programs, err := builtinJob("T")
		if err != nil {
			return nil, err
		}
		s := &j.Setups[0]
		s.Finds, s.Hits = []string{"dial", "edge finder"}[seed%2], []int{6, 8, 5}[seed%3]
		j.Machine.Probe = nil
		j.Machine.Finder = &jobs.EdgeFinder{Dia: 5, Repeat: 0.002} // a good one turns over within that (common practice, from memory)
		p, err := steps.NewPlan(j, s.Name, programs)
		if err != nil {
			return nil, err
		}
		return p.AtLevel(o.level()).Without(o.without...), nil
	})
	if err == nil {
		e, err = o.effects(p)
	}
	return p, e, back, err
}

// cleanOne walks the sound setup of a seed.
func (o options) cleanOne(seed uint64) (w cleanWalk, err error) {
	p, e, back, err := o.soundShop(seed)
	if err != nil {
		return w, err
	}
	defer back()
	res, err := bench.Auto(p, bench.Options{Seed: seed, Effects: &e})
	if err != nil {
		return w, fmt.Errorf("seed %d: %w", seed, err)
	}
	return cleanWalk{res.Walk.Failed, res.State != "released"}, nil
}

// keyedAnew says that a mismatch stood to one side, known and real, and that one keying of the offset took it away: no step
// was looked at again, and the walk came to its end.
func (w cleanWalk) keyedAnew(f bench.Failure) bool {
	n := 0
	for _, g := range w.failed {
		if g.Limit == "release.register" {
			n++
		}
	}
	return f.Limit == "release.register" && f.Verdict == fold.NotProven && f.Named == "" && n == 1 && !w.held
}

// stops counts what sound setups are stopped by: in how many at all, and by what.
type stops struct {
	fail, weak, named, given int
	anew                     int                   // offset keyed anew, once, to the middle of a known error
	by                       map[string]*stopCount // step|limit|named
	failures                 []fault
}

type stopCount struct{ fail, weak int }

func (s *stops) add(seed uint64, w cleanWalk) {
	anyFail, anyWeak, anyName := false, false, false
	seen := map[string]bool{}
	for _, f := range w.failed {
		k := strings.Join([]string{string(f.Step), f.Limit, f.Named}, "|")
		if f.Limit == "square.skew" && f.Named == "" || seen[k] {
			continue // a fixture just set down is crooked: to tap it square is the work, no fault
		}
		if w.keyedAnew(f) { // so is a part that grew: what is known of it is keyed
			s.anew++
			continue
		}
		seen[k] = true
		if s.by[k] == nil {
			s.by[k] = &stopCount{}
		}
		anyName = anyName || f.Named != ""
		s.failures = append(s.failures, fault{seed, stumble(f), f.Verdict.String()})
		if f.Verdict == fold.NotProven {
			s.by[k].weak++
			anyWeak = true
			continue
		}
		s.by[k].fail++
		anyFail = true
	}
	for _, c := range []struct {
		is bool
		n  *int
	}{{anyFail, &s.fail}, {anyWeak, &s.weak}, {anyName, &s.named}, {w.held, &s.given}} {
		if c.is {
			*c.n++
		}
	}
}

// put writes the rows of so many setups, the most frequent first, and what is missed.
func (s *stops) put(t *table, setups int) {
	share := func(n int) float64 { return 100 * float64(n) / float64(setups) }
	t.row("any", "", "", s.fail, share(s.fail), s.weak, share(s.weak))
	t.row("wrongly named", "", "", s.named, share(s.named), 0, 0.0)
	t.row("given up", "", "", s.given, share(s.given), 0, 0.0)
	t.row("offset keyed anew", "", "", 0, 0.0, s.anew, share(s.anew))
	keys := slices.Collect(maps.Keys(s.by))
	slices.SortFunc(keys, func(a, b string) int {
		if d := s.by[b].fail + s.by[b].weak - s.by[a].fail - s.by[a].weak; d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	for _, k := range keys {
		c, f := s.by[k], strings.Split(k, "|")
		t.row(f[0], f[1], f[2], c.fail, share(c.fail), c.weak, share(c.weak))
	}
	if share(s.fail) > 1 {
		t.miss("%.2f %% of sound setups FAIL somewhere, mark 1", share(s.fail))
	}
	if share(s.weak) > 1 {
		t.miss("%.2f %% of sound setups are NOT PROVEN somewhere, mark 1", share(s.weak))
	}
	if share(s.named) > 1 {
		t.miss("%.2f %% of sound setups are wrongly named, mark 1", share(s.named))
	}
}

// clean walks sound setups: whatever stops or names them is wrong.
func clean(ctx context.Context, o options) (*table, error) {
	if o.only != "" && o.only != noProbe {
		return nil, fmt.Errorf("--only %q: give %q, or nothing for shops with a probe", o.only, noProbe)
	}
	t := &table{Title: "how often a sound setup is stopped or wrongly named", Cases: o.n, Head: []string{"at", "limit", "named", "FAIL",
		"FAIL %", "NOT PROVEN", "NOT PROVEN %"}}
	if o.verbose {
		p, e, back, err := o.soundShop(o.seed)
		if err != nil {
			return nil, err
		}
		defer back()
		res, err := bench.Auto(p, bench.Options{Seed: o.seed, Effects: &e})
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(o.stdout, "seed %d, plan %s, level %v: %s\n", o.seed, p.Setup.HoldDown, o.level(), res.State)
		tell(o, res)
		return &table{}, nil
	}
	all := make([]cleanWalk, o.n)
	err := each(ctx, o, "clean", o.n, func(i int) (err error) {
		all[i], err = o.cleanOne(o.seed + uint64(i))
		return err
	})
	if err != nil {
		return nil, err
	}
	s := stops{by: map[string]*stopCount{}}
	for i, w := range all {
		s.add(o.seed+uint64(i), w)
	}
	t.Failures = s.failures
	s.put(t, o.n)
	t.Notes = append(t.Notes, "sound: every effect of the bench at its usual size, no mistake; readings scatter as the cards say",
		"tapping a fixture square that was just set down is the work itself and counts nowhere; so is an offset keyed anew, once, to "+
			"the middle of what is known of the part, such as its growth: that has its own row")
	return t, nil
}
