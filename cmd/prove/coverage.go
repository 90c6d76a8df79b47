package main

import (
	"context"
	"fmt"
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
	sums, err := o.coverCells(ctx, cells)
	if err != nil {
		return nil, err
	}
	blame, err := o.blames(ctx, cells, sums)
	if err != nil {
		return nil, err
	}
	for k, c := range cells {
		s := sums[k]
		t.Cases += s.walks
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
		fmt.Sprintf("one effect alone: where the first %d hold %d + %.1f or more no others are walked; prove sizes says from which "+
			"size an effect breaks the intervals", firstLook, least, doubt(firstLook)),
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
