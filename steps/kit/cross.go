package kit

import (
	"fmt"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Four hits across, one number each, give a bore's centre as well as six with two numbers each, and its width
// twice: a chip shows in a width. What they cannot say is on which side it lies, so that the whole circle is
// asked where they do not agree.

// crossLeast is the allowance from which on four are enough: below it three lobes of a probe, which go whole
// into a centre by four hits, are a share that counts.
const crossLeast = 0.03

// offMiddle is how far beside the middle a pair may cross, mm: 0.1 makes a bore of 6 measure 0.003 less.
const offMiddle = 0.1

// Crosses says that the plan's level has bores touched by four hits.
func Crosses(p *fold.Plan) bool {
	return p.Level() != fold.Full && float64(p.Job.Allowance) >= crossLeast
}

// quarterAsks are the four hits, both X sides first.
func (b Prober) quarterAsks(v fold.View, t Target) []fold.Ask {
	c := b.Contact(v)
	asks := append(c.Pair(v, t, "x"), c.Pair(v, t, "y")...)
	asks[0].Do = []fold.Act{{Do: "wipe", Of: t.Of, Words: fmt.Sprintf("Wipe the %s. At one depth: both X sides, go to the middle of the two, "+
		"then both Y sides.", t.Name)}}
	return asks
}

// crossed are the hits across as read: the centre and the widths along X and along Y.
func (b Prober) crossed(v fold.View, t Target) (at frame.Vec, width [2]float64, ok bool, err error) {
	c := b.Contact(v)
	if at, ok = c.rough(v, t); !ok {
		return at, width, false, nil
	}
	kind := fit.Slot
	if t.Outside() {
		kind = fit.Web
	}
	for i, axis := range AxisName[:2] {
		plus, minus := QuarterOf(axis)
		lo, hi := fit.WallHit{U: v.Len(c.field(t, minus))}, fit.WallHit{U: v.Len(c.field(t, plus))}
		w, err := fit.ToWidth(kind, lo, hi, nil, c.Radius)
		if err != nil {
			return at, width, true, err
		}
		width[i] = w.Width
	}
	return at, width, true, nil
}

// agree says that the widths are the card's and each other's, so far as a pair beside the middle lets them.
func (b Prober) crossAgrees(v fold.View, t Target, width [2]float64) (x, y fold.Check) {
	want, lim, _ := sizeNow(b.P, v, t)
	y = judge.Off(lim, width[1], want, 0)
	wide := lim // X may have crossed beside the middle: shorter, never longer
	if short := want - width[0]; !t.Outside() && short > 0 {
		wide.Max += offMiddle * offMiddle / (want/2 - b.Contact(v).Radius)
	}
	x = judge.Off(wide, width[0], want, 0)
	return x, y
}

// wholeCircle says that the hits across did not agree twice, wiped in between, so that the whole circle is asked.
func (b Prober) wholeCircle(v fold.View, t Target) bool {
	k := len(v.Earlier)
	return k > 0 && b.disagree(v, t) && b.disagree(v.In(v.Earlier[k-1], v.Earlier[:k-1]), t)
}

// disagree says that the hits across do not give the card's width twice.
func (b Prober) disagree(v fold.View, t Target) bool {
	_, width, ok, err := b.crossed(v, t)
	if !ok {
		return false
	}
	x, y := b.crossAgrees(v, t, width)
	return err != nil || x.Verdict != fold.Pass || y.Verdict != fold.Pass
}

// crossCentre is the centre by the four hits alone.
func (b Prober) crossCentre(v fold.View, t Target, o *fold.Outcome) (Found, bool) {
	_, width, ok, err := b.crossed(v, t)
	if err != nil {
		CannotFind(b.P, t, err, o)
	}
	if !ok || err != nil {
		return Found{}, false
	}
	_, dof := b.spread(v)
	x, y := b.crossAgrees(v, t, width)
	x.Limit.ID, y.Limit.ID = x.Limit.ID+".x", y.Limit.ID+".y"
	x.Limit.Why, y.Limit.Why = x.Limit.Why+", along X", y.Limit.Why+", along Y"
	for i, c := range []*fold.Check{&x, &y} {
		if c.Verdict == fold.Pass {
			continue
		}
		axis := strings.ToUpper(AxisName[i])
		c.Words = fmt.Sprintf("Across %s the %s measures %s, made %s. A chip on one of the two sides.", axis, t.Name, b.P.Len(width[i]),
			b.P.Len(t.Dia))
		if o.Named == "" {
			o.Named = "chip-in-bore"
			o.Next = append(o.Next, fold.Act{Do: "wipe", Of: t.Of, Words: "Wipe the " + t.Name + ", above all its " + axis +
				" sides. Take all four hits again."}, fold.Act{Do: "round"})
		}
	}
	o.Checks = append(o.Checks, x, y)
	o.Lines = append(o.Lines, fold.Row{Label: t.Name + " along X", Value: width[0], Unit: unit.KLength},
		fold.Row{Label: t.Name + " along Y", Value: width[1], Unit: unit.KLength})
	c := b.Contact(v)
	hx, hy, _ := c.both(v, t)
	f := Found{Has: true, Centre: c.Cross(hx, hy, dof)}
	f.Dia = width[1]
	return f, x.Verdict == fold.Pass && y.Verdict == fold.Pass
}
