package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// plunge is how deep the tip of a tool goes below the top of what stands beside it.
func plunge(p *fold.Plan, n int) float64 {
	top := 0.0 // a first side's Z0 is its top
	if p.Setup.Second() {
		top = SeatZ(p) + p.Job.Part.Size[2]
	}
	depth := 0.0
	for _, g := range p.Setup.Cut.Regions {
		if g.Tool == n || g.Tool == 0 && n == p.Setup.Cut.Tool {
			depth = math.Max(depth, top-g.Lowest)
		}
	}
	if n == p.Setup.Cut.Tool {
		depth = math.Max(depth, p.Setup.Cut.Ap)
	}
	return depth
}

// reachOf judges what of a cutter meets the wall, how much it bends, and its runout.
// Without its dimensions a note says what to give.
func reachOf(p *fold.Plan, n int) (cs []fold.Check, rows []fold.Row, notes []string) {
	t, ok := p.Job.Tools[n]
	c := p.Setup.Cut
	if n == 0 || !ok || t.Point > 0 {
		return
	}
	id := fmt.Sprintf("reach.%d", n)
	if t.Flute == 0 || t.Shank == 0 || t.Stickout == 0 {
		return nil, nil, []string{fmt.Sprintf("Reach of tool %d is not computed: give its flute, shank and stickout.", n)}
	}
	depth := plunge(p, n)
	pl := hold.Plunge{Ap: unit.Length(c.Ap), Depth: unit.Length(depth), Flute: unit.Length(t.Flute), Neck: unit.Length(t.NeckDia), Reach: unit.Length(t.Flute + t.Neck),
		Dia: unit.Length(t.Dia), Shank: unit.Length(t.Shank), Stickout: unit.Length(t.Stickout)}
	if n != c.Tool {
		pl.Ap = unit.Length(math.Min(depth, t.Flute))
	}
	if pl.Ap > 0 && depth > 0 {
		k := fold.Check{Limit: fold.Limit{ID: id, Why: fmt.Sprintf("tool %d reaches as deep as it cuts", n), Class: fold.Hard}, Count: true, Verdict: fold.Pass}
		faults, err := pl.Faults()
		if err != nil {
			faults = []string{err.Error()}
		}
		if k.Got = float64(len(faults)); len(faults) > 0 {
			k.Verdict = fold.Fail
			for _, f := range faults {
				k.Words += fmt.Sprintf("Tool %d: %s. ", n, f)
			}
		}
		cs = append(cs, k)
	}
	if n != c.Tool {
		return
	}
	ball, _ := bendOf(p, n, t, &cs, &rows, &notes)
	if t.Ball && ball > 0 {
		rows = append(rows, fold.Row{Label: fmt.Sprintf("tool %d cuts on a diameter of", n), Value: ball, Unit: unit.KLength})
	}
	return
}

// bendOf is the bending of the cut's tool under the force of its cut, at its adverse end.
func bendOf(p *fold.Plan, n int, t jobs.Tool, cs *[]fold.Check, rows *[]fold.Row, notes *[]string) (ball float64, err error) {
	c := p.Setup.Cut
	if t.Ball {
		if d, err := hold.BallDiameter(unit.Length(t.Dia), unit.Length(c.Ap)); err == nil {
			ball = float64(d)
		}
		if s, err := hold.Scallop(unit.Length(t.Dia), unit.Length(c.Ae)); err == nil {
			*rows = append(*rows, fold.Row{Label: "ridge left between passes", Value: float64(s), Unit: unit.KLength})
		}
	}
	if t.Runout > 0 && c.Fz > 0 {
		k := judge.Judged(fold.Limit{ID: fmt.Sprintf("runout.%d", n), Why: fmt.Sprintf("runout of tool %d, half its chip at most", n), Max: float64(hold.Runout(unit.Length(c.Fz))), Class: fold.Soft, Unit: unit.KLength}, t.Runout, 0)
		if !k.Verdict.OK() {
			k.Words = "One tooth does the work of two. Clean collet and taper, or feed more per tooth."
		}
		*cs = append(*cs, k)
	}
	st, err := hold.Reach{Dia: unit.Length(t.Dia), Flute: unit.Length(t.Flute), Shank: unit.Length(t.Shank), Free: unit.Length(math.Max(0, t.Stickout-t.Flute))}.Stiffness()
	if err != nil {
		return ball, err
	}
	h := holdCase(p, AsFound{})
	if h.Why != "" {
		*notes = append(*notes, fmt.Sprintf("Bending of tool %d: %.3g mm per 100 N; the force of the cut is not computed.", n, 100*st.Total))
		return ball, nil
	}
	cut := h.C.Holding.Cut
	cut.Kc11 = h.C.Kc11.High
	l, err := cut.Load()
	if err != nil {
		return ball, err
	}
	f := cut.Corner * float64(l.Fh)
	k := judge.Judged(fold.Limit{ID: fmt.Sprintf("break.%d", n), Why: fmt.Sprintf("tool %d bears the force of the cut", n), Max: float64(st.Break), Class: fold.Hard, Unit: unit.KForce}, f, 0)
	if !k.Verdict.OK() {
		k.Words = fmt.Sprintf("Flutes of %s are %.1f times their diameter: take the shortest that reaches, or a lighter cut.", p.Len(t.Flute), st.Slender)
	}
	*cs = append(*cs, k)
	*rows = append(*rows, fold.Row{Label: fmt.Sprintf("tool %d bends under this cut", n), Value: f * st.Total, Unit: unit.KLength})
	return ball, nil
}

// ReachAll judges every cutter of the setup: of the cut and of its regions.
func ReachAll(p *fold.Plan) (cs []fold.Check, rows []fold.Row, notes []string) {
	seen := map[int]bool{}
	tools := []int{p.Setup.Cut.Tool}
	for _, g := range p.Setup.Cut.Regions {
		tools = append(tools, g.Tool)
	}
	for _, n := range tools {
		if n == 0 || seen[n] {
			continue
		}
		seen[n] = true
		c, r, w := reachOf(p, n)
		cs, rows, notes = append(cs, c...), append(rows, r...), append(notes, w...)
	}
	return
}

// deskReach judges the reach at the desk.
func deskReach(p *fold.Plan, d *Desk) {
	cs, rows, notes := ReachAll(p)
	d.HoldDown = append(d.HoldDown, rows...)
	d.Findings = append(d.Findings, notes...)
	for _, c := range cs {
		d.Checks = append(d.Checks, c)
		if !c.Verdict.OK() {
			d.Fails = true
			words := c.Words
			if words == "" {
				words = fold.Capital(c.Limit.Why) + "."
			}
			d.Findings = append(d.Findings, words)
		}
	}
}
