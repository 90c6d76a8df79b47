package main

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// facet is one thing that has a sign or a direction, with all its cases.
type facet struct {
	name  string
	cases []string
}

var facets = []facet{
	{"direction by", []string{"front edge", "rear edge", "left edge", "right edge", "two bores in X", "two bores in Y"}},
	{"tilt", []string{"clockwise", "counter-clockwise"}},
	{"needle", []string{"with", "against"}},
	{"flip", []string{"x", "y"}},
	{"unit", []string{"mm", "in"}},
	{"rotation", []string{"none", "G68"}},
	{"z0", []string{"floor", "finished top"}},
	{"found by", []string{"probe", "dial", "edge finder", "pin"}},
	{"delivers", []string{"type-in", "g92"}},
}

// combination counts through all of them: the last facet turns fastest.
func combination(i int) []string {
	out := make([]string, len(facets))
	for k := len(facets) - 1; k >= 0; k-- {
		c := facets[k].cases
		out[k] = c[i%len(c)]
		i /= len(c)
	}
	return out
}

func combinations() int {
	n := 1
	for _, f := range facets {
		n *= len(f.cases)
	}
	return n
}

// signPlan is the built-in job turned to a combination.
func signPlan(c []string) (*fold.Plan, error) {
	hold := "T"
	if c[7] != "probe" {
		hold = "S"
	}
	j, _, err := builtinJob(hold)
	if err != nil {
		return nil, err
	}
	s, m, made := &j.Setups[0], &j.Machine, &j.Fixture.AsMade
	switch side, _, edge := strings.Cut(c[0], " edge"); {
	case edge:
		made.Edge.Side, made.Edge.Length = side, 100
		made.Edge.From = map[string]jobs.Point{"front": {X: 0, Y: -15}, "rear": {X: 0, Y: 95}, "left": {X: -10, Y: -15}, "right": {X: 160, Y: -15}}[side]
	case c[0] == "two bores in X":
		made.Edge, s.Bore2 = nil, true
	default:
		made.Edge, s.Bore2, made.Bore2 = nil, true, &jobs.Bore2{At: jobs.Point{Y: 100}}
	}
	s.Flip, s.Z0, s.Finds = c[3], c[6], c[7]
	if c[4] == "in" {
		j.Unit, m.Readout, m.Dial.Graduation = unit.Imperial, 0.00005*25.4, 0.0001*25.4
	}
	m.Rotation, m.Delivers = c[5], c[8]
	if c[7] == "edge finder" {
		m.Finder = &jobs.EdgeFinder{Dia: 5, Repeat: 0.003}
	}
	j.Allowance *= 4 // coarse instruments prove less; what is asked here is the sign
	return steps.NewPlan(j, s.Name, nil)
}

// worldOf is the first world from a seed whose fixture is tilted and whose needle turns as wanted.
func (o options) worldOf(p *fold.Plan, c []string, seed uint64) (*bench.World, error) {
	e := bench.Usual(p)
	if err := o.switchEffects(&e); err != nil {
		return nil, err
	}
	for try := range uint64(1000) {
		w := bench.NewWorld(p, seed+try*7919, e)
		skew, needle := w.Truth().SkewDeg, w.Needle()
		if math.Abs(skew) > 0.02 && (skew > 0) == (c[1] == "counter-clockwise") && (needle > 0) == (c[2] == "with") {
			return w, nil
		}
	}
	return nil, fmt.Errorf("no world of seed %d is as wanted", seed)
}

// turned is what one combination came to.
type turned struct {
	taps, better int // advice to tap, and how often it helped
	made, found  bool
	walked       bool
	wrong        bool // the error at a feature, or Z, is beyond what can be
	what         string
}

// weigher holds the skew after a tap against that before it.
type weigher struct {
	w       *bench.World
	r       *turned
	advised float64 // skew when a tap was advised, NaN without one
}

// weigh counts the tap that was advised, where there was one.
func (x *weigher) weigh() {
	if math.IsNaN(x.advised) {
		return
	}
	x.r.taps++
	if now := math.Abs(x.w.Truth().SkewDeg); now < x.advised {
		x.r.better++
	} else if x.r.what == "" {
		x.r.what = fmt.Sprintf("tapped as advised the skew went from %.4f to %.4f deg", x.advised, now)
	}
	x.advised = math.NaN()
}

// watch weighs before the tightening after the last tap, which twists a little: at the first answer after the tap.
func (x *weigher) watch(st *fold.State) {
	x.weigh()
	ss, _ := st.Step(st.Cursor.Step)
	for _, a := range ss.Outcome.Next {
		if a.Do == "tap" {
			x.advised = math.Abs(x.w.Truth().SkewDeg)
		}
	}
}

// follow walks a combination; with a mistake the first tap goes the other way.
func (o options) follow(c []string, seed uint64, disobey bool) (turned, *bench.Result, error) {
	var r turned
	p, err := signPlan(c)
	if err != nil {
		return r, nil, err
	}
	w, err := o.worldOf(p, c, seed)
	if err != nil {
		return r, nil, err
	}
	if disobey {
		if err := w.Make("tapped-wrong-way", 1); err != nil {
			return r, nil, err
		}
	}
	k := bench.NewWalk(p, w, nil)
	x := weigher{w: w, r: &r, advised: math.NaN()}
	k.Watch = x.watch
	if _, err := k.Until(func(st *fold.State) bool { return false }); err != nil {
		return r, nil, fmt.Errorf("%s, seed %d: %w", strings.Join(c, ", "), seed, err)
	}
	x.weigh()
	res := k.Result("")
	r.walked = res.State == "released"
	if disobey {
		r.made = w.Made()[0].Begun
		for _, f := range k.Failed {
			r.found = r.found || f.Named == "tapped-wrong-way"
		}
		return r, res, nil
	}
	r.judge(res, c, p.Job.Part.Size[2])
	return r, res, nil
}

// judge says whether a feature or the Z offset is off by more than was said, of a part that thick.
func (r *turned) judge(res *bench.Result, c []string, thick float64) {
	for _, f := range res.Features {
		e := res.TrueError[f.Name]
		if d := math.Max(math.Abs(e.X-f.Error.X)-2*f.U.X, math.Abs(e.Y-f.Error.Y)-2*f.U.Y); d > 0 {
			r.wrong, r.what = true, fmt.Sprintf("at %s true %.3f %.3f, said %.3f %.3f within %.3f %.3f", f.Name, e.X, e.Y, f.Error.X, f.Error.Y,
				f.U.X, f.U.Y)
		}
	}
	if off := res.Offset; off != nil && c[8] == "type-in" {
		want := res.Truth.FloorZ
		if c[6] == "finished top" {
			want += thick
		}
		if math.Abs(off.Z-want) > 0.05 || math.Abs(res.Truth.Keyed.Z-want) > 0.05 {
			r.wrong, r.what = true, fmt.Sprintf("Z offset %.3f, the floor says %.3f", off.Z, want)
		}
	}
}

// signSum is what came of the walks of one facet.
type signSum struct{ walks, released, taps, better, made, found, wrong int }

func (s *signSum) add(r turned, disobeyed bool) {
	for _, c := range []struct {
		is bool
		n  *int
	}{{disobeyed && r.made, &s.made}, {disobeyed && r.made && r.found, &s.found},
		{!disobeyed, &s.walks}, {!disobeyed && r.walked, &s.released}, {!disobeyed && r.wrong, &s.wrong}} {
		if c.is {
			*c.n++
		}
	}
	if !disobeyed {
		s.taps += r.taps
		s.better += r.better
	}
}

func (s *signSum) put(t *table, a, b string) {
	t.row(a, b, s.walks, s.released, s.taps, s.better, s.made, s.found, s.wrong)
}

// signs walks every combination of what has a sign: advice must help each time, and a tap the
// other way must be found.
func signs(ctx context.Context, o options) (*table, error) {
	step := max(o.stride, 1)
	n := combinations() / step
	combination := func(i int) []string { return combination(i * step) }
	t := &table{Title: "every combination of what has a sign: does advice help, and is the opposite found", Cases: 2 * n * o.n,
		Head: []string{"", "", "walks", "released", "taps advised", "helped", "tapped the other way", "found", "wrong in sign"}}
	if o.only != "" {
		for i := range n {
			if c := combination(i); o.only == strings.Join(c, ",") {
				return t, o.tellSigns(c)
			}
		}
		return nil, fmt.Errorf("combination %q is not known; the first is %s", o.only, strings.Join(combination(0), ","))
	}
	got := make([]turned, 2*n*o.n)
	err := each(ctx, o, "signs", len(got), func(i int) (err error) {
		got[i], _, err = o.follow(combination(i/2%n), o.seed+uint64(i/2/n), i%2 == 1)
		return err
	})
	if err != nil {
		return nil, err
	}
	by := map[string]*signSum{}
	var total signSum
	for i, r := range got {
		c, disobeyed := combination(i/2%n), i%2 == 1
		total.add(r, disobeyed)
		for k, f := range facets {
			key := fmt.Sprintf("%d|%s|%s", k, f.name, c[k])
			if by[key] == nil {
				by[key] = &signSum{}
			}
			by[key].add(r, disobeyed)
		}
		seed := o.seed + uint64(i/2/n)
		switch {
		case !disobeyed && (r.wrong || r.better < r.taps):
			t.Failures = append(t.Failures, fault{seed, strings.Join(c, ","), r.what})
		case disobeyed && r.made && !r.found:
			t.Failures = append(t.Failures, fault{seed, strings.Join(c, ","), "tapped the other way and not found"})
		}
	}
	total.put(t, "all", "")
	for _, key := range slices.Sorted(maps.Keys(by)) {
		p := strings.Split(key, "|")
		by[key].put(t, p[1], p[2])
	}
	if total.better < total.taps || total.found < total.made || total.wrong > 0 {
		t.miss("%d of %d taps helped, %d of %d the other way found, %d wrong in sign", total.better, total.taps, total.found, total.made,
			total.wrong)
	}
	t.Notes = append(t.Notes, fmt.Sprintf("%d combinations, %d worlds each; --only with a combination's words, comma between, tells it", n,
		o.n),
		"wrong in sign: a feature off by more than twice its interval, or Z off by more than 0.05")
	return t, nil
}

// tellSigns walks one combination, both ways, and tells it.
func (o options) tellSigns(c []string) error {
	for _, disobey := range []bool{false, true} {
		r, res, err := o.follow(c, o.seed, disobey)
		if err != nil {
			return err
		}
		fmt.Fprintf(o.stdout, "%s, other way %v: %+v\n", o.only, disobey, r)
		tell(o, res)
	}
	return nil
}
