package steps

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// oclock is a direction as a clock hand, X+ at 3 o'clock.
func oclock(deg float64) string {
	h := math.Mod(3-deg/30+24, 12)
	lo := math.Floor(h)
	name := func(x float64) string {
		n := int(math.Mod(x, 12))
		if n == 0 {
			n = 12
		}
		return fmt.Sprint(n)
	}
	if h-lo < 0.25 {
		return name(lo)
	}
	if h-lo > 0.75 {
		return name(lo + 1)
	}
	return name(lo) + "-" + name(lo+1)
}

// clock is a hit's direction, in degrees as What has it, for the person.
func clock(deg string) string {
	d, err := strconv.ParseFloat(deg, 64)
	if err != nil {
		return deg
	}
	side := ""
	switch d {
	case 0:
		side = ", RIGHT"
	case 90:
		side = ", AWAY"
	case 180:
		side = ", LEFT"
	case 270:
		side = ", TOWARD YOU"
	}
	return fmt.Sprintf("%s o'clock (%s deg%s)", oclock(d), deg, side)
}

// warmer is the fixture's temperature now less the day it was made, K.
func (p *Plan) warmer(v View) float64 {
	id, ok := v.Fact("identity")
	if !ok || p.Job.Fixture.AsMade.Temperature == nil || !p.warm() {
		return 0
	}
	return id.Value[0] - float64(*p.Job.Fixture.AsMade.Temperature)
}

// corrected applies exactly one probe correction to a raw centre (see frame.AsMade).
func (p *Plan) corrected(v View, raw frame.Vec) (frame.Vec, string) {
	var e frame.Vec
	if ball, ok := v.Fact("ball"); ok && slices.Contains(p.finder().stands(), "ball") {
		e = frame.Vec{X: ball.Value[2], Y: ball.Value[3]}
	}
	b := p.Job.Fixture.AsMade.Bore
	const card = "for the machine's share of the error that the fixture's card names"
	at, _ := frame.AsMade{Bias: frame.Vec{X: b.Bias[0], Y: b.Bias[1]}, Eccentricity: frame.Vec{X: b.Eccentricity[0], Y: b.Eccentricity[1]}}.Centre(raw, false, e)
	if !slices.Contains(p.finder().stands(), "ball") { // nothing of a probe is in it
		return at, card
	}
	return at, "for how the probe is off centre today and " + card
}

// fittings are the words by which each instrument goes in, before the locating bore.
var fittings = map[string]struct{ of, heading, words string }{
	"probe":       {"probe", "PROBE IN - SPINDLE LOCKED - ALL FIXTURE BOLTS TIGHT", "Fit the probe, spindle mark to the front. Try every fixture bolt."},
	"dial":        {"dial", "DIAL IN - SPINDLE LOCKED - ALL FIXTURE BOLTS TIGHT", "Fit the dial. Try every fixture bolt."},
	"edge finder": {"finder", "ALL FIXTURE BOLTS TIGHT", "Fit the edge finder. Try every fixture bolt."},
	"pin":         {"pin-gauge", "SPINDLE LOCKED - ALL FIXTURE BOLTS TIGHT", "Fit the gauge pin. Try every fixture bolt."},
	"paper":       {"tool", "SPINDLE LOCKED - ALL FIXTURE BOLTS TIGHT", "Fit the first tool. Try every fixture bolt."},
}

// readsSecond says that the second bore or pin is read: the job wants it, or nothing else gives the direction.
func (p *Plan) readsSecond() bool {
	a := &p.Job.Fixture.AsMade
	return a.Bore2 != nil && (p.Setup.Bore2 || a.Edge == nil)
}

// bore finds the locating bore, pin or square, and the second one when the job wants it.
func bore(p *Plan) *Spec {
	first, second := p.targets()
	if !p.readsSecond() {
		second = nil
	}
	fd := p.finder()
	_, probed := fd.(prober)
	fitting, ok := fittings[p.Setup.Finds]
	if !ok {
		fitting = fittings["probe"]
	}
	kicks := p.Setup.Finds == "edge finder"
	return &Spec{
		Title: "locating " + first.name, Live: []FactID{"identity"}, AsRead: append([]FactID{"skew"}, fd.stands()...), Seen: []FactID{"offset"}, Makes: []FactID{"bore"}, Bare: p.boreCovered(),
		Keys: []string{"setups." + p.Setup.Name + ".hits", "setups." + p.Setup.Name + ".finds"},
		Pause: &Pause{Heading: fitting.heading, Lost: "From here a tap costs bore, floor and offset.",
			Ask: func(View) Ask {
				a := Ask{Label: "fixture bolts that turn when tried with the wrench", Kind: Count, What: What{By: "count", Of: "fixture-bolts", Dir: "loose"}, Want: "0",
					WantWhy: "A loose bolt lets the fixture move.", Hint: "Tighten all and declare the fixture tapped.",
					Do: []Act{{Do: "fit", Of: fitting.of, Words: fitting.words}}}
				if kicks { // before the spindle turns
					a.Do = append(a.Do, Act{Do: "wipe", Of: first.of, Words: "Wipe the " + first.name + "."})
					if second != nil {
						a.Do = append(a.Do, Act{Do: "wipe", Of: second.of, Words: "Wipe the " + second.name + "."})
					}
				}
				return a
			}},
		Asks: func(v View) []Ask {
			asks := fd.asks(v, first)
			if probed {
				mark := []Ask{markAsk()}
				mark[0].Since = sinceMark
				if markWrong(v, &Outcome{}) {
					return mark // before any hit
				}
				asks = append(mark, asks...)
			}
			if _, grows := fd.(sweeper); second == nil || grows && !allTaken(v, asks) {
				return asks // the first one is swept until it stands still
			}
			return append(asks, fd.asks(v, *second)...)
		},
		Judge: func(v View) Outcome {
			var o Outcome
			if probed && markWrong(v, &o) {
				return o
			}
			f, ok := fd.centre(v, first, &o)
			if !f.has {
				return o
			}
			at, how := p.corrected(v, f.at)
			fact := Fact{ID: "bore", Value: []float64{at.X, at.Y, f.dia}, Cov: [][]float64{{f.cov[0][0], f.cov[0][1]}, {f.cov[1][0], f.cov[1][1]}}, Dof: f.dof}
			o.Lines = append(o.Lines, Row{Label: first.name + " X (M)", Value: at.X, Unit: unit.KLength, Signed: true, Big: true}, Row{Label: first.name + " Y (M)", Value: at.Y, Unit: unit.KLength, Signed: true, Big: true})
			o.Notes = append(o.Notes, "The centre is corrected once: "+how+".")
			o.Notes = append(o.Notes, p.cardAge(v, "ball")...)
			if second != nil {
				g, ok2 := fd.centre(v, *second, &o)
				if !g.has {
					return o
				}
				ok = ok && ok2
				skew2, q, cov, err := frame.TwoBores(f.at, g.at, second.from, f.cov, g.cov)
				if err != nil {
					p.cannotFind(*second, err, &o)
					return o
				}
				// Each one's place carries the machine's positioning as well, a rectangle of the backlash.
				um := math.Sqrt2 * p.Job.Machine.Backlash / math.Sqrt(3) / second.from.Len()
				cov[2][2] += um * um
				cov[3][3] += um * um
				p.agree(v, &o, second, float64(skew2), cov)
				fact.Value = append(fact.Value, q, float64(skew2))
				fact.Cov = rows4(cov)
				o.Lines = append(o.Lines, Row{Label: "scale", Text: fmt.Sprintf("%.6f", q)}, Row{Label: "skew by both", Value: float64(skew2), Unit: unit.KSlope, Signed: true})
			}
			o.Facts = []Fact{fact}
			if ok && o.Learned == "" {
				u := math.Sqrt(math.Max(f.cov[0][0], f.cov[1][1]))
				o.Learned = fmt.Sprintf("The %s stands at X %s Y %s, each within %s.", first.name, p.num(at.X), p.num(at.Y), p.len(2*u))
			}
			return o
		},
		Page: func(v View) Page {
			act, read, caution := fd.says(first)
			pg := Page{Why: "The " + first.name + " gives position, and only position. More readings than needed check themselves.", Act: act, Read: read, Caution: caution}
			if probed && !v.Has("mark") {
				pg.Why = "The ball runs a little off centre, on a known side. Turned half round it moves the bore by twice that."
				pg.Act = "Look how the spindle stands."
			}
			if kicks && !v.Has("pause") {
				pg.Caution = stoppedYet
			}
			ps := hits(v, "", first.n)
			pg.Scene.Ring = p.ringPlot(ps, first)
			var marks []Shape
			for i := 0; i < first.n; i++ {
				a := 2 * math.Pi * float64(i) / float64(first.n)
				role := RoleNext
				if i < len(ps) {
					role = RoleHit
				}
				marks = append(marks, Shape{Role: role, Points: []XY{{first.dia / 2 * math.Cos(a), first.dia / 2 * math.Sin(a)}}})
				if role == RoleNext {
					break
				}
			}
			pg.Scene.Shapes = p.scene(v, marks).Shapes
			return pg
		},
	}
}

// allTaken says that all that is asked was given.
func allTaken(v View, asks []Ask) bool {
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
func (p *Plan) ringPlot(ps []fit.Point, t target) *RingPlot {
	c, err := fit.ToCircle(ps)
	if err != nil || len(ps) < 4 {
		return nil
	}
	feature := fit.Bore
	if t.outside() {
		feature = fit.Boss
	}
	rp := &RingPlot{Suspect: -1}
	for i, q := range ps {
		rp.Angle, rp.Residual = append(rp.Angle, c.Angle(q)), append(rp.Residual, c.Residuals[i])
	}
	s, dof := p.probeS()
	if hn, err := fit.NameHit(ps, feature, budget.Spread{S: s, Dof: dof}); err == nil && hn.Verdict == fit.Named {
		rp.Suspect = hn.Index
	}
	return rp
}

// agree holds the skew of the edge against that of the two bores.
func (p *Plan) agree(v View, o *Outcome, second *target, skew2 float64, cov frame.Cov4) {
	e, ok := v.Fact("skew")
	if !ok || len(e.Cov) == 0 || p.Job.Fixture.AsMade.Edge == nil {
		return
	}
	lim := p.Limit("bore.skews")
	if lim.Max == 0 {
		lim.Max = 3 * math.Sqrt(e.Cov[0][0]+cov[2][2])
	}
	c := Judged(lim, math.Abs(skew2-e.Value[0]), 0)
	if c.Verdict == Fail {
		c.Words = fmt.Sprintf("Edge and both %ss disagree in direction: a nick on the edge, or a chip at a %s.", p.locator(), p.locator())
		o.Next = append(o.Next, Act{Do: "wipe", Of: second.of, Words: c.Words + " Wipe both and read them again; if they repeat, run the edge again."}, Act{Do: "round"})
		if o.Named == "" {
			o.Named = "skews-disagree"
		}
	}
	o.Checks = append(o.Checks, c)
}
