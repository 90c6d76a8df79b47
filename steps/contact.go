package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// quarterOf are the two opposed quarters on an axis, + first.
func quarterOf(axis string) (plus, minus int) {
	if axis == "x" {
		return 0, 2
	}
	return 1, 3
}

// contact reads a centre as the middle between opposed contacts, one number each:
// whatever the ball, the finder or the tool adds on one side it adds on the other.
type contact struct {
	p      *Plan
	by     string
	radius float64 // what lies between spindle axis and surface at contact
	s      float64 // standard deviation of one contact
	verb   string  // hit, kick
}

func (c contact) field(t target, i int) string { return t.pre + quarters[i].field }

func (c contact) reach(t target) float64 {
	if t.outside() {
		return t.dia/2 + c.radius
	}
	return t.dia/2 - c.radius
}

func (c contact) pair(v View, t target, axis string) []Ask {
	a, b := quarterOf(axis)
	at := c.p.expect(v, t, axis)
	var asks []Ask
	for _, i := range []int{a, b} {
		q := quarters[i]
		side := q.cos + q.sin
		ask := Ask{Field: c.field(t, i), Label: fmt.Sprintf("%s, %s at %s, %s", t.name, c.verb, clock(q.dir), strings.ToUpper(axis)), Kind: Reading, Unit: unit.KLength,
			What: What{By: c.by, Of: t.of, Dir: q.dir, Axis: axis}, Window: c.p.travelWindow(axis)}
		opposite, taken := v.Num(c.field(t, a+b-i), unit.KLength)
		switch {
		case taken:
			ask.Window = around(opposite+2*side*c.reach(t), 1, "the "+c.verb+" across")
		case at != nil:
			ask.Window = around(at.Want+side*c.reach(t), at.Half, at.Why)
		}
		if ask.Window != nil {
			ask.Window.Slips = c.p.slips(v, axis, c.radius, nil)
			if taken {
				ask.Window.Slips.Earlier = []float64{opposite}
			}
		}
		asks = append(asks, ask)
	}
	return asks
}

func (c contact) across(v View, t target, axis string) (at, u float64, ok bool) {
	a, b := quarterOf(axis)
	x, ok1 := v.Num(c.field(t, a), unit.KLength)
	y, ok2 := v.Num(c.field(t, b), unit.KLength)
	return (x + y) / 2, c.s / math.Sqrt2, ok1 && ok2
}

// faces is what the two contacts say of their own radius.
func (c contact) faces(v View, t target, axis string) fit.OppositeFaces {
	a, b := quarterOf(axis)
	return fit.ToOppositeFaces(v.Len(c.field(t, b)), v.Len(c.field(t, a)), t.dia, !t.outside())
}

func (c contact) rough(v View, t target) (frame.Vec, bool) {
	x, _, ok1 := c.across(v, t, "x")
	y, _, ok2 := c.across(v, t, "y")
	return frame.Vec{X: x, Y: y}, ok1 && ok2
}

// kicker is an edge finder, or a tool against paper: two opposed contacts an axis.
type kicker struct {
	p  *Plan
	by string
}

// Standard deviation of a contact felt through paper, mm (estimate, common practice).
const paperRepeat = 0.010

func (k kicker) contact() contact {
	c := contact{p: k.p, by: k.by, verb: "kick", s: 0.005}
	if k.by == "paper" {
		c.verb, c.s = "touch", paperRepeat
		if ns := k.p.toolNumbers(); len(ns) > 0 {
			c.radius = k.p.Job.Tools[ns[0]].Dia/2 + paperThickness
		}
	} else if f := k.p.Job.Machine.Finder; f != nil {
		c.radius, c.s = f.Dia/2, f.Repeat
	}
	return c
}

func (k kicker) asks(v View, t target) []Ask {
	c := k.contact()
	asks := append(c.pair(v, t, "x"), c.pair(v, t, "y")...)
	const sides = "Both X sides first, go to the middle of the two, then both Y sides. Come up slowly, the same way each time"
	asks[0].Do = []Act{{Do: "wipe", Of: t.of, Words: fmt.Sprintf("Wipe the %s. %s.", t.name, sides)}}
	if k.by == "finder" { // it was wiped before the spindle turned
		asks[0].Do = []Act{{Do: "move", Of: t.of, Words: fmt.Sprintf("Lower it into the %s, hands out, then spindle on at 800 to 1200 rpm. %s; let it kick, STOP THE SPINDLE, then read.", t.name, sides)}}
		if t.outside() {
			asks[0].Do[0].Words = strings.Replace(asks[0].Do[0].Words, "into the ", "beside the ", 1)
		}
	}
	return asks
}

func (k kicker) centre(v View, t target, o *Outcome) (found, bool) {
	c := k.contact()
	at, ok := c.rough(v, t)
	if !ok {
		return found{}, false
	}
	var off float64
	worst := "x"
	for _, axis := range []string{"x", "y"} {
		f := c.faces(v, t, axis)
		o.Lines = append(o.Lines, Row{Label: "radius from " + strings.ToUpper(axis), Value: f.Radius, Unit: unit.KLength})
		if d := f.Radius - c.radius; math.Abs(d) > math.Abs(off) {
			off, worst = d, axis
		}
	}
	l := atLeast(k.p.Limit("bore.radius"), 3.5*c.s)
	r := Judged(l, math.Abs(off), 0)
	if r.Verdict == Fail {
		a, b := quarterOf(worst)
		r.Words = fmt.Sprintf("The two %s sides make the radius %s off: check both for a late %s or a chip.", strings.ToUpper(worst), k.p.len(math.Abs(off)), c.verb)
		o.Named = "bad-hit"
		o.Next = append(o.Next, Act{Do: "wipe", Of: t.of, Words: r.Words}, Act{Do: "again", Of: c.field(t, a)}, Act{Do: "again", Of: c.field(t, b)})
	}
	o.Checks = append(o.Checks, r)
	u2 := c.s * c.s / 2
	return found{has: true, at: at, cov: frame.Cov2{{u2, 0}, {0, u2}}, dof: typeB}, r.Verdict == Pass
}

func (k kicker) pair(v View, t target, axis string) []Ask { return k.contact().pair(v, t, axis) }
func (k kicker) across(v View, t target, axis string) (float64, float64, bool) {
	return k.contact().across(v, t, axis)
}
func (k kicker) rough(v View, t target) (frame.Vec, bool) { return k.contact().rough(v, t) }
func (k kicker) stands() []FactID                         { return nil }
func (k kicker) says(t target) (act, read, caution string) {
	if k.by == "paper" {
		return "Touch the " + t.name + " through paper from all four sides.", "Readout position of the spindle, nothing taken off.", "SPINDLE STOPPED: turn it by hand only. Keep fingers off the cutter."
	}
	return "Kick off the " + t.name + " from all four sides.", "Kick, STOP, then read: the spindle's position, nothing taken off.",
		turnsNow
}

// turnsNow is the caution where an edge finder runs, stoppedYet the one while it is fitted.
const (
	turnsNow   = "The spindle turns now: hands out until it has STOPPED."
	stoppedYet = "SPINDLE STOPPED while hands are in."
)

// atLeast raises a limit to what the instrument can tell.
func atLeast(l Limit, least float64) Limit {
	l.Max = math.Max(l.Max, least)
	return l
}

// typeB are the degrees of freedom given to an instrument whose repeat is known from its card or by practice.
const typeB = 50

// checkCaution is the caution of a recheck, which reads by what the setup was found with.
func (p *Plan) checkCaution() string {
	if p.Setup.Finds == "edge finder" {
		return "Stopped while hands are in. Where the edge finder turns, hands out until it has STOPPED."
	}
	return "SPINDLE STOPPED, its command off."
}
