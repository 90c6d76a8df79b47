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

// shopTurns is after how many seeds the same job comes again.
const shopTurns = 18

// shopJob is the built-in job in the plan that a seed gives, at the level that was asked for.
func (o options) shopJob(seed uint64) (*fold.Plan, map[string]string, error) {
	j, programs, err := builtinJob([]string{"T", "M", "S"}[seed%3])
	if err != nil {
		return nil, nil, err
	}
	s := &j.Setups[0]
	if seed/3%2 == 1 {
		j.Machine.Rotation = "G68"
	}
	s.Hits = []int{6, 8, 5}[seed/6%3]
	cards := jobs.Flatten(j)
	p, err := steps.NewPlan(j, s.Name, programs)
	if err != nil {
		return nil, nil, err
	}
	return p.AtLevel(o.level()).Without(o.without...), cards, nil
}

// stumble is what one failure is known by.
func stumble(f bench.Failure) string { return string(f.Step) + " " + f.Limit + " " + f.Named }

// outcome is what one walk with one mistake came to.
type outcome struct {
	begun, caught, named, asked bool
	claimed                     bool   // a reading of the plan at its level is said to find it
	plan                        string // hold-down
	first                       string // where it was first stumbled over
	harm                        harm   // of a released walk
}

// usual is what the setup of a seed, its fixture of that material or "" for the job's own, stumbles over without
// any mistake: that is no catch.
func (o options) usual(seed uint64, on string) (map[string]bool, *bench.Result, error) {
	p, e, back, err := o.shop(seed, on)
	if err != nil {
		return nil, nil, err
	}
	defer back()
	res, err := bench.Auto(p, bench.Options{Seed: seed, Effects: &e})
	if err != nil {
		return nil, nil, fmt.Errorf("seed %d: %w", seed, err)
	}
	out := map[string]bool{}
	for _, f := range res.Walk.Failed {
		out[stumble(f)] = true
	}
	return out, res, nil
}

// shop is the setup of a seed with the effects in force, its fixture of that material or "" for the job's own; back gives
// the plan back.
func (o options) shop(seed uint64, on string) (p *fold.Plan, e bench.Effects, back func(), err error) {
	p, back, err = lend(fmt.Sprint("shop ", o.at, o.without, on, seed%shopTurns), func() (*fold.Plan, error) {
		p, _, err := o.shopJob(seed)
		if err == nil && on != "" {
			p.Job.Fixture.Material = on
		}
		return p, err
	})
	if err == nil {
		e, err = o.effects(p)
	}
	return p, e, back, err
}

// attempt walks one setup with a mistake; usual is what it stumbles over without, on the job's own fixture.
func (o options) attempt(t trial, size float64, seed uint64, usual map[string]bool) (outcome, *bench.Result, error) {
	var out outcome
	p, e, back, err := o.shop(seed, t.on)
	if err != nil {
		return out, nil, err
	}
	defer back()
	if t.on != "" {
		if usual, _, err = o.usual(seed, t.on); err != nil {
			return out, nil, err
		}
	}
	res, err := bench.Auto(p, bench.Options{Seed: seed, Effects: &e, Mistake: t.name, Size: size})
	if err != nil {
		return out, nil, fmt.Errorf("seed %d, %s of %g: %w", seed, t.name, size, err)
	}
	from, said := p.Claims()[t.name]
	out.claimed, out.plan = said && size >= from, p.Setup.HoldDown
	made := res.Walk.World.Made()[0]
	out.stumbles(t, res, made, usual)
	if res.HeldAt != nil && !out.caught && (made.Late || t.cut || !res.Walk.World.Chips()) {
		out.caught, out.first = true, string(*res.HeldAt)
		out.named = t.says != "" && strings.Contains(res.Walk.Words, t.says)
	}
	out.begun = made.Begun && (out.caught || !made.Over) // what the work itself undid was no mistake
	if res.State == "released" {
		out.harm = harmOf(t, made, res.Walk.World.Cut(), float64(p.Job.Allowance), float64(p.Job.Thickness))
	}
	return out, res, nil
}

// stumbles says where a walk stumbled over a mistake.
func (out *outcome) stumbles(t trial, res *bench.Result, made bench.Made, usual map[string]bool) {
	m := mistakeOf(t.name)
	for _, f := range res.Walk.Failed {
		if f.Cut && !made.Late && !t.cut {
			break // too late: the first chip was made with the mistake in it
		}
		right := f.Answer || m.NamedBy(f.Named) || slices.Contains(t.tells, f.Limit)
		if usual[stumble(f)] && !right || f.Verdict == fold.NotProven {
			continue
		}
		if !out.caught {
			out.first = string(f.Step)
		}
		out.caught, out.named, out.asked = true, out.named || right, out.asked || f.Answer
	}
	for _, ev := range res.Walk.Events {
		if ev.Mishap != "" && !out.caught && strings.HasSuffix(ev.Mishap, "/part-bumped") && t.name == "bumped-part" {
			out.caught, out.named, out.first = true, true, "declared when seen"
		}
	}
}

func mistakeOf(name string) bench.Mistake {
	for _, m := range append(bench.All(), bench.Wider()...) {
		if m.Name == name {
			return m
		}
	}
	panic("prove: no mistake " + name)
}

// tried is one mistake in one size.
type tried struct {
	t    trial
	i    int // of its sizes
	size float64
}

// tries are those asked for.
func (o options) tries() (out []tried, err error) {
	for _, tr := range trials {
		if o.only == "" || o.only == tr.name {
			for i, s := range tr.sizes {
				out = append(out, tried{tr, i, s})
			}
		}
	}
	if len(out) == 0 {
		err = fmt.Errorf("mistake %q is not known; known are: %s", o.only, strings.Join(trialNames(), " "))
	}
	return out, err
}

func trialNames() (out []string) {
	for _, t := range trials {
		if !slices.Contains(out, t.name) {
			out = append(out, t.name)
		}
	}
	return out
}

// atLevels are the options of each level that is walked.
func (o options) atLevels() (out []options) {
	for _, l := range levels() {
		if o.at == "" || o.level() == l {
			q := o
			q.at = l.String()
			if l == fold.Full {
				q.at = ""
			}
			out = append(out, q)
		}
	}
	return out
}

// catch makes every mistake in every size at every level: whether the walk stops or names it before the first cut that it
// would spoil, and whether the part that is then cut is good.
func catch(ctx context.Context, o options) (*table, error) {
	if o.verbose {
		return &table{}, o.tellCatch()
	}
	cells, err := o.tries()
	if err != nil {
		return nil, err
	}
	t := &table{Title: "mistakes made on purpose, built-in job in plans T, M and S: per cent caught before the cut they would spoil, of " +
		"those per cent named, and per cent of the parts cut that are harmed", Head: []string{"mistake", "size", "", "made"}}
	at := o.atLevels()
	got, sound, err := o.catches(ctx, at, cells)
	if err != nil {
		return nil, err
	}
	for _, q := range at {
		t.Head = append(t.Head, q.level().String())
	}
	t.Head = append(t.Head, "harmed as", "by", "at", "claimed")
	row := []any{"none", 0.0, "", o.n}
	for k := range at {
		row = append(row, fmt.Sprintf("%7.0f %3.0f", per(sound[k].caught, sound[k].made), per(sound[k].harmed, sound[k].made)))
	}
	t.row(append(row, most(sound[len(at)-1].as), "", "", "")...)
	for i, c := range cells {
		row := []any{c.t.label(), c.size, mistakeOf(c.t.name).Unit, got[0][i].made}
		all, each := newHaul(), make([]*haul, len(at))
		for k, q := range at {
			g := got[k][i]
			each[k] = g
			row = append(row, g.String())
			all.made, all.caught, all.asked = all.made+g.made, all.caught+g.caught, all.asked+g.asked
			maps.Copy(all.as, g.as)
			for s, n := range g.at {
				all.at[s] += n
			}
			marks(t, c, g, q.level())
		}
		t.row(append(row, most(all.as), all.by(), most(all.at), claims(at, each))...)
		t.Cases += len(at) * o.n
	}
	t.Notes = append(t.Notes, "caught: FAIL, a doubtful entry, a wrong answer or read-back, or a walk given up, that the same setup without "+
		"the mistake does not show; of none: walks held",
		"harmed: of the part as it is then cut: sides that do not meet within the allowance, thickness out by more than its own, "+
			"walls thin by runout, a thread or a screw that holds nothing, a clamp, head or cutter that meets what it must not",
		"asked: no reading shows it, a question does: it stands and falls with an honest answer; -: it is not made in that walk",
		"claimed: the levels, and plans where not all, whose walk is said to find it from that size on: what stands there is held to "+
			"95 % caught or 5 % harmed")
	t.Notes = append(t.Notes, noRow...)
	return t, o.risks(t, at, cells, got)
}

// noRow are mistakes of the trade that have no row here, each with where it stands.
var noRow = []string{
	"no row: an old G52 or G92 left live, asked here beside the rotation page: shift-live in prove kinds",
	"no row: a damp season and a spindle that is cold: FixtureDamp and SpindleGrowth in prove sizes",
	"no row: what one kind of setup alone has, and a part that let go in the cut: prove kinds",
}

// catches walks all: by level and cell, and by level what comes of no mistake.
func (o options) catches(ctx context.Context, at []options, cells []tried) (got [][]*haul, sound []*haul, err error) {
	n := o.n
	usual, free := make([]map[string]bool, len(at)*n), make([]outcome, len(at)*n)
	outs := make([]outcome, len(at)*len(cells)*n)
	all := len(usual) + len(outs)
	for _, part := range []struct {
		from, n int
		do      func(i int) error
	}{{0, len(usual), func(i int) error {
		q, seed := at[i/n], o.seed+uint64(i%n)
		u, res, err := q.usual(seed, "")
		if err == nil {
			usual[i], free[i] = u, outcome{begun: true, caught: res.State != "released"}
			if !free[i].caught {
				p := res.Walk.Plan()
				free[i].harm = harmOf(trial{}, bench.Made{}, res.Walk.World.Cut(), float64(p.Job.Allowance), float64(p.Job.Thickness))
			}
		}
		return err
	}}, {len(usual), len(outs), func(i int) (err error) {
		k, c := i/n/len(cells), cells[i/n%len(cells)]
		outs[i], _, err = at[k].attempt(c.t, c.size, o.seed+uint64(i%n), usual[k*n+i%n])
		return err
	}}} {
		if err := eachOf(ctx, o, "catch", part.from, part.n, all, part.do); err != nil {
			return nil, nil, err
		}
	}
	sum := func(outs []outcome) *haul {
		c := newHaul()
		for _, r := range outs {
			c.add(r)
		}
		return c
	}
	for k := range at {
		sound = append(sound, sum(free[k*n:(k+1)*n]))
		var row []*haul
		for i := range cells {
			from := (k*len(cells) + i) * n
			row = append(row, sum(outs[from:from+n]))
		}
		got = append(got, row)
	}
	return got, sound, nil
}

// marks holds a cell against what the walk's own table claims for its level, and against harm at the highest two.
func marks(t *table, c tried, g *haul, l fold.Level) {
	if g.made == 0 {
		return
	}
	if s := g.claimed; s.made > 0 && per(s.caught, s.made) < 95 && per(s.harmed, s.made) > 5 {
		t.miss("%s of %g at level %v: the walk claims it; %.0f %% caught, %.0f %% harmed of %d", c.t.label(), c.size, l,
			per(s.caught, s.made), per(s.harmed, s.made), s.made)
	}
	if (l == fold.Irreplaceable || l == fold.Full) && per(g.harmed, g.made) > 5 {
		t.miss("%s of %g at level %v: %.0f %% of the parts harmed, mark 5", c.t.label(), c.size, l, per(g.harmed, g.made))
	}
}

// risks says what the mistakes that slip by cost at each level, by how often they are made.
func (o options) risks(t *table, at []options, cells []tried, got [][]*haul) error {
	if o.only != "" {
		return nil
	}
	for k, q := range at {
		share, by := 0.0, map[string]float64{}
		for i, c := range cells {
			if g := got[k][i]; g.made > 0 {
				lost := c.t.odds().p * c.t.weights()[c.i] * g.loss / float64(o.n)
				share += lost
				by[c.t.name] += lost
			}
		}
		t.Notes = append(t.Notes, fmt.Sprintf("level %v lets through %.2f %% of the part's worth a setup: %.1f, %.1f and %.1f minutes "+
			"for a part worth 180, 600 and 3000; most of it: %s", q.level(), 100*share, 180*share, 600*share, 3000*share, shares(by, share)))
	}
	t.Notes = append(t.Notes, "how often each mistake is made is judgement and may be wrong by three; plans without straps count as they come")
	return nil
}

// tellCatch tells one case in full.
func (o options) tellCatch() error {
	for _, t := range trials {
		if t.name != o.only {
			continue
		}
		usual, _, err := o.usual(o.seed, "")
		if err != nil {
			return err
		}
		for _, s := range t.sizes {
			out, res, err := o.attempt(t, s, o.seed, usual)
			if err != nil {
				return err
			}
			fmt.Fprintf(o.stdout, "%s of %g, seed %d: made %v, caught %v at %q, named %v, harm %q\n", t.name, s, o.seed, out.begun, out.caught,
				out.first, out.named, out.harm.what)
			tell(o, res)
		}
		return nil
	}
	return fmt.Errorf("one case of catch wants --only and a mistake: %s", strings.Join(trialNames(), " "))
}
