package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// ownTry is a mistake that one kind of setup alone has, in one size.
type ownTry struct {
	kind string
	m    bench.Mistake
	size float64
}

// in is the setup in which it is walked. A part lets go in plan S: without holes to find it by, faces are touched.
func (t ownTry) in() string {
	if t.kind == kit.Rescue {
		return "S"
	}
	return t.kind
}

// sizesOf are those that are tried: what is counted, or is there or not, in its own size alone.
func sizesOf(m bench.Mistake) []float64 {
	if m.Unit == "mm" || m.Unit == "K" || m.Unit == "mrad" {
		return []float64{0.25 * m.Size, 0.5 * m.Size, m.Size}
	}
	return []float64{m.Size}
}

// ownTries are all of them, or those of one kind or one mistake.
func (o options) ownTries() (out []ownTry, err error) {
	for _, kind := range builtin.Kinds()[1:] {
		if kind == "whole" {
			continue
		}
		p, err := setting{kind, fold.FirstUse, ""}.plan(0)
		if err != nil {
			return nil, err
		}
		made := bench.MistakesIn(p)
		if kind == kit.Rescue { // the second side is walked to its release, and lets go then
			made = bench.OwnMistakes(kind)
		}
		for _, m := range made {
			usual := slices.ContainsFunc(bench.Mistakes(), func(u bench.Mistake) bool { return u.Name == m.Name })
			if usual {
				continue
			}
			if o.only == "" || o.only == kind || o.only == m.Name {
				for _, s := range sizesOf(m) {
					out = append(out, ownTry{kind, m, s})
				}
			}
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("--only %q: give a kind of setup or a mistake that it alone has", o.only)
	}
	return out, nil
}

// one walks a mistake of a kind: whether it was made, stopped and named, beyond what the same bench stumbles over without it.
func (o options) one(t ownTry, seed uint64) (out outcome, res *bench.Result, err error) {
	p, back, err := setting{t.in(), o.level(), ""}.lend(seed)
	if err != nil {
		return out, nil, err
	}
	defer back()
	e := bench.Usual(p)
	if err := o.switchEffects(&e); err != nil {
		return out, nil, err
	}
	usual := map[string]bool{}
	for _, mistake := range []string{"", t.m.Name} {
		res, err = bench.Auto(p, bench.Options{Seed: seed, Effects: &e, Mistake: mistake, Size: t.size,
			LetsGo: t.kind == kit.Rescue})
		if err != nil {
			return out, nil, fmt.Errorf("seed %d, %s, %s of %g: %w", seed, t.kind, mistake, t.size, err)
		}
		for _, f := range res.Walk.Failed {
			if mistake == "" {
				usual[stumble(f)] = true
				continue
			}
			right := t.m.NamedBy(f.Named)
			if f.Verdict == fold.NotProven || usual[stumble(f)] && !right {
				continue
			}
			if !out.caught {
				out.first = string(f.Step)
			}
			out.caught, out.named, out.asked = true, out.named || right || f.Answer, out.asked || f.Answer
		}
		if mistake != "" {
			out.begun = res.Walk.World.Made()[0].Begun
			out.named = out.named || slices.ContainsFunc(res.Named, t.m.NamedBy)
			if out.caught = out.caught || out.named || res.State != "released"; out.first == "" {
				out.first = res.State
			}
		}
	}
	return out, res, nil
}

// tellKinds tells one case of each that was asked for in full.
func (o options) tellKinds(tries []ownTry) error {
	if o.only == "" {
		return errors.New("one case of kinds wants --only and a kind of setup or a mistake")
	}
	for _, t := range tries {
		out, res, err := o.one(t, o.seed)
		if err != nil {
			return err
		}
		fmt.Fprintf(o.stdout, "%s, %s of %g %s, seed %d: made %v, caught %v at %q, named %v\n", t.kind, t.m.Name, t.size, t.m.Unit, o.seed,
			out.begun, out.caught, out.first, out.named)
		tell(o, res)
	}
	return nil
}

// kindsTable makes the mistakes that a kind of setup alone has.
func kindsTable(ctx context.Context, o options) (*table, error) {
	tries, err := o.ownTries()
	if err != nil {
		return nil, err
	}
	if o.at == "" {
		o.at = fold.FirstUse.String()
	}
	if o.verbose {
		return &table{}, o.tellKinds(tries)
	}
	got := make([]outcome, len(tries)*o.n)
	if err := each(ctx, o, "kinds", len(got), func(i int) (err error) {
		got[i], _, err = o.one(tries[i/o.n], o.seed+uint64(i%o.n))
		return err
	}); err != nil {
		return nil, err
	}
	t := &table{Title: "mistakes that one kind of setup alone has, at level " + o.at + " where it has levels: per cent of those made that " +
		"are stopped or named", Head: []string{"kind", "mistake", "size", "", "made", "caught %", "named %", "by", "at"}, Cases: len(got)}
	for k, tr := range tries {
		h := newHaul()
		for i, r := range got[k*o.n : (k+1)*o.n] {
			h.add(r)
			if r.begun && !r.caught {
				t.Failures = append(t.Failures, fault{o.seed + uint64(i), fmt.Sprintf("%s %s %g", tr.kind, tr.m.Name, tr.size), "not caught"})
			}
		}
		t.row(tr.kind, tr.m.Name, tr.size, tr.m.Unit, h.made, per(h.caught, h.made), per(h.named, h.caught), h.by(), most(h.at))
		if tr.size >= tr.m.Size && h.made > 0 && per(h.caught, h.made) < 90 {
			t.miss("%s, %s of %g: %.0f %% caught, mark 90", tr.kind, tr.m.Name, tr.size, per(h.caught, h.made))
		}
	}
	return t, nil
}
