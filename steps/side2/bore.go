package side2

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// corrected applies exactly one probe correction to a raw centre (see frame.AsMade).
func corrected(p *fold.Plan, v fold.View, raw frame.Vec) (frame.Vec, string) {
	var e frame.Vec
	if ball, ok := facts.Ball.Perhaps(v); ok && slices.Contains(kit.Finder(p).Stands(), "ball") {
		e = frame.Vec{X: float64(ball.EX), Y: float64(ball.EY)}
	}
	b := p.Job.Fixture.AsMade.Bore
	const card = "for the machine's share of the error that the fixture's card names"
	at, _ := frame.AsMade{Bias: frame.Vec{X: b.Bias[0], Y: b.Bias[1]}, Eccentricity: frame.Vec{X: b.Eccentricity[0],
		Y: b.Eccentricity[1]}}.Centre(raw, false, e)
	if !slices.Contains(kit.Finder(p).Stands(), "ball") { // nothing of a probe is in it
		return at, card
	}
	return at, "for how the probe is off centre today and " + card
}

// readsSecond says that the second bore or pin is read: the job wants it, or nothing else gives the direction.
func readsSecond(p *fold.Plan) bool {
	a := &p.Job.Fixture.AsMade
	return a.Bore2 != nil && (p.Setup.Bore2 || a.Edge == nil || p.Level() != fold.Full) // four hits more measure its direction and its growth
}

// smallPin names a pin that measures smaller than made where the other has its size: the same ball read both, so it is
// not the stylus, and dirt makes no pin smaller. Since the fourth walk.
func smallPin(v fold.View, o *fold.Outcome, ts [2]kit.Target, dia [2]float64) bool {
	var sizes []*fold.Check
	for i := range o.Checks {
		if o.Checks[i].Limit.ID == "bore.size" {
			sizes = append(sizes, &o.Checks[i])
		}
	}
	if !v.Walks(4) || !ts[0].Outside() || o.Named != "" || len(sizes) != 2 {
		return false
	}
	for i, c := range sizes {
		if c.Verdict == fold.Pass || sizes[1-i].Verdict != fold.Pass || dia[i] > ts[i].Dia {
			continue
		}
		o.Named = "pin-small"
		c.Words += fmt.Sprintf(" The %s has its size by the same ball: this is another pin, or a worn one.", ts[1-i].Name)
		o.Next = []fold.Act{{Do: "change", Of: ts[i].Of, Words: fmt.Sprintf("Press in the %s that the card was written for, square and home. "+
			"Then find both anew.", ts[i].Name)}, {Do: "round"}}
		return true
	}
	return false
}

// allTaken says that all that is asked was given.
func allTaken(v fold.View, asks []fold.Ask) bool {
	for _, a := range asks {
		if !v.Has(a.Field) {
			return false
		}
	}
	return true
}

// rows4 is a covariance as a Fact keeps it.
func rows4(c frame.Cov4) [][]float64 {
	out := make([][]float64, len(c))
	for i := range c {
		out[i] = append([]float64(nil), c[i][:]...)
	}
	return out
}

// ringPlot shows the residuals of the hits, nil while they have none.
func ringPlot(p *fold.Plan, ps []fit.Point, t kit.Target) *fold.RingPlot {
	c, err := fit.ToCircle(ps)
	if err != nil || len(ps) < 4 {
		return nil
	}
	feature := fit.Bore
	if t.Outside() {
		feature = fit.Boss
	}
	rp := &fold.RingPlot{Suspect: -1, Limit: p.Limit("bore.form").Max}
	for i, q := range ps {
		rp.Angle, rp.Residual = append(rp.Angle, c.Angle(q)), append(rp.Residual, c.Residuals[i])
	}
	s, dof := judge.ProbeS(p)
	if hn, err := fit.NameHit(ps, feature, budget.Spread{S: s, Dof: dof}); err == nil && hn.Verdict == fit.Named {
		rp.Suspect = hn.Index
	}
	return rp
}

// stopsAgree holds the direction of the stops against that of the step before, as they were touched there.
func stopsAgree(p *fold.Plan, v fold.View, o *fold.Outcome, f *pickup.StopsFound) {
	e, ok := facts.Skew.In(v)
	if !ok {
		return
	}
	lim := p.Limit("bore.skews")
	if lim.Max == 0 {
		lim.Max = 3 * math.Sqrt(e.Cov.Var("theta")+f.Cov[2][2])
	}
	c := judge.Most(lim, math.Abs(float64(f.Turn-e.Theta)), 0)
	if c.Verdict == fold.Fail {
		c.Words = "The stops lie another way than before: a chip at one of them, or the fixture has turned."
		if o.Named == "" { // both touches of each agree: it was the step before
			o.Named = "chip-at-stop"
			o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "square", Words: c.Words + " Square it anew, the stops wiped."})
		}
	}
	o.Checks = append(o.Checks, c)
}

// agree holds the skew of the edge against that of the two bores.
func agree(p *fold.Plan, v fold.View, o *fold.Outcome, second *kit.Target, skew2 float64, cov frame.Cov4) {
	e, ok := facts.Skew.In(v)
	if !ok || e.Cov.Exact() || p.Job.Fixture.AsMade.Edge == nil {
		return
	}
	lim := p.Limit("bore.skews")
	if lim.Max == 0 {
		lim.Max = 3 * math.Sqrt(e.Cov.Var("theta")+cov[2][2])
	}
	c := judge.Of(lim, math.Abs(skew2-float64(e.Theta)), 0)
	if c.Verdict == fold.Fail {
		c.Words = fmt.Sprintf("Edge and both %ss disagree in direction: a nick on the edge, or a chip at a %s.", kit.Locator(p), kit.Locator(p))
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: second.Of, Words: c.Words + " Wipe both and read them again; if they repeat, run the " +
			"edge again."}, fold.Act{Do: "round"})
		if o.Named == "" {
			o.Named = "skews-disagree"
		}
	}
	o.Checks = append(o.Checks, c)
}
