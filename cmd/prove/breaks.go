package main

import (
	"context"
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/calc/worth"
	"fliptrue/steps/fold"
)

// breakAllowances are those of the table by which the tool chooses.
var breakAllowances = []float64{0.02, 0.05, 0.2}

// breaks says from which worth of the part on each level costs less than the one below it, beside the table by which the tool chooses.
func (o options) breaks(ctx context.Context, t *table, plans []string) error {
	n := len(plans) * len(breakAllowances)
	all := make([]*asking, n*len(places))
	err := each(ctx, o, "levels", len(all), func(i int) (err error) {
		k := i / len(places)
		all[i], err = o.earns(plans[k/len(breakAllowances)], places[i%len(places)], breakAllowances[k%len(breakAllowances)], true)
		return err
	})
	if err != nil {
		return err
	}
	for i := range n {
		at := all[i*len(places) : (i+1)*len(places)]
		words := fmt.Sprintf("plan %s, allowance %g:", at[0].holdDown, at[0].allowance)
		for k := range places[:len(places)-1] {
			from := crossing(at[k], at[k+1], k == 0)
			tool := toolsBreak(at[k].allowance, at[k].holdDown, places[k].level)
			words += fmt.Sprintf(" %v up to %s min (the tool: %.0f);", places[k].level, from, tool)
		}
		words += " totals of reading and risk"
		for _, w := range []float64{60, 180, 600, 3000} {
			words += fmt.Sprintf("; %.0f min:", w)
			for k, a := range at {
				if l, err := a.total(w, 1, k == 0); err == nil {
					words += fmt.Sprintf(" %.1f", l)
				} else {
					words += " not proven"
				}
			}
		}
		t.Notes = append(t.Notes, words)
	}
	return nil
}

// total is the loss of what a level asks today, minutes.
func (a *asking) total(worthOf, often float64, proven bool) (float64, error) {
	if a.u == 0 {
		return 0, fmt.Errorf("an allowance of %g is not proven", a.allowance)
	}
	m, in, err := a.model(offers([]*asking{a}, 0), worthOf, often, proven)
	if err != nil {
		return 0, err
	}
	return m.Loss(in).Total(), nil
}

// crossing is the worth from which on the second of two levels costs less, minutes, in words.
func crossing(a, b *asking, proven bool) string {
	gain := func(w float64) float64 {
		x, err1 := a.total(w, 1, proven)
		y, err2 := b.total(w, 1, proven)
		switch {
		case err1 != nil && err2 != nil:
			return math.NaN()
		case err1 != nil:
			return math.Inf(1)
		case err2 != nil:
			return math.Inf(-1)
		}
		return x - y
	}
	const least, most = 1, 1e5
	switch {
	case math.IsNaN(gain(least)):
		return "neither proves it, any"
	case gain(least) > 0:
		return "0"
	case gain(most) <= 0:
		return "any"
	}
	lo, hi := float64(least), float64(most)
	for hi/lo > 1.001 {
		if mid := math.Sqrt(lo * hi); gain(mid) > 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	return fmt.Sprintf("%.0f", hi)
}

// toolsBreak is the worth up to which the tool takes a level of a proven fixture.
func toolsBreak(allowance float64, holdDown string, l fold.Level) float64 {
	c := worth.Case{Allowance: unit.Length(allowance), GoodFixture: 3, GoodPrograms: 3, Scale: true, Strapped: holdDown == "T"}
	last := 0.0
	for w := 1.0; w < 20000; w++ {
		c.Worth = unit.Duration(w)
		if got, _, err := worth.Choose(c); err != nil || got > worth.Level(l) {
			break
		}
		last = w
	}
	return last
}
