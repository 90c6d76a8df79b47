package main

import (
	"context"
	"fmt"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// larger makes one effect so many times its size.
func larger(name string, times float64) func(*bench.Effects) {
	return func(e *bench.Effects) {
		if err := e.Set(name, times*sizeOf(*e, name)); err != nil {
			panic(err)
		}
	}
}

// sizesTable is the coverage as one effect grows while the others keep their size.
func sizesTable(ctx context.Context, o options) (*table, error) {
	s := setting{"T", fold.FirstUse, ""}
	if o.at != "" {
		s.level = o.level()
	}
	p, err := s.plan(0)
	if err != nil {
		return nil, err
	}
	e, err := o.effects(p)
	if err != nil {
		return nil, err
	}
	var effects []bench.Effect
	var cells []covered
	for _, f := range e.List() {
		if f.Size == 0 || o.only != "" && f.Name != o.only || f.Name == "Bearing" || f.Name == "DialSense" { // those are on or off
			continue
		}
		effects = append(effects, f)
		for _, k := range times {
			cells = append(cells, covered{s, f.Name, larger(f.Name, k)})
		}
	}
	if len(effects) == 0 {
		return nil, fmt.Errorf("--only %q: give an effect that is on; prove effects lists them", o.only)
	}
	if o.verbose {
		return &table{}, o.tellCoverage(cells[len(times)-1])
	}
	sums, err := o.covers(ctx, "sizes", cells)
	if err != nil {
		return nil, err
	}
	t := &table{Title: fmt.Sprintf("one effect grows, the others keep their size; plan T, level %v: per cent of the intervals that hold / "+
		"per cent of the walks released", s.level), Head: []string{"effect", "usual"}, Cases: len(cells) * o.n}
	for _, k := range times {
		t.Head = append(t.Head, fmt.Sprintf("x%g", k))
	}
	t.Head = append(t.Head, "below 94 from", "line of the budget, or why none")
	for i, f := range effects {
		row, from := []any{f.Name, f.Size}, ""
		for c, k := range times {
			g := sums[i*len(times)+c]
			row = append(row, fmt.Sprintf("%5.1f /%3.0f", 100*g.tally.share(), 100*float64(g.released)/float64(max(g.walks, 1))))
			if from == "" && k > 0 && g.stated > 0 && 100*g.tally.share() < least-doubt(g.stated) {
				from = fmt.Sprintf("%.3g", k*f.Size)
			}
		}
		by, err := ownerOf(f.Name)
		if err != nil {
			return nil, err
		}
		t.row(append(row, from, by.String())...)
	}
	t.Notes = []string{fmt.Sprintf("%d walks a cell; below: under %d %% by more than three standard deviations (%.1f %%)",
		o.n, least, doubt(o.n)),
		"a line of the budget is as large as job and cards say: an effect that grows beyond it falls out"}
	return t, nil
}
