package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/register"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Desk is what can be known of the register before anything is mounted: the best that
// these instruments can prove, everything found nominal.
type Desk struct {
	AsJob    []kit.FeatureError // held as the job says
	Floating []kit.FeatureError // with the part floating in its pocket
	Walls    []kit.FeatureError // against two walls
	Findings []string           // sentences, the weightiest first; empty when there is nothing to say

	Checks   []fold.Check // register, hold-down, keep-out and reach as planned
	HoldDown []fold.Row   // the deepest cut that holds beside the planned one, and how to set the screws
	Sources  []string     // what these numbers rest on
}

// Verdict is whether the job can be done as planned, and be proven: PASS only where all of it is.
func (d *Desk) Verdict() fold.Verdict { return fold.Worst(d.Checks) }

// judged adds checks, and what those say that do not pass.
func (d *Desk) judged(cs ...fold.Check) {
	for _, c := range cs {
		d.Checks = append(d.Checks, c)
		if c.Verdict.OK() {
			continue
		}
		words := c.Words
		if words == "" {
			words = fold.Capital(c.Limit.Why) + "."
		}
		d.Findings = append(d.Findings, words)
	}
}

// AtDesk judges the plan with nominal readings: an offset without error whose covariance
// is that of the hits and the dial run that the cards allow, and a shift test that found
// nothing. Nothing measured can do better; what is measured may be worse. A kind of setup
// without an offset of this sort gives an empty Desk.
func AtDesk(p *fold.Plan) Desk {
	if p.Setup.Cut.Witness > 0 && p.Level() == fold.Full { // who leaves skin for a witness cut reads so much
		p = p.AtLevel(fold.Irreplaceable)
	}
	var d Desk
	if !p.Setup.Second() {
		if len(p.Setup.Cut.Regions) > 0 {
			deskKeepOut(p, &d)
			deskReach(p, &d)
		}
		d.judged(p.Foreseen()...)
		for i := range d.Checks {
			d.Checks[i].Limit.System = p.Job.Unit
		}
		return d
	}
	if len(p.Job.Fixture.Pocket.Outline) == 0 {
		return d
	}
	foreseen := p.Foreseen()
	deskRegister(p, &d, fold.Worst(foreseen).OK())
	m := &p.Job.Machine
	if m.Tram == nil {
		d.Findings = append(d.Findings, "The spindle's tram is not on the machine card: lean and kink of walls are not in these numbers.")
	}
	if !m.SquareMeasured {
		d.Findings = append(d.Findings, "The machine's squareness is not on its card: it counts as 0 until it is measured.")
	}
	if m.Probe == nil && p.Setup.Finds == "probe" {
		d.Findings = append(d.Findings, "The job finds with a probe and the machine card has none.")
	}
	deskHold(p, &d)
	deskStraps(p, &d)
	deskKeepOut(p, &d)
	deskReach(p, &d)
	d.judged(foreseen...)
	for i := range d.Checks {
		d.Checks[i].Limit.System = p.Job.Unit
	}
	return d
}

// deskRegister is the register at its best as the job holds the part, floating and against two walls. rest says that
// nothing else that the walk judges stands in the way of proving it.
func deskRegister(p *fold.Plan, d *Desk, rest bool) {
	d.AsJob = best(p)
	floating, walls := *p.Setup, *p.Setup
	floating.Floating, floating.Against = true, nil
	walls.Floating = false
	if len(walls.Against) < 2 {
		walls.Against = []string{"left", "away"}
	}
	d.Floating = best(p.Otherwise(&floating))
	d.Walls = best(p.Otherwise(&walls))

	limit := p.Limit("release.register")
	limit.Why += ", at best"
	proves := func(fs []kit.FeatureError) fold.Check {
		_, _, v, g := kit.WorstFeature(fs)
		return judge.Of(limit, v, g)
	}
	cut, cutWords := bestCut(p)
	if c := proves(cut); len(cut) > 0 && !proves(d.AsJob).Verdict.OK() && c.Verdict.OK() && p.Setup.Cut.Witness > 0 {
		d.AsJob = cut
		d.Findings = append(d.Findings, fmt.Sprintf("%s can be proven by the witness cut alone, at irreplaceable. Growth after that cut is not "+
			"in it.", p.Len(limit.Max)))
	}
	held, other := proves(d.AsJob), proves(d.Walls).Verdict.OK()
	is := !p.OnLocator() && (p.Setup.Floating || len(p.Setup.Against) < 2)
	switch {
	case held.Verdict.OK():
		if rest && !is && !p.OnLocator() && !proves(d.Floating).Verdict.OK() {
			d.Findings = append(d.Findings, fmt.Sprintf("%s can be proven against two walls; with a floating part it could not.", p.Len(limit.Max)))
		}
	case is && other && rest:
		held.Words = fmt.Sprintf("%s cannot be proven with a floating part; against two walls it can.", p.Len(limit.Max))
	default:
		i, a, v, g := kit.WorstFeature(d.AsJob)
		f := d.AsJob[i]
		how := "against two walls"
		if p.OnLocator() {
			how = "on its " + kit.Locator(p) + "s"
		} else if is {
			how = "with a floating part"
		}
		held.Words = fmt.Sprintf("%s cannot be proven %s: %s along %s reaches %s at best. The largest line is %s with %.0f %% of the variance.",
			p.Len(limit.Max), how, f.Name, [2]string{"X", "Y"}[a], p.Len(v+g), f.Largest[a], 100*f.Share[a])
		if p.Setup.Cut.Witness == 0 && proves(cut).Verdict.OK() {
			held.Words += " " + cutWords
		}
	}
	if held.Got += held.Guard; len(d.AsJob) > 0 {
		held.Guard = 0 // shown as what it is known within
		d.judged(held)
	}
}

// bestCut is the register at its best with a witness cut in 0.3 of skin, or what the job leaves, and how to have one.
func bestCut(p *fold.Plan) (fs []kit.FeatureError, words string) {
	off := p.Setup.Cut.Witness
	if off == 0 {
		off = p.Sensible(0.3)
	}
	k, err := kit.NominalCut(p, off)
	if err != nil {
		return nil, ""
	}
	s := *p.Setup
	s.Cut.Witness = off
	q := p.AtLevel(fold.Irreplaceable).Otherwise(&s)
	return best(q, k), fmt.Sprintf("A witness cut would prove it, but for growth. It takes %s of skin, cut.witness in the job, level "+
		"irreplaceable.", p.Len(off))
}

// best is the register at every feature with nominal readings, and with what else is known.
func best(p *fold.Plan, also ...fold.Known) []kit.FeatureError {
	s, dof := judge.ProbeS(p)
	offset := kit.Nominal(p)
	still := register.NominalShift(s, p.Job.Part.Size[0], dof)
	shift := facts.ShiftFact{Dof: dof, Cov: fold.NewCov("dx,dy,rot", [][]float64{still.Cov[0][:], still.Cov[1][:], still.Cov[2][:]})}
	if p.Setup.HoldDown != "S" { // heights at both ends, as the motion
		over := func(length float64) unit.Length {
			return unit.Length(kit.Thickness(p) * math.Sqrt(register.NominalShift(s, length, dof).Cov[2][2]))
		}
		shift.UX, shift.UY = over(p.Job.Part.Size[0]), over(p.Job.Part.Size[1])
	}
	known := map[fold.FactID]fold.Known{"offset": offset, "shift": facts.Shift.Is(shift), "seat": kit.NominalSeat(p),
		"baseline": kit.NominalBaseline(p)}
	for _, f := range append(append(p.Given(), p.Nominal()...), also...) {
		known[f.ID] = f
	}
	return kit.RegisterOf(p, func(id fold.FactID) (fold.Known, bool) { f, ok := known[id]; return f, ok }, true)
}

// PaperStep is a step as it can be written down before anything is read.
type PaperStep struct {
	ID    fold.StepID
	Title string
	Pause *fold.Pause
	Asks  []fold.Ask // the pause point's first; what a step asks only after a reading is missing
	Page  fold.Page
}

// OnPaper is the line of the plan for a sheet of paper.
func OnPaper(p *fold.Plan) []PaperStep {
	var out []PaperStep
	for _, sp := range p.Line {
		v := p.Blank(sp)
		s := PaperStep{ID: sp.ID, Title: sp.Title, Pause: sp.Pause, Asks: sp.Wanted(v)}
		if sp.Page != nil {
			s.Page = sp.Page(v)
		}
		out = append(out, s)
	}
	return out
}
