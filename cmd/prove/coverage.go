package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/kit"
)

// tally counts how often intervals held.
type tally struct {
	n, in, ruled int     // intervals, of which held; of which one rectangle has over half the variance
	u, err       float64 // sums of U and of |error|
}

func (t *tally) add(err, u float64, ruled bool) {
	t.n++
	if math.Abs(err) <= u {
		t.in++
	}
	if ruled {
		t.ruled++
	}
	t.u += u
	t.err += math.Abs(err)
}

func (t tally) share() float64 { return float64(t.in) / float64(max(t.n, 1)) }

// interval is one stated interval and the error it should hold.
type interval struct {
	feature string
	axis    int
	err, u  float64
	largest string
	share   float64
	rect    bool // the largest line is a rectangle
}

// walked is what one random setup gave.
type walked struct {
	strata    []string
	released  bool
	held      string
	intervals []interval
}

// walkOne walks one random setup to its end.
func (o options) walkOne(seed uint64) (*walked, *bench.Result, error) {
	d, err := draw(seed)
	if err != nil {
		return nil, nil, err
	}
	if err := o.switchEffects(&d.effects); err != nil {
		return nil, nil, err
	}
	res, err := bench.Auto(d.plan, bench.Options{Seed: seed, Effects: &d.effects})
	if err != nil {
		return nil, nil, fmt.Errorf("seed %d: %w", seed, err)
	}
	w := &walked{strata: d.strata, released: res.State == "released"}
	if !w.released {
		w.held = string(*res.HeldAt)
	}
	for _, f := range kit.Register(res.Walk.State()) {
		e := res.TrueError[f.Name]
		for axis, v := range []float64{e.X, e.Y} {
			i := interval{feature: f.Name, axis: axis, err: v - f.Error[axis], u: f.U[axis], largest: f.Largest[axis], share: f.Share[axis]}
			for _, l := range f.Lines[axis] {
				if l.Name == i.largest {
					i.rect = l.Shape == budget.Rectangular
				}
			}
			w.intervals = append(w.intervals, i)
		}
	}
	return w, res, nil
}

// coverage walks random setups to their end and asks, at each feature and on each axis, whether
// the stated interval holds the true error.
func coverage(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "how often the stated 95 % interval holds the true error, full walks of random setups", Cases: o.n,
		Head: []string{"of", "axis", "setups", "intervals", "held %", "mean U mm", "mean |error| mm", "U/|error|", "one rectangle rules %",
			"mark"}}
	if o.verbose {
		return t, tellCoverage(o)
	}
	all := make([]*walked, o.n)
	err := each(ctx, o, "coverage", o.n, func(i int) (err error) {
		all[i], _, err = o.walkOne(o.seed + uint64(i))
		return err
	})
	if err != nil {
		return nil, err
	}
	var total tally
	byAxis, byFeature, byStratum, setups := map[string]*tally{}, map[string]*tally{}, map[string]*tally{}, map[string]int{}
	released, silent := 0, 0
	held := map[string]int{}
	get := func(m map[string]*tally, k string) *tally {
		if m[k] == nil {
			m[k] = &tally{}
		}
		return m[k]
	}
	for i, w := range all {
		if w.released {
			released++
		} else {
			held[w.held]++
		}
		if len(w.intervals) == 0 {
			silent++
		}
		for _, s := range w.strata {
			if len(w.intervals) > 0 {
				setups[s]++
			}
		}
		for _, v := range w.intervals {
			ruled := v.rect && v.share > 0.5
			axis := []string{"x", "y"}[v.axis]
			total.add(v.err, v.u, ruled)
			get(byAxis, axis).add(v.err, v.u, ruled)
			get(byFeature, v.feature+"|"+axis).add(v.err, v.u, ruled)
			for _, s := range w.strata {
				get(byStratum, s+"|both").add(v.err, v.u, ruled)
				get(byStratum, s+"|"+axis).add(v.err, v.u, ruled)
			}
			if math.Abs(v.err) > 2*v.u {
				t.Failures = append(t.Failures, fault{o.seed + uint64(i), v.feature + " " + axis, fmt.Sprintf("error %.4f, U %.4f", v.err, v.u)})
			}
		}
	}
	put := func(of, axis string, n int, a *tally, mark string, lo, hi float64) {
		if a == nil || a.n == 0 {
			return
		}
		got := 100 * a.share()
		t.row(of, axis, n, a.n, got, a.u/float64(a.n), a.err/float64(a.n), a.u/a.err, 100*float64(a.ruled)/float64(a.n), mark)
		if mark != "" && (got < lo || got > hi) && o.n >= 5000 {
			t.miss("%s %s: %.2f %%, mark %s", of, axis, got, mark)
		}
	}
	seen := o.n - silent
	put("all", "both", seen, &total, "95 +- 1", 94, 96)
	put("all", "x", seen, byAxis["x"], "95 +- 1", 94, 96)
	put("all", "y", seen, byAxis["y"], "95 +- 1", 94, 96)
	for _, f := range []string{"near corner", "inside", "far corner"} {
		for _, ax := range []string{"x", "y"} {
			put(f, ax, seen, byFeature[f+"|"+ax], "95 +- 1.5", 93.5, 96.5)
		}
	}
	for _, s := range strataNames {
		for _, ax := range []string{"both", "x", "y"} {
			a := byStratum[s+"|"+ax]
			mark, lo, hi := "95 +- 1.5", 93.5, 96.5
			if a != nil && 2*a.ruled > a.n {
				mark, hi = "95 to 98", 98
			}
			if ax != "both" {
				mark = ""
			}
			put(s, ax, setups[s], a, mark, lo, hi)
		}
	}
	t.Notes = append(t.Notes, fmt.Sprintf("%d of %d walks released; %d ended without an offset and count nowhere.", released, o.n, silent))
	var at []string
	for s, n := range held {
		at = append(at, fmt.Sprintf("%s %d", s, n))
	}
	slices.Sort(at)
	if len(at) > 0 {
		t.Notes = append(t.Notes, "given up at: "+strings.Join(at, ", "))
	}
	t.Notes = append(t.Notes, "a normal error has U/|error| 2.46, a rectangle alone 1.90")
	return t, nil
}

// tellCoverage tells one case in full.
func tellCoverage(o options) error {
	w, res, err := o.walkOne(o.seed)
	if err != nil {
		return err
	}
	fmt.Fprintf(o.stdout, "seed %d: %s, %s\n", o.seed, strings.Join(w.strata, ", "), res.State)
	tell(o, res)
	for _, f := range kit.Register(res.Walk.State()) {
		e := res.TrueError[f.Name]
		for axis, v := range []float64{e.X, e.Y} {
			fmt.Fprintf(o.stdout, "%s %s: said %+.4f within %.4f, true %+.4f\n", f.Name, []string{"x", "y"}[axis], f.Error[axis], f.U[axis], v)
			for _, l := range f.Lines[axis] {
				fmt.Fprintf(o.stdout, "    %-24s u %.5f\n", l.Name, l.Std())
			}
		}
	}
	return nil
}

// tell tells a walk: its events, and what did not pass.
func tell(o options, res *bench.Result) {
	for _, e := range res.Walk.Events {
		if line, err := jobs.Encode(e); err == nil && len(e.Cards) == 0 {
			o.stdout.Write(line)
		}
	}
	for _, f := range res.Walk.Failed {
		fmt.Fprintf(o.stdout, "did not pass: %s %s %s, named %q, cut before: %v\n", f.Step, f.Limit, f.Verdict, f.Named, f.Cut)
	}
	if res.HeldAt != nil {
		fmt.Fprintf(o.stdout, "held at %s: %s\n", *res.HeldAt, res.Walk.Words)
	}
	fmt.Fprintf(o.stdout, "named %q, truth %+v\n", res.Named, res.Truth)
}
