package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
)

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
	res, err := bench.Auto(d.plan.AtLevel(o.level()).Without(o.without...), bench.Options{Seed: seed, Effects: &d.effects})
	if err != nil {
		return nil, nil, fmt.Errorf("seed %d: %w", seed, err)
	}
	w := &walked{strata: d.strata, released: res.State == "released"}
	if !w.released {
		w.held = string(*res.HeldAt)
	}
	w.intervals = intervalsOf(res)
	return w, res, nil
}

// holds counts over many walks how often intervals held.
type holds struct {
	by               map[string]*tally // of|axis: all, a feature or a stratum; x, y or both
	setups, gaveUp   map[string]int    // by stratum; by the step
	released, silent int
}

// add counts one walk; intervals off by more than twice are told.
func (h *holds) add(seed uint64, w *walked) (far []fault) {
	if w.released {
		h.released++
	} else {
		h.gaveUp[w.held]++
	}
	if len(w.intervals) == 0 {
		h.silent++
		return nil
	}
	for _, s := range w.strata {
		h.setups[s]++
	}
	for _, v := range w.intervals {
		axis := []string{"x", "y"}[v.axis]
		of := []string{"all|both", "all|" + axis, v.feature + "|" + axis}
		for _, s := range w.strata {
			of = append(of, s+"|both", s+"|"+axis)
		}
		for _, k := range of {
			if h.by[k] == nil {
				h.by[k] = &tally{}
			}
			h.by[k].add(v.err, v.u, v.rect && v.share > 0.5)
		}
		if math.Abs(v.err) > 2*v.u {
			far = append(far, fault{seed, v.feature + " " + axis, fmt.Sprintf("error %.4f, U %.4f", v.err, v.u)})
		}
	}
	return far
}

// put writes the rows over n walks, and what misses its mark where they are enough to say so.
func (h *holds) put(t *table, n int) {
	put := func(of, axis string, setups int, mark string, lo, hi float64) {
		a := h.by[of+"|"+axis]
		if a == nil || a.n == 0 {
			return
		}
		got := 100 * a.share()
		t.row(of, axis, setups, a.n, got, a.u/float64(a.n), a.err/float64(a.n), a.u/a.err, 100*float64(a.ruled)/float64(a.n), mark)
		if mark != "" && (got < lo || got > hi) && n >= 5000 {
			t.miss("%s %s: %.2f %%, mark %s", of, axis, got, mark)
		}
	}
	for _, ax := range []string{"both", "x", "y"} {
		put("all", ax, n-h.silent, "95 +- 1", 94, 96)
	}
	for _, f := range []string{"near corner", "inside", "far corner"} {
		for _, ax := range []string{"x", "y"} {
			put(f, ax, n-h.silent, "95 +- 1.5", 93.5, 96.5)
		}
	}
	for _, s := range strataNames {
		for _, ax := range []string{"both", "x", "y"} {
			mark, hi := "95 +- 1.5", 96.5
			if a := h.by[s+"|"+ax]; a != nil && 2*a.ruled > a.n {
				mark, hi = "95 to 98", 98
			}
			if ax != "both" {
				mark = ""
			}
			put(s, ax, h.setups[s], mark, 93.5, hi)
		}
	}
}

// where says at which steps walks were given up, and how many.
func (h *holds) where() string {
	var at []string
	for s, n := range h.gaveUp {
		at = append(at, fmt.Sprintf("%s %d", s, n))
	}
	slices.Sort(at)
	return strings.Join(at, ", ")
}

// strata walks random setups to their end and asks, at each feature and on each axis, whether
// the stated interval holds the true error.
func strata(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "how often the stated 95 % interval holds the true error, full walks of random setups", Cases: o.n,
		Head: []string{"of", "axis", "setups", "intervals", "held %", "mean U mm", "mean |error| mm", "U/|error|", "one rectangle rules %",
			"mark"}}
	if o.verbose {
		return &table{}, tellStrata(o)
	}
	all := make([]*walked, o.n)
	err := each(ctx, o, "strata", o.n, func(i int) (err error) {
		all[i], _, err = o.walkOne(o.seed + uint64(i))
		return err
	})
	if err != nil {
		return nil, err
	}
	h := holds{by: map[string]*tally{}, setups: map[string]int{}, gaveUp: map[string]int{}}
	for i, w := range all {
		t.Failures = append(t.Failures, h.add(o.seed+uint64(i), w)...)
	}
	h.put(t, o.n)
	t.Notes = append(t.Notes, fmt.Sprintf("%d of %d walks released; %d ended without an offset and count nowhere.", h.released, o.n, h.silent))
	if at := h.where(); at != "" {
		t.Notes = append(t.Notes, "given up at: "+at)
	}
	t.Notes = append(t.Notes, "a normal error has U/|error| 2.46, a rectangle alone 1.90")
	return t, nil
}

// tellStrata tells one case in full.
func tellStrata(o options) error {
	w, res, err := o.walkOne(o.seed)
	if err != nil {
		return err
	}
	fmt.Fprintf(o.stdout, "seed %d: %s, %s\n", o.seed, strings.Join(w.strata, ", "), res.State)
	tell(o, res)
	tellRegister(o, res)
	return nil
}

// tellRegister tells each interval with its lines beside the truth.
func tellRegister(o options, res *bench.Result) {
	for _, f := range steps.Register(res.Walk.State()) {
		e := res.TrueError[f.Name]
		for axis, v := range []float64{e.X, e.Y} {
			fmt.Fprintf(o.stdout, "%s %s: said %+.4f within %.4f, true %+.4f\n", f.Name, []string{"x", "y"}[axis], f.Error[axis], f.U[axis], v)
			for _, l := range f.Lines[axis] {
				fmt.Fprintf(o.stdout, "    %-24s u %.5f\n", l.Name, l.Std())
			}
		}
	}
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
