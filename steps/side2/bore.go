package side2

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
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

// bore finds the locating bore, pin or square, and the second one when the job wants it.
func bore(p *fold.Plan) *fold.Spec {
	first, second := kit.Targets(p)
	if !readsSecond(p) {
		second = nil
	}
	fd := kit.Finder(p)
	probed := kit.ByProbe(p)
	fitting, ok := kit.Fittings[p.Setup.Finds]
	if !ok {
		fitting = kit.Fittings["probe"]
	}
	kicks := p.Setup.Finds == "edge finder"
	return &fold.Spec{
		Title: "locating " + first.Name, Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("identity"),
			fold.AsRead(append([]fold.FactID{"skew"}, fd.Stands()...)...), fold.IfThere("offset")), Makes: []fold.FactID{"bore"},
		Bare: BoreCovered(p),
		Keys: []string{"setups." + p.Setup.Name + ".hits", "setups." + p.Setup.Name + ".finds"},
		Pause: &fold.Pause{Heading: fitting.Heading, Lost: "From here a tap costs bore, floor and offset.",
			Ask: func(fold.View) fold.Ask {
				a := fold.Ask{Label: "fixture bolts that turn when tried with the wrench", Kind: fold.Count,
					What: fold.What{By: "count", Of: "fixture-bolts", Dir: "loose"}, Want: "0",
					WantWhy: "A loose bolt lets the fixture move.", Hint: "Tighten all and declare the fixture tapped.",
					Do: []fold.Act{{Do: "fit", Of: fitting.Of, Words: fitting.Words}}}
				a.Shows, a.Cure = "bolts-snug", []fold.Act{{Do: "tighten", Of: "fixture", Words: "Tighten all bolts, alternately. It may have moved: " +
					"the edge is read again."}, {Do: "declare", Of: "fixture-tapped"}}
				if kicks { // before the spindle turns
					a.Do = append(a.Do, fold.Act{Do: "wipe", Of: first.Of, Words: "Wipe the " + first.Name + "."})
					if second != nil {
						a.Do = append(a.Do, fold.Act{Do: "wipe", Of: second.Of, Words: "Wipe the " + second.Name + "."})
					}
				}
				return a
			}},
		Asks: func(v fold.View) []fold.Ask {
			asks := fd.Asks(v, first)
			if probed {
				mark := []fold.Ask{kit.MarkAsk()}
				mark[0].Since = kit.SinceMark
				if kit.MarkWrong(v, &fold.Outcome{}) {
					return mark // before any hit
				}
				asks = append(mark, asks...)
			}
			if _, grows := fd.(kit.Sweeper); second == nil || grows && !allTaken(v, asks) {
				return asks // the first one is swept until it stands still
			}
			return append(asks, fd.Asks(v, *second)...)
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			if probed && kit.MarkWrong(v, &o) {
				return o
			}
			f, ok := fd.Centre(v, first, &o)
			if !f.Has {
				return o
			}
			at, how := corrected(p, v, f.At)
			fact := fold.Known{ID: "bore", Value: []float64{at.X, at.Y, f.Dia}, Cov: [][]float64{{f.Cov[0][0], f.Cov[0][1]},
				{f.Cov[1][0], f.Cov[1][1]}}, Dof: f.Dof}
			o.Lines = append(o.Lines, fold.Row{Label: first.Name + " X (M)", Value: at.X, Unit: unit.KLength, Signed: true, Big: true},
				fold.Row{Label: first.Name + " Y (M)", Value: at.Y, Unit: unit.KLength, Signed: true, Big: true})
			o.Notes = append(o.Notes, "The centre is corrected once: "+how+".")
			o.Notes = append(o.Notes, kit.CardAge(p, v, "ball")...)
			if f.Turned != nil {
				fact.Value = append(fact.Value, 1, float64(f.Turned.Turn))
				fact.Cov = rows4(f.Turned.Cov)
				stopsAgree(p, v, &o, f.Turned)
				o.Lines = append(o.Lines, fold.Row{Label: "skew by the stops", Value: float64(f.Turned.Turn), Unit: unit.KSlope, Signed: true})
			}
			if second != nil {
				g, ok2 := fd.Centre(v, *second, &o)
				if !g.Has {
					return o
				}
				ok = !smallPin(v, &o, [2]kit.Target{first, *second}, [2]float64{f.Dia, g.Dia}) && ok && ok2
				skew2, q, cov, err := frame.TwoBores(f.At, g.At, second.From, f.Cov, g.Cov)
				if err != nil {
					kit.CannotFind(p, *second, err, &o)
					return o
				}
				// Each one's place carries the machine's positioning as well, a rectangle of the backlash.
				um := math.Sqrt2 * p.Job.Machine.Backlash / math.Sqrt(3) / second.From.Len()
				cov[2][2] += um * um
				cov[3][3] += um * um
				agree(p, v, &o, second, float64(skew2), cov)
				fact.Value = append(fact.Value, q, float64(skew2))
				fact.Cov = rows4(cov)
				o.Lines = append(o.Lines, fold.Row{Label: "scale", Text: fmt.Sprintf("%.6f", q)}, fold.Row{Label: "skew by both", Value: float64(skew2),
					Unit: unit.KSlope, Signed: true})
			}
			o.Facts = []fold.Known{fact}
			if ok && o.Learned == "" {
				u := math.Sqrt(math.Max(f.Cov[0][0], f.Cov[1][1]))
				o.Learned = fmt.Sprintf("The %s stands at X %s Y %s, each within %s (95 %%).", first.Name, p.Num(at.X), p.Num(at.Y), p.Len(2*u))
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			act, read, caution := fd.Says(first)
			pg := fold.Page{Why: "The " + first.Name + " gives position, and only position. More readings than needed check themselves.", Act: act,
				Read: read, Caution: caution}
			if probed && !v.Has("mark") {
				pg.Why = "The ball runs a little off centre, on a known side. Turned half round it moves what is found by twice that."
				pg.Act = "Look how the spindle stands."
			}
			if kicks && !v.Has("pause") {
				pg.Caution = kit.StoppedYet
			}
			ps := kit.Hits(v, "", first.N)
			pg.Scene.Ring = ringPlot(p, ps, first)
			var marks []fold.Shape
			for i := 0; i < first.N; i++ {
				a := 2 * math.Pi * float64(i) / float64(first.N)
				role := fold.RoleNext
				if i < len(ps) {
					role = fold.RoleHit
				}
				marks = append(marks, fold.Shape{Role: role, Points: []fold.XY{{X: first.Dia / 2 * math.Cos(a), Y: first.Dia / 2 * math.Sin(a)}}})
				if role == fold.RoleNext {
					break
				}
			}
			pg.Scene.Shapes = kit.Scene(p, v, marks).Shapes
			return pg
		},
	}
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
	e, ok := v.Fact("skew")
	if !ok || len(e.Cov) == 0 || p.Job.Fixture.AsMade.Edge == nil {
		return
	}
	lim := p.Limit("bore.skews")
	if lim.Max == 0 {
		lim.Max = 3 * math.Sqrt(e.Cov[0][0]+cov[2][2])
	}
	c := judge.Of(lim, math.Abs(skew2-e.Value[0]), 0)
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
