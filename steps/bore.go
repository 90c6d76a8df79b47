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

// prober is a touch probe: a circle of hits, or a pair.
type prober struct{ p *Plan }

// hitForm names the form of a hit, from 1.
func hitForm(pre string, i int) string { return fmt.Sprintf("%shit%d", pre, i) }

func (b prober) contact(v View) contact {
	s, _ := b.spread(v)
	return contact{p: b.p, by: "probe", radius: b.p.faceRadius(v), s: s, verb: "hit"}
}

// spread is the scatter of one hit of the stylus in force and its degrees of freedom.
func (b prober) spread(v View) (s, dof float64) {
	s, dof = b.p.probeS()
	if ball, ok := v.Fact("ball"); ok && len(ball.Value) > 5 {
		s, dof = math.Max(ball.Value[4], b.p.Job.Machine.Readout/math.Sqrt(12)), ball.Value[5]
	}
	return s, dof
}

func (b prober) asks(v View, t target) []Ask {
	p := b.p
	if t.of == "square" {
		c := b.contact(v)
		asks := append(c.pair(v, t, "x"), c.pair(v, t, "y")...)
		asks[0].Do = []Act{{Do: "wipe", Of: t.of, Words: "Wipe the " + t.name + ". One hit in the middle of each side: both X sides, then both Y sides."}}
		return asks
	}
	var asks []Ask
	r := b.contact(v).reach(t)
	var c frame.Vec
	why, known, half := "", false, 1.0
	if x, y := p.expect(v, t, "x"), p.expect(v, t, "y"); x != nil && y != nil {
		c, why, half, known = frame.Vec{X: x.Want, Y: y.Want}, x.Why, x.Half, true
	}
	var earlier [2][]float64
	for i := 0; i < t.n; i++ {
		a := 2 * math.Pi * float64(i) / float64(t.n)
		deg := place(math.Round(1e4*360*float64(i)/float64(t.n)) / 1e4)
		form := hitForm(t.pre, i+1)
		hx, okx := v.Num(form+".x", unit.KLength)
		hy, oky := v.Num(form+".y", unit.KLength)
		want := [2]float64{c.X + r*math.Cos(a), c.Y + r*math.Sin(a)}
		for j, axis := range []string{"x", "y"} {
			ask := Ask{Field: form + "." + axis, Label: fmt.Sprintf("%s hit %d at %s deg, %s", t.name, i+1, deg, strings.ToUpper(axis)), Kind: Reading, Unit: unit.KLength,
				Form: form, What: What{By: "probe", Of: t.of, Dir: deg, Axis: axis}, Window: p.travelWindow(axis)}
			if known {
				w := around(want[j], half, why)
				w.Slips = p.slips(v, axis, p.ballRadius(v), &want[1-j])
				w.Slips.Earlier = earlier[j]
				ask.Window = w
			}
			asks = append(asks, ask)
		}
		if okx && oky {
			if i == 0 { // what was hit counts for more than what was expected
				c, why, known = frame.Vec{X: hx - r*math.Cos(a), Y: hy - r*math.Sin(a)}, "the hits before", true
				half = 1
			}
			earlier[0], earlier[1] = append(earlier[0], hx), append(earlier[1], hy)
		}
	}
	words := fmt.Sprintf("Wipe the %s and blow it out. Take %d hits at one depth, coming from its middle.", t.name, t.n)
	if t.outside() {
		words = fmt.Sprintf("Wipe the %s. Take %d hits at one depth, straight toward its middle.", t.name, t.n)
	}
	asks[0].Do = []Act{{Do: "wipe", Of: t.of, Words: words}}
	return asks
}

// ballRadius is the mean effective radius of the stylus in force.
func (p *Plan) ballRadius(v View) float64 {
	if b, ok := v.Fact("ball"); ok {
		return (b.Value[0] + b.Value[1]) / 2
	}
	return 0
}

// hits are the taken hits of a circle.
func hits(v View, pre string, n int) []fit.Point {
	var ps []fit.Point
	for i := 0; i < n; i++ {
		form := hitForm(pre, i+1)
		x, ok1 := v.Num(form+".x", unit.KLength)
		y, ok2 := v.Num(form+".y", unit.KLength)
		if ok1 && ok2 {
			ps = append(ps, fit.Point{X: x, Y: y})
		}
	}
	return ps
}

// shortArc is the arc below which a centre is refused: its uncertainty explodes (common practice).
const shortArc = 120 * math.Pi / 180

func (b prober) centre(v View, t target, o *Outcome) (found, bool) {
	if t.of == "square" {
		return b.square(v, t, o)
	}
	p := b.p
	ps := hits(v, t.pre, t.n)
	feature := fit.Bore
	if t.outside() {
		feature = fit.Boss
	}
	s, dof := b.spread(v)
	hn, err := fit.NameHit(ps, feature, budget.Spread{S: s, Dof: dof})
	if err == nil && hn.All.Arc < shortArc {
		err = fmt.Errorf("the hits lie on %.0f deg of the circle; spread them over the whole", hn.All.Arc*180/math.Pi)
	}
	if err != nil {
		p.cannotFind(t, err, o)
		return found{}, false
	}
	c := hn.All
	f := found{has: true, at: frame.Vec{X: c.Center.X, Y: c.Center.Y}, dia: feature.Diameter(c, p.ballRadius(v))}
	used := budget.Spread{S: s, Dof: dof}
	if c.S.Has {
		used, _ = budget.Repeat(budget.Spread{S: c.S.V, Dof: float64(c.DOF)}, used)
	}
	f.dof = used.Dof
	cv := c.Covariance(used.S)
	f.cov = frame.Cov2{{cv[0][0], cv[0][1]}, {cv[1][0], cv[1][1]}}
	sized := p.sized(v, t, f.dia, o)
	if !c.S.Has {
		o.Notes = append(o.Notes, "Three hits have no redundancy: nothing is known of their quality but the size.")
		if !sized {
			b.wrongSize(t, o)
		}
		return f, sized
	}
	form := b.form(t, hn, o)
	if !sized && len(o.Next) == 0 {
		b.wrongSize(t, o)
	}
	o.Checks = append(o.Checks, form)
	o.Lines = append(o.Lines, Row{Label: "form s", Value: c.S.V, Unit: unit.KLength})
	return f, form.Verdict == Pass && sized
}

// wrongSize is the act after a diameter that is not the card's.
func (b prober) wrongSize(t target, o *Outcome) {
	o.Next = append(o.Next, Act{Do: "wipe", Of: t.of, Words: fmt.Sprintf("The %s has not its size as made. Is it wiped, is it the right stylus, is it the right %s? Take all hits again.", t.name, t.name)}, Act{Do: "round"})
}

// form judges the scatter of the hits and names the bad one.
func (b prober) form(t target, hn fit.HitNaming, o *Outcome) Check {
	p := b.p
	form := Judged(p.Limit("bore.form"), hn.All.S.V, 0)
	switch hn.Verdict {
	case fit.Named:
		deg := math.Mod(hn.Angle*180/math.Pi+360, 360)
		long := "short"
		if hn.Deviation > 0 {
			long = "long"
		}
		what := "chip"
		o.Named = "chip-in-bore"
		if !hn.LikeChip {
			what, o.Named = "missed trigger, scratch or wrong key", "bad-hit"
		}
		form.Verdict = Fail
		form.Words = fmt.Sprintf("Hit %d is %s %s at %.0f deg: %s near %s o'clock.", hn.Index+1, p.len(math.Abs(hn.Deviation)), long, deg, what, oclock(deg))
		o.Next = append(o.Next, Act{Do: "wipe", Of: t.of, Dir: fmt.Sprintf("%.0f", deg), Words: fmt.Sprintf("Wipe the %s at the %s o'clock side, then take hit %d again.", t.name, oclock(deg), hn.Index+1)},
			Act{Do: "again", Of: hitForm(t.pre, hn.Index+1)})
		o.Learned = fmt.Sprintf("It would have moved the %s centre by %s.", t.name, p.len(hn.Shift))
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
		o.Next = append(o.Next, Act{Do: "wipe", Of: t.of, Words: which + ": wipe the " + t.name + " and take all hits again."}, Act{Do: "round"})
	case fit.Harmless:
		form.Verdict = Pass
		if hn.Index >= 0 {
			o.Notes = append(o.Notes, fmt.Sprintf("Hit %d is off by %s: harmless here.", hn.Index+1, p.len(hn.Deviation)))
		} else {
			o.Notes = append(o.Notes, "One hit is a little off, by too little to matter.")
		}
	default:
		if form.Verdict == Fail {
			form.Words = fmt.Sprintf("The hits scatter by %s: slow down, wipe, take them again.", p.len(hn.All.S.V))
			o.Next = append(o.Next, Act{Do: "wipe", Of: t.of, Words: form.Words}, Act{Do: "round"})
		}
	}
	return form
}

// square is the centre of a square from one hit on each side.
func (b prober) square(v View, t target, o *Outcome) (found, bool) {
	c := b.contact(v)
	at, ok := c.rough(v, t)
	if !ok {
		return found{}, false
	}
	_, dof := b.spread(v)
	u2 := c.s * c.s / 2
	f := found{has: true, at: at, cov: frame.Cov2{{u2, 0}, {0, u2}}, dof: dof}
	for _, axis := range []string{"x", "y"} {
		plus, minus := quarterOf(axis)
		w, err := fit.ToWidth(fit.Web, fit.WallHit{U: v.Len(c.field(t, minus))}, fit.WallHit{U: v.Len(c.field(t, plus))}, nil, c.radius)
		if err != nil {
			b.p.cannotFind(t, err, o)
			return found{}, false
		}
		f.dia += w.Width / 2
		ok = b.p.sized(v, t, w.Width, o) && ok
	}
	if !ok {
		b.wrongSize(t, o)
	}
	return f, ok
}

func (b prober) pair(v View, t target, axis string) []Ask { return b.contact(v).pair(v, t, axis) }
func (b prober) across(v View, t target, axis string) (float64, float64, bool) {
	return b.contact(v).across(v, t, axis)
}

func (b prober) rough(v View, t target) (frame.Vec, bool) {
	if ps := hits(v, t.pre, t.n); len(ps) > 0 {
		if c, err := fit.ToCircle(ps); err == nil {
			return frame.Vec{X: c.Center.X, Y: c.Center.Y}, true
		}
		if x, ok := v.Num(hitForm(t.pre, 1)+".x", unit.KLength); ok { // the first is at 0 degrees
			return frame.Vec{X: x - b.contact(v).reach(t), Y: ps[0].Y}, true
		}
	}
	return b.contact(v).rough(v, t)
}

func (b prober) stands() []FactID { return []FactID{"ball"} }
func (b prober) says(t target) (act, read, caution string) {
	act = fmt.Sprintf("Probe the %s: %d hits at one depth.", t.name, t.n)
	if t.of == "square" {
		act = "Probe the " + t.name + ": one hit on each side."
	}
	return act, "Machine X and Y of the spindle at the trigger, no radius taken off.", "Never start the spindle with the probe fitted. Brush chips, no air blow toward face or bearings."
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
	var e frame.Vec
	if ball, ok := v.Fact("ball"); ok && contains(p.finder().stands(), "ball") {
		e = frame.Vec{X: ball.Value[2], Y: ball.Value[3]}
	}
	b := p.Job.Fixture.AsMade.Bore
	at, how := frame.AsMade{Bias: frame.Vec{X: b.Bias[0], Y: b.Bias[1]}, Eccentricity: frame.Vec{X: b.Eccentricity[0], Y: b.Eccentricity[1]}}.Centre(raw, false, e)
	if !contains(p.finder().stands(), "ball") { // nothing of a probe is in it
		return at, "the machine's part of the as-made bias"
	}
	return at, how.String()
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
	fitting, ok := fittings[p.Setup.Finds]
	if !ok {
		fitting = fittings["probe"]
	}
	return &Spec{
		Title: "locating " + first.name, Live: []FactID{"identity"}, AsRead: append([]FactID{"skew"}, fd.stands()...), Seen: []FactID{"offset"}, Makes: []FactID{"bore"},
		Keys: []string{"setups." + p.Setup.Name + ".hits", "setups." + p.Setup.Name + ".finds"},
		Pause: &Pause{Heading: fitting.heading, Lost: "From here a tap costs bore, floor and offset.",
			Ask: func(View) Ask {
				return Ask{Label: "fixture bolts that turn when tried with the wrench", Kind: Count, What: What{By: "count", Of: "fixture-bolts", Dir: "loose"}, Want: "0",
					WantWhy: "A loose bolt lets the fixture move.", Hint: "Tighten all and declare the fixture tapped.",
					Do: []Act{{Do: "fit", Of: fitting.of, Words: fitting.words}}}
			}},
		Asks: func(v View) []Ask {
			asks := fd.asks(v, first)
			if _, grows := fd.(sweeper); second == nil || grows && !allTaken(v, asks) {
				return asks // the first one is swept until it stands still
			}
			return append(asks, fd.asks(v, *second)...)
		},
		Judge: func(v View) Outcome {
			var o Outcome
			f, ok := fd.centre(v, first, &o)
			if !f.has {
				return o
			}
			at, how := p.corrected(v, f.at)
			fact := Fact{ID: "bore", Value: []float64{at.X, at.Y, f.dia}, Cov: [][]float64{{f.cov[0][0], f.cov[0][1]}, {f.cov[1][0], f.cov[1][1]}}, Dof: f.dof}
			o.Lines = append(o.Lines, Row{Label: first.name + " X (M)", Value: at.X, Unit: unit.KLength, Signed: true, Big: true}, Row{Label: first.name + " Y (M)", Value: at.Y, Unit: unit.KLength, Signed: true, Big: true})
			o.Notes = append(o.Notes, "Corrected once: "+how+".")
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
