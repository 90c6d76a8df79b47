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
			ask := Ask{Field: form + "." + axis, Label: fmt.Sprintf("%s hit %d at %s, %s", t.name, i+1, clock(deg), strings.ToUpper(axis)), Kind: Reading, Unit: unit.KLength,
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
	words := fmt.Sprintf("Wipe the %s; a vacuum or a cotton bud takes out what is left, no air. Take %d hits at one depth, coming from its middle.", t.name, t.n)
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
		form.Words = fmt.Sprintf("%s near %s o'clock: hit %d is %s %s. It would have moved the %s's centre by %s.", Capital(what), oclock(deg), hn.Index+1,
			p.len(math.Abs(hn.Deviation)), long, t.name, p.len(hn.Shift))
		o.Next = append(o.Next, Act{Do: "wipe", Of: t.of, Dir: fmt.Sprintf("%.0f", deg), Words: fmt.Sprintf("Wipe the %s at the %s o'clock side, then take hit %d again.", t.name, oclock(deg), hn.Index+1)},
			Act{Do: "again", Of: hitForm(t.pre, hn.Index+1)})
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
	return act, "Machine X and Y of the spindle at the trigger, no radius taken off.", "Never start the spindle with the probe fitted. Brush chips out, no air."
}
