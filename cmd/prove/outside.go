package main

import (
	"context"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"fliptrue/steps/prove/outside"
)

// foreign is one record of the second simulator as it was judged.
type foreign struct {
	kind     []string
	released bool
	ended    string
	held     []outside.Held // of a released record
	worst    float64        // largest true mismatch at release, mm
	height   float64        // largest |height error| at release, mm
	pass     float64        // the job's allowance
}

// foreigners walks n worlds from the seed and judges what the built program says of their records.
func foreigners(ctx context.Context, o options, what string, n int, sizes func(i int) outside.Sizes) ([]foreign, []*outside.Walked, error) {
	dir, done, err := o.workplace(ctx, "outside-")
	if err != nil {
		return nil, nil, err
	}
	defer done()
	out, walks := make([]foreign, n), make([]*outside.Walked, n)
	err = each(ctx, o, what, n, func(i int) error {
		k, err := outside.Walk(o.seed+uint64(i%o.n), "", sizes(i))
		if err != nil {
			return err
		}
		at := filepath.Join(dir, strconv.Itoa(i))
		if err := os.Mkdir(at, 0o777); err != nil {
			return err
		}
		defer os.RemoveAll(at)
		said, err := k.Ask(ctx, o.binary, at)
		if err != nil {
			return err
		}
		if (said.State == "released") != (k.Ended == "released") {
			return fmt.Errorf("seed %d: walked to %q, and replayed as %q", k.Seed, k.Ended, said.State)
		}
		out[i] = foreign{kind: k.Shop.Kind, released: said.State == "released", ended: k.Ended, pass: k.Shop.Wide}
		if out[i].released {
			if out[i].held, err = outside.Compare(said, k.Truths); err != nil {
				return fmt.Errorf("seed %d: %w", k.Seed, err)
			}
			for _, t := range k.Truths {
				out[i].worst = max(out[i].worst, math.Abs(t.X), math.Abs(t.Y))
				out[i].height = max(out[i].height, math.Abs(t.Height))
			}
		}
		if n == 1 {
			walks[i] = k
		}
		return nil
	})
	return out, walks, err
}

// sums are what a group of records gives.
type sums struct {
	n, released, intervals, in, harmed int
	worst, height                      float64
}

func (s *sums) add(f foreign) {
	s.n++
	if !f.released {
		return
	}
	s.released++
	for _, h := range f.held {
		s.intervals++
		if h.Inside {
			s.in++
		}
	}
	s.worst, s.height = max(s.worst, f.worst), max(s.height, f.height)
	if f.worst > f.pass {
		s.harmed++
	}
}

func (s sums) share() float64 { return 100 * float64(s.in) / float64(max(s.intervals, 1)) }

// least is the share of intervals, in per cent, that have to hold.
const least = 94

// grouped sums the records by what they are, a letter before the name for the order of kinds; and counts where the held ones ended.
func grouped(fs []foreign) (groups map[string]*sums, ends map[string]int) {
	groups, ends = map[string]*sums{}, map[string]int{}
	for _, f := range fs {
		names := append(append([]string{"all"}, f.kind...), f.kind[6]+", "+f.kind[4])
		for i, name := range names {
			key := string(rune('a'+i)) + name
			if groups[key] == nil {
				groups[key] = &sums{}
			}
			groups[key].add(f)
		}
		if !f.released {
			ends[f.ended]++
		}
	}
	return groups, ends
}

// faults are the harm that a record did, and its intervals that did not hold.
func (f foreign) faults(seed uint64) (out []fault) {
	if f.worst > f.pass {
		out = append(out, fault{seed, "harm", fmt.Sprintf("released with a true mismatch of %.3f", f.worst)})
	}
	for _, h := range f.held {
		if !h.Inside {
			what := fmt.Sprintf("%s %s: stated %+.4f ± %.4f, true %+.4f", h.Feature, h.Axis, h.Stated, h.U, h.True)
			out = append(out, fault{seed, "outside", what})
		}
	}
	return out
}

func outsideTable(ctx context.Context, o options) (*table, error) {
	if o.only != "" { // a kind of setup, or a mistake in one
		return outsideKinds(ctx, o)
	}
	sizes, err := o.sizes()
	if err != nil {
		return nil, err
	}
	fs, walks, err := foreigners(ctx, o, "outside", o.n, func(int) outside.Sizes { return sizes })
	if err != nil {
		return nil, err
	}
	if o.n == 1 && o.out != "" {
		if err := os.MkdirAll(o.out, 0o777); err != nil {
			return nil, err
		}
	}
	t := &table{Title: "how often the interval of replay --json holds the true mismatch, in a simulator that shares no code with the " +
		"product; " +
		"all effects at their usual size, released records count",
		Head:  []string{"records", "n", "released", "intervals", "hold %", "largest true mm", "over the allowance", "height error mm"},
		Cases: o.n}
	if o.n == 1 {
		o.tellForeign(walks[0], fs[0])
		if o.out != "" {
			return &table{}, walks[0].Write(o.out)
		}
		return &table{}, nil
	}
	groups, ends := grouped(fs)
	for i, f := range fs {
		t.Failures = append(t.Failures, f.faults(o.seed+uint64(i))...)
	}
	for _, key := range slices.Sorted(maps.Keys(groups)) {
		s, name := groups[key], key[1:]
		t.row(name, s.n, s.released, s.intervals, s.share(), s.worst, s.harmed, s.height)
		if s.share() < least-doubt(s.released) && s.released > 0 {
			t.miss("%s: %.1f %% of the intervals hold, %d ± %.1f were asked", name, s.share(), least, doubt(s.released))
		}
	}
	for _, e := range slices.Sorted(maps.Keys(ends)) {
		t.Notes = append(t.Notes, fmt.Sprintf("%d held at %s", ends[e], e))
	}
	t.Notes = append(t.Notes, "true: half way up the part, where the two sides meet; height: the cutter's tip over the finished face, of "+
		"which --json says nothing")
	return t, nil
}

// tellForeign tells one record in full.
func (o options) tellForeign(k *outside.Walked, f foreign) {
	fmt.Fprintf(o.stdout, "seed %d: %v, %d events, %s\n", k.Seed, k.Shop.Kind, len(k.Events), k.Ended)
	for _, e := range outside.All {
		fmt.Fprintf(o.stdout, "%-14s %s\n", e.Name, k.World.Drawn(e))
	}
	for _, h := range f.held {
		fmt.Fprintf(o.stdout, "%s %s: said %+.4f within %.4f, true %+.4f, holds: %v\n", h.Feature, h.Axis, h.Stated, h.U, h.True, h.Inside)
	}
	for _, x := range k.Truths {
		fmt.Fprintf(o.stdout, "%s: height error %+.4f mm\n", x.Name, x.Height)
	}
}

// sizes are the effects as --off and --just leave them.
func (o options) sizes() (outside.Sizes, error) {
	s, err := outside.Usual(), error(nil)
	if len(o.just) > 0 {
		was := s
		s = outside.Sizes{}
		for k := range was {
			s[k] = 0
		}
		for _, name := range o.just {
			if s, err = s.With(name, was[name]); err != nil {
				return nil, err
			}
		}
	}
	for _, name := range o.off {
		if s, err = s.With(name, 0); err != nil {
			return nil, err
		}
	}
	return s, o.eachSet(func(name string, size float64) (err error) {
		s, err = s.With(name, size)
		return err
	})
}

// times are the sizes that the second table tries, in usual ones.
var times = []float64{0, 2, 4, 8} // what comes at once is the first table's

// growing is the row of one effect, n records for each of its sizes.
func growing(e outside.Effect, fs []foreign, n int) []any {
	row := []any{e.Name, e.Step(), e.Unit}
	from, harmed := "", 0
	for c, k := range times {
		var s sums
		for _, f := range fs[c*n:][:n] {
			s.add(f)
		}
		row = append(row, fmt.Sprintf("%5.1f /%3.0f", s.share(), 100*float64(s.released)/float64(s.n)))
		if from == "" && k > 0 && s.released > 0 && s.share() < least-doubt(s.released) {
			from = fmt.Sprintf("%.3g", k*e.Step())
		}
		harmed += s.harmed
	}
	return append(row, from, harmed, e.Owner)
}

// outsideSizes is the coverage as one effect grows while the others keep their usual size.
func outsideSizes(ctx context.Context, o options) (*table, error) {
	base, err := o.sizes()
	if err != nil {
		return nil, err
	}
	effects := outside.All
	if o.only != "" {
		i := slices.IndexFunc(effects, func(e outside.Effect) bool { return e.Name == o.only })
		if i < 0 {
			_, err := base.With(o.only, 0)
			return nil, err
		}
		effects = effects[i : i+1]
	}
	var cells []outside.Sizes
	for _, e := range effects {
		for _, k := range times {
			s, err := base.With(e.Name, k*e.Step())
			if err != nil {
				return nil, err
			}
			cells = append(cells, s)
		}
	}
	o.n = max(o.n, 2)
	fs, _, err := foreigners(ctx, o, "sizes", o.n*len(cells), func(i int) outside.Sizes { return cells[i/o.n] })
	if err != nil {
		return nil, err
	}
	t := &table{Title: "one effect grows, the others keep their usual size: how many per cent of the intervals of released records hold, " +
		"and behind the stroke how many per cent were released",
		Head: []string{"effect", "usual", "unit"}, Cases: len(fs)}
	for _, k := range times {
		t.Head = append(t.Head, fmt.Sprintf("x%g", k))
	}
	t.Head = append(t.Head, "falls below from", "over the allowance", "owner in the budget")
	for i, e := range effects {
		t.row(growing(e, fs[i*len(times)*o.n:], o.n)...)
	}
	t.Notes = []string{fmt.Sprintf("%d records a cell; below: under %d %% by more than three standard deviations of so many records", o.n,
		least),
		"over the allowance: released with a true mismatch above it, in the whole row"}
	return t, nil
}
