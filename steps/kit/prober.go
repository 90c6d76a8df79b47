package kit

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Prober is a touch probe: a circle of hits, or a pair.
type Prober struct{ P *fold.Plan }

// hitForm names the form of a hit, from 1.
func hitForm(pre string, i int) string { return fmt.Sprintf("%shit%d", pre, i) }

func (b Prober) Contact(v fold.View) Contact {
	s, _ := b.spread(v)
	return Contact{p: b.P, By: "probe", Verb: "hit", Contact: pickup.Contact{Radius: FaceRadius(b.P, v), S: s}}
}

// spread is the scatter of one hit of the stylus in force and its degrees of freedom.
func (b Prober) spread(v fold.View) (s, dof float64) {
	s, dof = judge.ProbeS(b.P)
	if k, _ := v.Perhaps("ball"); len(k.Value) > 5 {
		ball, _ := facts.Ball.Read(k)
		s, dof = math.Max(float64(ball.S), pickup.StepU(b.P.Job.Machine.Readout)), ball.Freedom
	}
	return s, dof
}

func (b Prober) Asks(v fold.View, t Target) []fold.Ask {
	p := b.P
	if t.Of == "square" {
		c := b.Contact(v)
		asks := append(c.Pair(v, t, "x"), c.Pair(v, t, "y")...)
		asks[0].Do = []fold.Act{{Do: "wipe", Of: t.Of, Words: "Wipe the " + t.Name +
			". One hit in the middle of each side: both X sides, then both Y sides."}}
		return asks
	}
	if !Crosses(p) {
		return b.circleAsks(v, t)
	}
	if t.two {
		return b.twoAsks(v, t)
	}
	asks := b.quarterAsks(v, t)
	if b.wholeCircle(v, t) {
		asks = append(asks, b.circleAsks(v, whole(p, t))...)
	}
	return asks
}

// whole is a target that is touched all round.
func whole(p *fold.Plan, t Target) Target {
	t.N = circleHits(p)
	return t
}

func (b Prober) circleAsks(v fold.View, t Target) []fold.Ask {
	p := b.P
	var asks []fold.Ask
	r := b.Contact(v).reach(t)
	var c frame.Vec
	why, known, half := "", false, UnderOne
	if x, y := expect(p, v, t, "x"), expect(p, v, t, "y"); x != nil && y != nil {
		c, why, half, known = frame.Vec{X: x.Want, Y: y.Want}, x.Why, x.Half, true
	}
	var earlier [2][]float64
	for i := 0; i < t.N; i++ {
		a := 2 * math.Pi * float64(i) / float64(t.N)
		deg := Place(math.Round(1e4*360*float64(i)/float64(t.N)) / 1e4)
		form := hitForm(t.Pre, i+1)
		hx, okx := v.Num(form+".x", unit.KLength)
		hy, oky := v.Num(form+".y", unit.KLength)
		want := [2]float64{c.X + r*math.Cos(a), c.Y + r*math.Sin(a)}
		for j, axis := range []string{"x", "y"} {
			ask := fold.Ask{Field: form + "." + axis, Label: fmt.Sprintf("%s hit %d at %s, %s", t.Name, i+1, clock(deg), strings.ToUpper(axis)),
				Kind: fold.Reading, Unit: unit.KLength,
				Form: form, What: fold.What{By: "probe", Of: t.Of, Dir: deg, Axis: axis}, Window: TravelWindow(p, axis)}
			if known {
				w := Around(want[j], half, why)
				w.Slips = Slips(p, v, axis, BallRadius(p, v), &want[1-j])
				w.Slips.Earlier = earlier[j]
				ask.Window = w
			}
			asks = append(asks, ask)
		}
		if okx && oky {
			if i == 0 { // what was hit counts for more than what was expected
				c, why, known = frame.Vec{X: hx - r*math.Cos(a), Y: hy - r*math.Sin(a)}, "the hits before", true
				half = UnderOne
			}
			earlier[0], earlier[1] = append(earlier[0], hx), append(earlier[1], hy)
		}
	}
	words := fmt.Sprintf("Wipe the %s; a vacuum or a cotton bud takes out what is left, no air. Take %d hits at one depth, coming from its "+
		"middle.", t.Name, t.N)
	if t.Outside() {
		words = fmt.Sprintf("Wipe the %s. Take %d hits at one depth, straight toward its middle.", t.Name, t.N)
	}
	asks[0].Do = []fold.Act{{Do: "wipe", Of: t.Of, Words: words}}
	return asks
}

// BallRadius is the mean effective radius of the stylus in force.
func BallRadius(p *fold.Plan, v fold.View) float64 {
	if b, ok := facts.Ball.Perhaps(v); ok {
		return BallOf(b).Mean()
	}
	return 0
}

// Hits are the taken hits of a circle.
func Hits(v fold.View, pre string, n int) []fit.Point {
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

func (b Prober) Centre(v fold.View, t Target, o *fold.Outcome) (Found, bool) {
	if t.Of == "square" {
		return b.square(v, t, o)
	}
	p := b.P
	if t.two {
		return b.twoCentre(v, t, o)
	}
	if Crosses(p) {
		if !b.wholeCircle(v, t) {
			return b.crossCentre(v, t, o)
		}
		t = whole(p, t)
	}
	ps := Hits(v, t.Pre, t.N)
	s, dof := b.spread(v)
	at, hn, err := pickup.Circle(ps, t.Outside(), BallRadius(p, v), budget.Spread{S: s, Dof: dof})
	if err != nil {
		CannotFind(p, t, err, o)
		return Found{}, false
	}
	c := hn.All
	f := Found{Has: true, Centre: at}
	sized := sized(p, v, t, f.Dia, o)
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
	o.Lines = append(o.Lines, fold.Row{Label: "hits off the circle, s", Value: c.S.V, Unit: unit.KLength})
	return f, form.Verdict == fold.Pass && sized
}

// wrongSize is the act after a diameter that is not the card's.
func (b Prober) wrongSize(t Target, o *fold.Outcome) {
	o.Next = append(o.Next, fold.Act{Do: "wipe", Of: t.Of, Words: fmt.Sprintf("The %s has not its size as made. Is it wiped, is it the right "+
		"stylus, is it the right %s? Take all hits again.", t.Name, t.Name)}, fold.Act{Do: "round"})
}

// form judges the scatter of the hits and names the bad one.
func (b Prober) form(t Target, hn fit.HitNaming, o *fold.Outcome) fold.Check {
	p := b.P
	form := judge.Of(p.Limit("bore.form"), hn.All.S.V, 0)
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
		form.Verdict = fold.Fail
		form.Words = fmt.Sprintf("%s near %s o'clock: hit %d is %s %s. It would have moved the %s's centre by %s.", fold.Capital(what),
			oclock(deg), hn.Index+1,
			p.Len(math.Abs(hn.Deviation)), long, t.Name, p.Len(hn.Shift))
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: t.Of, Dir: fmt.Sprintf("%.0f", deg),
			Words: fmt.Sprintf("Wipe the %s at the %s o'clock side, then take hit %d again.", t.Name, oclock(deg), hn.Index+1)},
			fold.Act{Do: "again", Of: hitForm(t.Pre, hn.Index+1)})
	case fit.Unnamed:
		form.Verdict = fold.Fail
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
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: t.Of, Words: which + ". Wipe the " + t.Name + " and take all hits again."},
			fold.Act{Do: "round"})
	case fit.Harmless:
		form.Verdict = fold.Pass
		if hn.Index >= 0 {
			o.Notes = append(o.Notes, fmt.Sprintf("Hit %d is off by %s: harmless here.", hn.Index+1, p.Len(hn.Deviation)))
		} else {
			o.Notes = append(o.Notes, "One hit is a little off, by too little to matter.")
		}
	default:
		if form.Verdict == fold.Fail {
			form.Words = fmt.Sprintf("The hits scatter by %s: slow down, wipe, take them again.", p.Len(hn.All.S.V))
			o.Next = append(o.Next, fold.Act{Do: "wipe", Of: t.Of, Words: form.Words}, fold.Act{Do: "round"})
		}
	}
	return form
}

// square is the centre of a square from one hit on each side.
func (b Prober) square(v fold.View, t Target, o *fold.Outcome) (Found, bool) {
	c := b.Contact(v)
	x, y, ok := c.both(v, t)
	if !ok {
		return Found{}, false
	}
	_, dof := b.spread(v)
	f := Found{Has: true, Centre: c.Cross(x, y, dof)}
	for _, axis := range []string{"x", "y"} {
		plus, minus := QuarterOf(axis)
		w, err := fit.ToWidth(fit.Web, fit.WallHit{U: v.Len(c.field(t, minus))}, fit.WallHit{U: v.Len(c.field(t, plus))}, nil, c.Radius)
		if err != nil {
			CannotFind(b.P, t, err, o)
			return Found{}, false
		}
		f.Dia += w.Width / 2
		ok = sized(b.P, v, t, w.Width, o) && ok
	}
	if !ok {
		b.wrongSize(t, o)
	}
	return f, ok
}

func (b Prober) Pair(v fold.View, t Target, axis string) []fold.Ask {
	return b.Contact(v).Pair(v, t, axis)
}

func (b Prober) Across(v fold.View, t Target, axis string) (float64, float64, bool) {
	return b.Contact(v).Across(v, t, axis)
}

func (b Prober) rough(v fold.View, t Target) (frame.Vec, bool) {
	if t.two {
		if at, _, ok := b.twoHits(v, t); ok {
			return at, true
		}
	}
	if ps := Hits(v, t.Pre, t.N); len(ps) > 0 {
		if c, err := fit.ToCircle(ps); err == nil {
			return frame.Vec{X: c.Center.X, Y: c.Center.Y}, true
		}
		if x, ok := v.Num(hitForm(t.Pre, 1)+".x", unit.KLength); ok { // the first is at 0 degrees
			return frame.Vec{X: x - b.Contact(v).reach(t), Y: ps[0].Y}, true
		}
	}
	return b.Contact(v).rough(v, t)
}

func (b Prober) Stands() []fold.FactID { return []fold.FactID{"ball"} }

func (b Prober) Says(t Target) (act, read, caution string) {
	act = fmt.Sprintf("Probe the %s: %d hits at one depth.", t.Name, t.N)
	if Crosses(b.P) {
		act = "Probe the " + t.Name + ": four hits across, at one depth."
	}
	if t.Of == "square" {
		act = "Probe the " + t.Name + ": one hit on each side."
	}
	return act, "Machine X and Y of the spindle at the trigger, no radius taken off.",
		"Never start the spindle with the probe fitted. Brush chips out, no air."
}
