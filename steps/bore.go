package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

func init() {
	add(Step{ID: "bore", Kinds: []string{secondSide}, Follows: "square", Build: bore})
}

// ring asks the hits of one bore or pin: pre names the fields, of the thing.
func (p *Plan) ring(v View, pre, of, name string, n int, dia float64) []Ask {
	var asks []Ask
	outside := p.Job.Fixture.AsMade.Bore.Kind == "pin"
	var cx, cy float64
	known := false
	r := dia / 2
	if ball, ok := v.Fact("ball"); ok {
		if r -= ball.Value[0]; outside {
			r += 2 * ball.Value[0]
		}
	}
	for i := 0; i < n; i++ {
		a := 2 * math.Pi * float64(i) / float64(n)
		deg := place(math.Round(1e4*360*float64(i)/float64(n)) / 1e4)
		form := fmt.Sprintf("%shit%d", pre, i+1)
		hx, okx := v.Num(form+".x", unit.KLength)
		hy, oky := v.Num(form+".y", unit.KLength)
		for j, axis := range []string{"x", "y"} {
			ask := Ask{Field: form + "." + axis, Label: fmt.Sprintf("%s hit %d at %s deg, %s", name, i+1, deg, strings.ToUpper(axis)), Kind: Reading, Unit: unit.KLength,
				Form: form, What: What{By: "probe", Of: of, Dir: deg, Axis: axis}, Window: p.travelWindow(axis)}
			if known {
				c := [2]float64{cx + r*math.Cos(a), cy + r*math.Sin(a)}
				w := around(c[j], 1, "the hits before")
				w.Slips = unit.SlipContext{TipRadius: p.ballRadius(v), Other: &c[1-j]}
				ask.Window = w
			}
			asks = append(asks, ask)
		}
		if !known && okx && oky {
			cx, cy, known = hx-r*math.Cos(a), hy-r*math.Sin(a), true
		}
	}
	return asks
}

// ballRadius is the mean effective radius of the stylus in force.
func (p *Plan) ballRadius(v View) float64 {
	if b, ok := v.Fact("ball"); ok {
		return (b.Value[0] + b.Value[1]) / 2
	}
	return 0
}

// hits are the taken hits of a ring.
func hits(v View, pre string, n int) []fit.Point {
	var ps []fit.Point
	for i := 0; i < n; i++ {
		form := fmt.Sprintf("%shit%d", pre, i+1)
		x, ok1 := v.Num(form+".x", unit.KLength)
		y, ok2 := v.Num(form+".y", unit.KLength)
		if ok1 && ok2 {
			ps = append(ps, fit.Point{X: x, Y: y})
		}
	}
	return ps
}

// found is a bore or pin as its hits say.
type found struct {
	at   frame.Vec
	dia  float64
	cov  frame.Cov2
	dof  float64
	name fit.HitNaming
}

// find fits the hits of a ring, judges size and form and names the bad hit.
func (p *Plan) find(v View, o *Outcome, pre, of, name string, n int, dia float64) (found, bool) {
	ps := hits(v, pre, n)
	feature := fit.Bore
	if p.Job.Fixture.AsMade.Bore.Kind == "pin" {
		feature = fit.Boss
	}
	s, dof := p.probeS()
	ball, _ := v.Fact("ball")
	if len(ball.Value) > 5 {
		s, dof = math.Max(ball.Value[4], p.Job.Machine.Readout/math.Sqrt(12)), ball.Value[5]
	}
	hn, err := fit.NameHit(ps, feature, budget.Spread{S: s, Dof: dof})
	if err != nil {
		o.Checks = append(o.Checks, Check{Limit: Limit{ID: of + ".hits", Why: "the hits make a circle", Class: Never}, Count: true, Verdict: Fail, Words: err.Error()})
		o.Next = append(o.Next, Act{Do: "round", Words: "Read all hits of the " + name + " again: " + err.Error() + "."})
		return found{}, false
	}
	c := hn.All
	f := found{at: frame.Vec{X: c.Center.X, Y: c.Center.Y}, dia: feature.Diameter(c, p.ballRadius(v)), name: hn, dof: dof}
	used := budget.Spread{S: s, Dof: dof}
	if c.S.Has {
		used, _ = budget.Repeat(budget.Spread{S: c.S.V, Dof: float64(c.DOF)}, used)
	}
	f.dof = used.Dof
	cv := c.Covariance(used.S)
	f.cov = frame.Cov2{{cv[0][0], cv[0][1]}, {cv[1][0], cv[1][1]}}

	grow := p.fixtureAlpha() * dia * math.Abs(p.warmer(v))
	size := p.Limit("bore.size")
	size.Max += grow
	k := Judged(size, math.Abs(f.dia-dia), 0)
	k.Words = fmt.Sprintf("The %s measures %s, made %s.", name, p.len(f.dia), p.len(dia))
	o.Checks = append(o.Checks, k)
	o.Lines = append(o.Lines, Row{Label: name + " D", Value: f.dia, Unit: unit.KLength})
	if !c.S.Has {
		o.Notes = append(o.Notes, "Three hits have no redundancy: nothing is known of their quality but the size.")
		return f, k.Verdict == Pass
	}
	form := Judged(p.Limit("bore.form"), c.S.V, 0)
	switch hn.Verdict {
	case fit.Named:
		deg := math.Mod(hn.Angle*180/math.Pi+360, 360)
		long := "short"
		if hn.Deviation > 0 {
			long = "long"
		}
		what := "chip"
		if !hn.LikeChip {
			what = "missed trigger, scratch or wrong key"
		}
		form.Verdict = Fail
		form.Words = fmt.Sprintf("Hit %d is %s %s at %.0f deg: %s near %s o'clock.", hn.Index+1, p.len(math.Abs(hn.Deviation)), long, deg, what, oclock(deg))
		o.Named = "chip-in-bore"
		if !hn.LikeChip {
			o.Named = "bad-hit"
		}
		o.Next = append(o.Next, Act{Do: "wipe", Of: of, Dir: fmt.Sprintf("%.0f", deg), Words: fmt.Sprintf("Wipe the %s at the %s o'clock side, then take hit %d again.", name, oclock(deg), hn.Index+1)},
			Act{Do: "again", Of: fmt.Sprintf("%shit%d", pre, hn.Index+1)})
		o.Learned = fmt.Sprintf("It would have moved the %s centre by %s.", name, p.len(hn.Shift))
	case fit.Unnamed:
		form.Verdict = Fail
		which := "One hit is bad and it can't be said which"
		if len(hn.Candidates) > 0 {
			var cs []string
			for _, i := range hn.Candidates {
				cs = append(cs, fmt.Sprint(i+1))
			}
			which = "One hit is bad, " + strings.Join(cs, " or ") + ", and it can't be said which"
		}
		form.Words = which + "."
		o.Named = "bad-hit"
		o.Next = append(o.Next, Act{Do: "wipe", Of: of, Words: which + ": wipe the " + name + " and take all hits again."}, Act{Do: "round"})
	case fit.Harmless:
		form.Verdict = Pass
		o.Notes = append(o.Notes, fmt.Sprintf("Hit %d is off by %s: harmless here.", hn.Index+1, p.len(hn.Deviation)))
	default:
		if form.Verdict == Fail {
			form.Words = fmt.Sprintf("The hits scatter by %s: slow down, wipe, take them again.", p.len(c.S.V))
			o.Next = append(o.Next, Act{Do: "wipe", Of: of, Words: form.Words}, Act{Do: "round"})
		}
	}
	if k.Verdict == Fail && len(o.Next) == 0 {
		o.Next = append(o.Next, Act{Do: "wipe", Of: of, Words: k.Words + " Is it wiped, is it the right stylus, is it the right bore? Take all hits again."}, Act{Do: "round"})
	}
	o.Checks = append(o.Checks, form)
	o.Lines = append(o.Lines, Row{Label: "form s", Value: c.S.V, Unit: unit.KLength})
	return f, form.Verdict == Pass && k.Verdict == Pass
}

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
	ball, _ := v.Fact("ball")
	var e frame.Vec
	if len(ball.Value) > 3 {
		e = frame.Vec{X: ball.Value[2], Y: ball.Value[3]}
	}
	b := p.Job.Fixture.AsMade.Bore
	at, how := frame.AsMade{Bias: frame.Vec{X: b.Bias[0], Y: b.Bias[1]}, Eccentricity: frame.Vec{X: b.Eccentricity[0], Y: b.Eccentricity[1]}}.Centre(raw, false, e)
	return at, how.String()
}

// bore probes the locating bore, and the second one when the job wants it.
func bore(p *Plan) *Spec {
	n := p.Setup.Hits
	if n < 3 {
		n = 6
	}
	b := p.Job.Fixture.AsMade.Bore
	b2 := p.Job.Fixture.AsMade.Bore2
	if !p.Setup.Bore2 {
		b2 = nil
	}
	const n2 = 4
	dia2 := b.Dia
	if b2 != nil && b2.Dia > 0 {
		dia2 = b2.Dia
	}
	thing := "bore"
	if b.Kind == "pin" {
		thing = "pin"
	}
	return &Spec{
		Title: "locating " + thing, Live: []FactID{"identity"}, AsRead: []FactID{"skew", "ball"}, Makes: []FactID{"bore"},
		Keys: []string{"setups." + p.Setup.Name + ".hits"},
		Pause: &Pause{Heading: "PROBE IN - SPINDLE LOCKED - ALL FIXTURE BOLTS TIGHT", Lost: "From here a tap costs bore, floor and offset.",
			Ask: func(View) Ask {
				return Ask{Label: "fixture bolts that turn when tried with the wrench", Kind: Count, What: What{By: "count", Of: "fixture-bolts", Dir: "loose"}, Want: "0",
					WantWhy: "A loose bolt lets the fixture move.", Hint: "Tighten all and declare the fixture tapped.",
					Do: []Act{{Do: "fit", Of: "probe", Words: "Fit the probe, spindle mark to the front. Try every fixture bolt."}}}
			}},
		Asks: func(v View) []Ask {
			asks := p.ring(v, "", thing, thing, n, b.Dia)
			asks[0].Do = []Act{{Do: "wipe", Of: thing, Words: fmt.Sprintf("Wipe the %s and blow it out. Take %d hits at one depth, coming from its middle.", thing, n)}}
			if b2 != nil {
				more := p.ring(v, "b2", thing+"2", "second "+thing, n2, dia2)
				more[0].Do = []Act{{Do: "wipe", Of: thing + "2", Words: fmt.Sprintf("Wipe the second %s. Take %d hits.", thing, n2)}}
				asks = append(asks, more...)
			}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
			f, ok := p.find(v, &o, "", thing, thing, n, b.Dia)
			if f.dia == 0 {
				return o
			}
			at, how := p.corrected(v, f.at)
			fact := Fact{ID: "bore", Value: []float64{at.X, at.Y, f.dia}, Cov: [][]float64{{f.cov[0][0], f.cov[0][1]}, {f.cov[1][0], f.cov[1][1]}}, Dof: f.dof}
			o.Lines = append(o.Lines, Row{Label: thing + " X (M)", Value: at.X, Unit: unit.KLength, Signed: true, Big: true}, Row{Label: thing + " Y (M)", Value: at.Y, Unit: unit.KLength, Signed: true, Big: true})
			o.Notes = append(o.Notes, "Corrected once: "+how+".")
			if b2 != nil {
				g, ok2 := p.find(v, &o, "b2", thing+"2", "second "+thing, n2, dia2)
				if g.dia == 0 {
					return o
				}
				ok = ok && ok2
				skew2, q, cov, err := frame.TwoBores(f.at, g.at, vec(b2.At), f.cov, g.cov)
				if err != nil {
					o.Checks = append(o.Checks, Check{Limit: Limit{ID: "bore.two", Why: "two bores give a direction", Class: Never}, Count: true, Verdict: Fail, Words: err.Error()})
					return o
				}
				p.agree(v, &o, float64(skew2), cov, vec(b2.At).Len())
				fact.Value = append(fact.Value, q, float64(skew2))
				fact.Cov = [][]float64{{cov[0][0], cov[0][1], cov[0][2], cov[0][3]}, {cov[1][0], cov[1][1], cov[1][2], cov[1][3]},
					{cov[2][0], cov[2][1], cov[2][2], cov[2][3]}, {cov[3][0], cov[3][1], cov[3][2], cov[3][3]}}
				o.Lines = append(o.Lines, Row{Label: "scale", Text: fmt.Sprintf("%.6f", q)})
			}
			o.Facts = []Fact{fact}
			if ok && o.Learned == "" {
				u := math.Sqrt(math.Max(f.cov[0][0], f.cov[1][1]))
				o.Learned = fmt.Sprintf("The %s stands at X %s Y %s, each within %s.", thing, p.num(at.X), p.num(at.Y), p.len(2*u))
			}
			return o
		},
		Page: func(v View) Page {
			pg := Page{Why: "The " + thing + " gives position, and only position. More hits than needed check themselves.",
				Act:     fmt.Sprintf("Probe the %s: %d hits at one depth.", thing, n),
				Read:    "Machine X and Y of the spindle at the trigger, no radius taken off.",
				Caution: "Never start the spindle with the probe fitted. Brush chips, no air blow toward face or bearings."}
			ps := hits(v, "", n)
			if c, err := fit.ToCircle(ps); err == nil && len(ps) > 3 {
				rp := &RingPlot{Suspect: -1}
				for i, q := range ps {
					rp.Angle, rp.Residual = append(rp.Angle, c.Angle(q)), append(rp.Residual, c.Residuals[i])
				}
				s, dof := p.probeS()
				if hn, err := fit.NameHit(ps, fit.Bore, budget.Spread{S: s, Dof: dof}); err == nil && hn.Verdict == fit.Named {
					rp.Suspect = hn.Index
				}
				pg.Scene.Ring = rp
			}
			var marks []Shape
			for i := 0; i < n; i++ {
				a := 2 * math.Pi * float64(i) / float64(n)
				role := RoleNext
				if i < len(ps) {
					role = RoleHit
				}
				marks = append(marks, Shape{Role: role, Points: []XY{{b.Dia / 2 * math.Cos(a), b.Dia / 2 * math.Sin(a)}}})
				if role == RoleNext {
					break
				}
			}
			pg.Scene.Shapes = p.scene(v, marks).Shapes
			return pg
		},
	}
}

// agree holds the skew of the edge against that of the two bores.
func (p *Plan) agree(v View, o *Outcome, skew2 float64, cov frame.Cov4, l float64) {
	e, ok := v.Fact("skew")
	if !ok || len(e.Cov) == 0 {
		return
	}
	// Each bore's place carries the machine's own positioning error as well, a rectangle of the backlash.
	um := p.Job.Machine.Backlash / math.Sqrt(3) * math.Sqrt2 / l
	lim := p.Limit("bore.skews")
	if lim.Max == 0 {
		lim.Max = 3 * math.Sqrt(e.Cov[0][0]+cov[2][2]+um*um)
	}
	c := Judged(lim, math.Abs(skew2-e.Value[0]), 0)
	if c.Verdict == Fail {
		c.Words = "Edge and bores disagree in direction: a nick on the edge, or a chip in a bore."
		o.Next = append(o.Next, Act{Do: "wipe", Of: "bore2", Words: c.Words + " Wipe both bores and take the hits again; if they repeat, run the edge again."}, Act{Do: "round"})
		if o.Named == "" {
			o.Named = "skews-disagree"
		}
	}
	o.Checks = append(o.Checks, c)
}
