package main

import (
	"context"
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// most is how far the curves go, in allowances, and step how fine.
const (
	curveEnd  = 3.0
	curveStep = 0.1
	binWide   = 0.25
)

// verdicts are those at one mismatch, as shares of 1.
type verdicts struct {
	at               float64 // true mismatch, in allowances
	pass, fail, open float64
	n                int
}

// seen is what a walk came to at its release: the value that is judged and its guard, and what is true, mm.
type seen struct{ value, guard, truth float64 }

// decided are the shares of verdicts over the true mismatch: each walk is judged against the allowance of which its own true
// mismatch is so many times.
func decided(all []seen) (out []verdicts) {
	for i := range int(math.Round(curveEnd/curveStep)) + 1 {
		s := verdicts{at: float64(i) * curveStep, n: len(all)}
		for _, v := range all {
			limit := math.Inf(1)
			if i > 0 {
				limit = v.truth / s.at
			}
			switch budget.Decide(v.value, v.guard, budget.AtMost, limit) {
			case budget.Pass:
				s.pass++
			case budget.Fail:
				s.fail++
			default:
				s.open++
			}
		}
		n := float64(max(len(all), 1))
		s.pass, s.fail, s.open = s.pass/n, s.fail/n, s.open/n
		out = append(out, s)
	}
	return out
}

// moved is a walk in which the part or its fixture moved by some size: what is true, in allowances, where it was first
// stopped or released, and with which verdict.
type moved struct {
	at      float64
	verdict fold.Verdict
	stood   bool // it had happened, and was not put right
}

// movements are what is made, by turns: each shifts side 2 against side 1.
var movements = []string{"shift-at-swap", "bumped-part", "fixture-turned"}

// move walks one of them, its size anywhere from none to more than the curves show.
func (o options) move(s setting, seed uint64) (out moved, err error) {
	p, back, err := s.lend(seed)
	if err != nil {
		return out, err
	}
	defer back()
	e, err := o.effects(p)
	if err != nil {
		return out, err
	}
	w := bench.NewWorld(p, seed, e)
	name, t := movements[seed%uint64(len(movements))], float64(p.Job.Allowance)
	size := 1.1 * curveEnd * t * float64(seed*2654435761%1000+1) / 1000 // even, and the same for each level
	if name == "fixture-turned" {
		size *= 1e3 / 110 // mrad over the part's length
	}
	if err := w.Make(name, size); err != nil {
		return out, err
	}
	k := bench.NewWalk(p, w, nil)
	mismatch := func() float64 { return w.Cut().Register / t }
	stop := func(st *fold.State) bool {
		m := w.Made()[0]
		if !m.Begun || !st.Cursor.Decide {
			return false
		}
		ss, _ := st.Step(st.Cursor.Step)
		for _, c := range ss.Outcome.Checks {
			if !c.Verdict.OK() && (out.verdict == 0 || c.Verdict == fold.Fail) {
				out.verdict = c.Verdict
			}
		}
		out.at, out.stood = mismatch(), out.verdict != 0
		return out.stood
	}
	if _, err := k.Until(stop); err != nil {
		return out, fmt.Errorf("seed %d, %s of %g: %w", seed, name, size, err)
	}
	if m := w.Made()[0]; !out.stood && m.Begun && !m.Over && k.State().Released {
		return moved{mismatch(), fold.Pass, true}, nil
	}
	return out, nil
}

// binned are the shares of verdicts of those walks over the true mismatch.
func binned(all []moved) (out []verdicts) {
	for at := 0.0; at < curveEnd; at += binWide {
		s := verdicts{at: at + binWide/2}
		for _, m := range all {
			if !m.stood || m.at < at || m.at >= at+binWide {
				continue
			}
			s.n++
			switch m.verdict {
			case fold.Pass:
				s.pass++
			case fold.Fail:
				s.fail++
			default:
				s.open++
			}
		}
		n := float64(max(s.n, 1))
		s.pass, s.fail, s.open = s.pass/n, s.fail/n, s.open/n
		out = append(out, s)
	}
	return out
}

// curve are the two of one level.
type curve struct {
	level          string
	decision, walk []verdicts
}

// curves draws how the verdicts go over the true mismatch, by level.
func curves(ctx context.Context, o options) (*table, error) {
	at := o.settings([]string{"T", "S"})
	if o.verbose {
		return &table{}, o.tellCurves(at[0])
	}
	all, moves := make([]*seen, len(at)*o.n), make([]moved, len(at)*o.n)
	err := each(ctx, o, "curves", 2*len(all), func(i int) (err error) {
		if i >= len(all) {
			i -= len(all)
			moves[i], err = o.move(at[i/o.n], o.seed+uint64(i%o.n))
			return err
		}
		all[i], err = o.look(at[i/o.n], o.seed+uint64(i%o.n))
		return err
	})
	if err != nil {
		return nil, err
	}
	t := &table{Title: "verdicts over the true mismatch, in allowances: PASS / NOT PROVEN / FAIL in per cent", Cases: 2 * len(all),
		Head: []string{"true mismatch"}}
	var cs []curve
	for _, l := range levels() {
		var ss []seen
		var ms []moved
		for k, s := range at {
			if s.level == l {
				for i := range o.n {
					if v := all[k*o.n+i]; v != nil {
						ss = append(ss, *v)
					}
				}
				ms = append(ms, moves[k*o.n:(k+1)*o.n]...)
			}
		}
		if len(ms) > 0 {
			cs = append(cs, curve{l.String(), decided(ss), binned(ms)})
		}
	}
	t.curves(cs)
	t.Drawing = drawCurves(cs)
	if o.out != "" {
		if err := o.write("curves.svg", []byte(svgCurves(cs))); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// look is what a walk with nothing wrong came to; nil where it did not come to its release.
func (o options) look(s setting, seed uint64) (*seen, error) {
	res, err := o.walk(s, seed, nil)
	if err != nil {
		return nil, err
	}
	if res.State != "released" && *res.HeldAt != "release" {
		return nil, nil
	}
	_, _, v, g := kit.WorstFeature(steps.Register(res.Walk.State()))
	return &seen{v, g, res.Walk.World.Cut().Register}, nil
}

// curves puts them into the table, and says what is wrong at the limit.
func (t *table) curves(cs []curve) {
	for _, c := range cs {
		t.Head = append(t.Head, c.level)
	}
	for _, c := range cs {
		t.Head = append(t.Head, "moved, "+c.level)
	}
	for i := range cs[0].decision {
		row := []any{fmt.Sprintf("%.1f", cs[0].decision[i].at)}
		for _, c := range cs {
			row = append(row, c.decision[i].String())
		}
		for _, c := range cs {
			cell := ""
			for _, w := range c.walk {
				if math.Abs(w.at-cs[0].decision[i].at-curveStep/4) < curveStep/2 && w.n > 0 {
					cell = fmt.Sprintf("%s of %d", w, w.n)
				}
			}
			row = append(row, cell)
		}
		t.row(row...)
		if at := cs[0].decision[i].at; math.Abs(at-1) < 1e-9 {
			for _, c := range cs {
				if c.decision[i].pass > 0.05 {
					t.miss("level %s: at the limit %.1f %% PASS, mark 5", c.level, 100*c.decision[i].pass)
				}
			}
		}
	}
	t.Notes = append(t.Notes, "each walk with nothing wrong is judged against the allowance of which its own true mismatch is so many "+
		"times: what is off is then mostly what nobody read, and above 1 a PASS is false, below 1 a FAIL",
		"moved: the part or its fixture moved on purpose, by a size anywhere up to 3.3 allowances; the verdict where the walk is first "+
			"stopped, or released; a stop below 1 is a limit of that step, set to a fifth of the allowance")
}

func (s verdicts) String() string {
	return fmt.Sprintf("%3.0f %3.0f %3.0f", 100*s.pass, 100*s.open, 100*s.fail)
}

// drawCurves draws the decisions for a terminal: a line a mismatch, # PASS, . NOT PROVEN, x FAIL.
func drawCurves(cs []curve) string {
	const wide = 24
	var b strings.Builder
	fmt.Fprintf(&b, "  %-9s", "mismatch")
	for _, c := range cs {
		fmt.Fprintf(&b, "  %-*s", wide, c.level)
	}
	b.WriteString("   # PASS  . NOT PROVEN  x FAIL\n")
	for i := 0; i < len(cs[0].decision); i += 2 {
		mark := " "
		if math.Abs(cs[0].decision[i].at-1) < 1e-9 {
			mark = ">"
		}
		fmt.Fprintf(&b, "  %s%5.1f T ", mark, cs[0].decision[i].at)
		for _, c := range cs {
			s := c.decision[i]
			p := int(math.Round(wide * s.pass))
			f := min(int(math.Round(wide*s.fail)), wide-p)
			b.WriteString("  " + strings.Repeat("#", p) + strings.Repeat(".", wide-p-f) + strings.Repeat("x", f))
		}
		b.WriteString("\n")
	}
	return b.String()
}

// tellCurves tells one case in full.
func (o options) tellCurves(s setting) error {
	v, err := o.look(s, o.seed)
	if err != nil {
		return err
	}
	m, err := o.move(s, o.seed)
	if err != nil {
		return err
	}
	if v != nil {
		fmt.Fprintf(o.stdout, "seed %d, plan %s, level %v: %.4f ± %.4f is judged, %.4f is true\n", o.seed, s.kind, s.level, v.value,
			v.guard, v.truth)
	}
	fmt.Fprintf(o.stdout, "%s: %v at a true mismatch of %.2f allowances\n", movements[o.seed%uint64(len(movements))], m.verdict, m.at)
	return nil
}
