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

// reach is what is known of the cutters' reach, bending and runout.
type reach struct {
	p      *fold.Plan
	w      AsFound
	checks []fold.Check
	rows   []fold.Row
	notes  []string
}

// ReachAll judges every cutter of the setup: of the cut and of its regions.
func ReachAll(p *fold.Plan, w AsFound) (cs []fold.Check, rows []fold.Row, notes []string) {
	r := reach{p: p, w: w}
	seen := map[int]bool{0: true}
	tools := []int{p.Setup.Cut.Tool}
	for _, g := range p.Setup.Cut.Regions {
		tools = append(tools, g.Tool)
	}
	for _, n := range tools {
		if t, ok := p.Job.Tools[n]; ok && !seen[n] && t.Point == 0 {
			seen[n] = true
			r.of(n, t)
		}
	}
	return r.checks, r.rows, r.notes
}

// of judges what of a cutter meets the wall; that of the planned cut also bends and runs out.
// Without its dimensions a note says what to give.
func (r *reach) of(n int, t jobs.Tool) {
	if t.Flute == 0 || t.Shank == 0 || t.Stickout == 0 {
		r.notes = append(r.notes, fmt.Sprintf("Reach of tool %d is not computed: give its flute, shank and stickout.", n))
		return
	}
	planned := r.p.Setup.Cut
	depth := plunge(r.p, n)
	pl := hold.Plunge{Ap: unit.Length(planned.Ap), Depth: unit.Length(depth), Flute: unit.Length(t.Flute), Neck: unit.Length(t.NeckDia),
		Reach: unit.Length(t.Flute + t.Neck),
		Dia:   unit.Length(t.Dia), Shank: unit.Length(t.Shank), Stickout: unit.Length(t.Stickout)}
	if n != planned.Tool {
		pl.Ap = unit.Length(math.Min(depth, t.Flute))
	}
	if pl.Ap > 0 && depth > 0 {
		faults, err := pl.Faults()
		if err != nil {
			faults = []string{err.Error()}
		}
		for i, f := range faults {
			faults[i] = fmt.Sprintf("Tool %d: %s.", n, f)
		}
		r.checks = append(
			r.checks, judge.Faults(fold.Limit{ID: fmt.Sprintf("reach.%d", n), Why: fmt.Sprintf("tool %d reaches as deep as it cuts", n),
				Class: fold.Hard}, faults))
	}
	if n != planned.Tool {
		return
	}
	if t.Ball {
		r.ridge(t)
	}
	if t.Runout > 0 && planned.Fz > 0 {
		r.runout(n, t)
	}
	r.bend(n, t)
	if d, err := hold.BallDiameter(unit.Length(t.Dia), unit.Length(planned.Ap)); t.Ball && err == nil && d > 0 {
		r.rows = append(r.rows, fold.Row{Label: fmt.Sprintf("tool %d cuts on a diameter of", n), Value: float64(d), Unit: unit.KLength})
	}
}

// ridge is what a ball leaves between passes.
func (r *reach) ridge(t jobs.Tool) {
	if s, err := hold.Scallop(unit.Length(t.Dia), unit.Length(r.p.Setup.Cut.Ae)); err == nil {
		r.rows = append(r.rows, fold.Row{Label: "ridge left between passes", Value: float64(s), Unit: unit.KLength})
	}
}

func (r *reach) runout(n int, t jobs.Tool) {
	k := judge.Most(fold.Limit{ID: fmt.Sprintf("runout.%d", n), Why: fmt.Sprintf("runout of tool %d, half its chip at most", n),
		Max: float64(hold.Runout(unit.Length(r.p.Setup.Cut.Fz))), Class: fold.Soft, Unit: unit.KLength}, t.Runout, 0)
	if !k.Verdict.OK() {
		k.Words = "One tooth does the work of two. Clean collet and taper, or feed more per tooth."
	}
	r.checks = append(r.checks, k)
}

// beam is how a cutter bends: mm for each newton at its tip, the force that breaks it, and where.
type beam struct {
	perN  float64
	most  unit.Force
	where string
}

// beamOf is a cutter as a beam of its steps. Records of the first two walks knew no neck, and no stress but at the flutes.
func (r *reach) beamOf(t jobs.Tool) (beam, error) {
	if r.w.Earlier {
		s, err := hold.Reach{Dia: unit.Length(t.Dia), Flute: unit.Length(t.Flute), Shank: unit.Length(t.Shank),
			Free: unit.Length(math.Max(0, t.Stickout-t.Flute))}.Stiffness()
		return beam{s.Total, s.Break, ""}, err
	}
	b, err := hold.Cutter{Dia: unit.Length(t.Dia), Flute: unit.Length(t.Flute), NeckDia: unit.Length(t.NeckDia), Neck: unit.Length(t.Neck),
		Shank: unit.Length(t.Shank), Stickout: unit.Length(t.Stickout)}.Bending()
	if err != nil {
		return beam{}, err
	}
	return beam{b.Total, b.Break, " " + b.Where()}, nil
}

// bend is the bending of the cut's tool under the force of its cut, at its adverse end.
func (r *reach) bend(n int, t jobs.Tool) {
	l := fold.Limit{ID: fmt.Sprintf("break.%d", n), Why: fmt.Sprintf("tool %d bears the force of the cut", n), Class: fold.Hard,
		Unit: unit.KForce}
	b, err := r.beamOf(t)
	switch {
	case err != nil && !r.w.Earlier:
		r.checks = append(r.checks, judge.Unknown(l, fmt.Sprintf("Tool %d is not computed: %v.", n, err)))
		return
	case err != nil:
		return
	}
	h := holdCase(r.p, AsFound{})
	cut := h.C.Holding.Cut
	cut.Kc11 = h.C.Kc11.High
	if r.p.Holds() != nil { // no screws to be reckoned with
		cut, h.Why = Heaviest(r.p)
	}
	if h.Why != "" {
		r.notes = append(r.notes, fmt.Sprintf("Bending of tool %d: %.3g mm per 100 N; the force of the cut is not computed.", n, 100*b.perN))
		return
	}
	load, err := cut.Load()
	if err != nil {
		return
	}
	f := cut.Corner * float64(load.Fh)
	l.Max = float64(b.most)
	k := judge.Most(l, f, 0)
	if !k.Verdict.OK() {
		k.Words = fmt.Sprintf("Tool %d breaks%s from %s on. The cut presses with %s. Take the shortest that reaches, or a lighter cut.", n,
			b.where, newtons(r.p, l.Max), newtons(r.p, f))
	}
	r.checks = append(r.checks, k)
	r.rows = append(r.rows, fold.Row{Label: fmt.Sprintf("tool %d bends under this cut", n), Value: f * b.perN, Unit: unit.KLength})
}

// deskReach judges the reach at the desk.
func deskReach(p *fold.Plan, d *Desk) {
	cs, rows, notes := ReachAll(p, AsFound{})
	d.HoldDown = append(d.HoldDown, rows...)
	d.Findings = append(d.Findings, notes...)
	d.judged(cs...)
}
