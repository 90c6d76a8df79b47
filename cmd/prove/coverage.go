package main

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// covered is one cell of the table: what is walked, and which effects are on.
type covered struct {
	setting
	of   string                 // an effect that alone is on, "all", ...
	edit func(e *bench.Effects) // nil: all as they are
}

// alone leaves one effect on.
func alone(name string) func(*bench.Effects) {
	return func(e *bench.Effects) {
		was := sizeOf(*e, name)
		*e = bench.Effects{}
		if err := e.Set(name, was); err != nil {
			panic(err)
		}
	}
}

func sizeOf(e bench.Effects, name string) float64 {
	for _, f := range e.List() {
		if f.Name == name {
			return f.Size
		}
	}
	return 0
}

// cells are those of the table: each effect alone for T and S at the middle level, all together for each kind and level.
func (o options) cells() (out []covered, err error) {
	for _, s := range o.settings(sideTwos) {
		out = append(out, covered{s, "all", nil})
	}
	for _, kind := range []string{"T", "S"} {
		if o.at != "" && o.level() != fold.FirstUse {
			break
		}
		s := setting{kind, fold.FirstUse, ""}
		for _, as := range []string{"one bore", "floating"} {
			out = append(out, covered{setting{kind, fold.FirstUse, as}, "all, " + as, nil})
		}
		p, err := s.plan(0)
		if err != nil {
			return nil, err
		}
		e, err := o.effects(p)
		if err != nil {
			return nil, err
		}
		out = append(out, covered{s, "nothing", func(e *bench.Effects) { *e = bench.Effects{} }})
		for _, f := range e.List() {
			if f.Size != 0 {
				out = append(out, covered{s, f.Name, alone(f.Name)})
			}
		}
	}
	if o.only == "" {
		return out, nil
	}
	kept := slices.DeleteFunc(slices.Clone(out), func(c covered) bool { return c.of != o.only && c.kind != o.only })
	if len(kept) == 0 {
		return nil, fmt.Errorf("--only %q: give an effect, a kind of setup, or all; prove effects lists the effects", o.only)
	}
	return kept, nil
}

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

// covers walks o.n cases of each cell.
func (o options) covers(ctx context.Context, what string, cells []covered) ([]*cover, error) {
	turns := (o.n + atOnce - 1) / atOnce
	parts := make([]*cover, len(cells)*turns)
	err := each(ctx, o, what, len(parts), func(k int) error {
		c := newCover()
		for i := k % turns * atOnce; i < min(o.n, (k%turns+1)*atOnce) && ctx.Err() == nil; i++ {
			res, err := o.walk(cells[k/turns].setting, o.seed+uint64(i), cells[k/turns].edit)
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
	sums := make([]*cover, len(cells))
	for k := range sums {
		sums[k] = newCover()
		for _, p := range parts[k*turns : (k+1)*turns] {
			sums[k].merge(p)
		}
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

// coverage asks how often the stated interval holds the true error at each feature and on each axis of released walks.
func coverage(ctx context.Context, o options) (*table, error) {
	t := &table{Title: "how often the stated 95 % interval holds the true error at the release; effects of the wide world",
		Head: []string{"effects", "plan", "level", "walks", "released", "intervals", "held %", "U mm", "95 % of errors mm", "of U %", "why"}}
	cells, err := o.cells()
	if err != nil {
		return nil, err
	}
	if o.verbose {
		return &table{}, o.tellCoverage(cells[0])
	}
	sums, err := o.covers(ctx, "coverage", cells)
	if err != nil {
		return nil, err
	}
	t.Cases = len(cells) * o.n
	blame, err := o.blames(ctx, cells, sums)
	if err != nil {
		return nil, err
	}
	for k, c := range cells {
		s := sums[k]
		q, u := quantile(s.errs, 0.95), s.u/float64(max(s.n, 1))
		why, bad := o.why(c, s)
		if blame[k] != "" {
			why = blame[k]
		}
		t.row(c.of, c.kind, c.level.String(), s.walks, s.released, s.n, 100*s.tally.share(), u, q, 100*q/max(u, 1e-12), why)
		if bad != "" {
			t.miss("%s", bad)
		}
	}
	t.Notes = append(t.Notes, fmt.Sprintf("%d walks a cell: a share of 95 %% is known within ±%.1f", o.n, doubt(o.n)),
		"held: of all intervals of walks that came to the release, released or not, at each feature and on each axis",
		"of U: the error that 95 of 100 stay below, as a share of the mean U",
		"why, above 98: the assumed lines in force, in per cent of the variance; below 94: what would hold without an effect that is "+
			"not counted",
		"an effect alone is held by nearly every interval, since all the other lines stand in it: of U says how much of it the effect takes")
	return t, nil
}

// suspects are the effects that a budget may miss as a whole: no card speaks of them.
var suspects = []string{"FixtureDamp", "Lead", "Drift", "Bearing", "SeatTurn", "Squareness", "Growth"}

// blames says of each cell below 94 which effect it lacks: how much more would hold without it.
func (o options) blames(ctx context.Context, cells []covered, sums []*cover) (map[int]string, error) {
	var low []int
	var without []covered
	for k, c := range cells {
		if held := 100 * sums[k].tally.share(); c.edit == nil && sums[k].n > 0 && held < least {
			low = append(low, k)
			for _, n := range suspects {
				without = append(without, covered{c.setting, c.of, larger(n, 0)})
			}
		}
	}
	out := map[int]string{}
	if len(low) == 0 {
		return out, nil
	}
	got, err := o.covers(ctx, "why", without)
	if err != nil {
		return nil, err
	}
	for i, k := range low {
		var words []string
		for j, n := range suspects {
			was, is := 100*sums[k].tally.share(), 100*got[i*len(suspects)+j].tally.share()
			if is-was > 1.5 {
				words = append(words, fmt.Sprintf("%s %.1f", n, is))
			}
		}
		out[k] = "none of what is not counted alone"
		if len(words) > 0 {
			out[k] = "held without " + strings.Join(words, ", without ")
		}
	}
	return out, nil
}

// why explains a share outside 94 to 98, and says what is bad about it.
func (o options) why(c covered, s *cover) (words, bad string) {
	held := 100 * s.tally.share()
	switch {
	case s.n == 0:
		return "none came to the release", fmt.Sprintf("%s %s %v: no walk came to the release", c.of, c.kind, c.level)
	case c.of == "nothing":
		words, _ = s.ruling(false)
		return "in force: " + words, ""
	case held > 98 && c.edit != nil:
		by, err := ownerOf(c.of)
		if err != nil {
			return "", err.Error()
		}
		return by.String(), ""
	case held > 98:
		words, sum := s.ruling(true)
		if sum < 20 {
			all, _ := s.ruling(false)
			return all, fmt.Sprintf("%s %s %v: %.1f %% held, and assumed lines have only %.0f %% of the variance", c.of, c.kind, c.level, held, sum)
		}
		return fmt.Sprintf("assumed %.0f: %s", sum, words), bad
	case held < 94-doubt(s.stated):
		bad = fmt.Sprintf("%s %s %v: %.1f %% held, mark 94", c.of, c.kind, c.level, held)
		fallthrough
	case held < 94:
		if c.edit != nil {
			if by, err := ownerOf(c.of); err == nil {
				return by.String(), bad
			}
		}
		return "", bad
	}
	return "", ""
}

// tellCoverage tells one case in full.
func (o options) tellCoverage(c covered) error {
	res, err := o.walk(c.setting, o.seed, c.edit)
	if err != nil {
		return err
	}
	fmt.Fprintf(o.stdout, "seed %d: %s, plan %s, level %v: %s\n", o.seed, c.of, c.kind, c.level, res.State)
	tell(o, res)
	tellRegister(o, res)
	return nil
}
