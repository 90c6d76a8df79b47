package main

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"fliptrue/steps/bench"
)

// cover is what a cell came to.
type cover struct {
	tally
	walks, released int
	stated          int // came to the release
	errs            []float64
	share           map[string]float64 // of the variance, by line, summed
	assumed         map[string]bool
}

func (c *cover) add(res *bench.Result) {
	c.walks++
	if res.State == "released" {
		c.released++
	} else if *res.HeldAt != "release" {
		return
	}
	c.stated++
	for _, i := range intervalsOf(res) {
		c.tally.add(i.err, i.u, i.rect && i.share > 0.5)
		c.errs = append(c.errs, math.Abs(i.err))
		total := 0.0
		for _, l := range i.lines {
			total += l.Std() * l.Std()
		}
		for _, l := range i.lines {
			c.share[l.Name] += l.Std() * l.Std() / max(total, 1e-30)
			c.assumed[l.Name] = c.assumed[l.Name] || l.Assumed
		}
	}
}

// merge takes what another part of the same cell came to.
func (c *cover) merge(d *cover) {
	c.walks, c.released = c.walks+d.walks, c.released+d.released
	c.stated += d.stated
	c.n, c.in, c.ruled, c.u, c.err = c.n+d.n, c.in+d.in, c.ruled+d.ruled, c.u+d.u, c.err+d.err
	c.errs = append(c.errs, d.errs...)
	for n, v := range d.share {
		c.share[n] += v
		c.assumed[n] = c.assumed[n] || d.assumed[n]
	}
}

// atOnce is how many walks of a cell one worker does in a turn: sums are then the same however many workers there are.
const atOnce = 10

// stretch are the walks of a cell from one seed to before another, counted from the first.
type stretch struct {
	covered
	from, to int
}

// covers walks o.n cases of each cell.
func (o options) covers(ctx context.Context, what string, cells []covered) ([]*cover, error) {
	all := make([]stretch, len(cells))
	for k, c := range cells {
		all[k] = stretch{c, 0, o.n}
	}
	return o.coverAll(ctx, what, all)
}

// coverAll walks stretches; what their parts came to is summed in one order.
func (o options) coverAll(ctx context.Context, what string, all []stretch) ([]*cover, error) {
	type turn struct{ of, from, to int }
	var ts []turn
	for k, s := range all {
		for i := s.from; i < s.to; i += atOnce {
			ts = append(ts, turn{k, i, min(s.to, i+atOnce)})
		}
	}
	parts := make([]*cover, len(ts))
	err := each(ctx, o, what, len(ts), func(k int) error {
		c, t := newCover(), ts[k]
		for i := t.from; i < t.to && ctx.Err() == nil; i++ {
			res, err := o.walk(all[t.of].setting, o.seed+uint64(i), all[t.of].edit)
			if err != nil {
				return err
			}
			c.add(res)
		}
		parts[k] = c
		return nil
	})
	if err != nil {
		return nil, err
	}
	sums := make([]*cover, len(all))
	for k := range sums {
		sums[k] = newCover()
	}
	for k, p := range parts {
		sums[ts[k].of].merge(p)
	}
	return sums, nil
}

// firstLook is how many walks of one effect alone come first. Nearly every interval holds there: where the share lies
// above the mark by more than so few walks leave in doubt, more of them tell nothing.
const firstLook = 250

// coverCells walks all cells: o.n cases of each, those of one effect alone as many as it takes.
func (o options) coverCells(ctx context.Context, cells []covered) ([]*cover, error) {
	first := make([]stretch, len(cells))
	for k, c := range cells {
		first[k] = stretch{c, 0, o.n}
		if c.edit != nil {
			first[k].to = min(o.n, firstLook)
		}
	}
	sums, err := o.coverAll(ctx, "coverage", first)
	if err != nil {
		return nil, err
	}
	var more []stretch
	var of []int
	for k, s := range sums {
		if first[k].to < o.n && 100*s.tally.share() < least+doubt(s.stated) {
			more, of = append(more, stretch{cells[k], first[k].to, o.n}), append(of, k)
		}
	}
	rest, err := o.coverAll(ctx, "more of it", more)
	if err != nil {
		return nil, err
	}
	for i, s := range rest {
		sums[of[i]].merge(s)
	}
	return sums, nil
}

func newCover() *cover { return &cover{share: map[string]float64{}, assumed: map[string]bool{}} }

// ruling are the lines with the largest shares of the variance, in per cent; only those assumed where that is asked.
func (c *cover) ruling(assumed bool) (words string, sum float64) {
	names := slices.Collect(maps.Keys(c.share))
	slices.SortFunc(names, func(a, b string) int {
		if c.share[a] != c.share[b] {
			return int(math.Copysign(1, c.share[b]-c.share[a]))
		}
		return strings.Compare(a, b)
	})
	var out []string
	for _, n := range names {
		s := 100 * c.share[n] / float64(max(c.n, 1))
		if assumed && !c.assumed[n] {
			continue
		}
		if sum += s; s < 5 {
			continue
		}
		out = append(out, fmt.Sprintf("%s %.0f", n, s))
	}
	return strings.Join(out[:min(4, len(out))], ", "), sum
}
