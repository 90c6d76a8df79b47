package kit

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// QuarterOf are the two opposed quarters on an axis, + first.
func QuarterOf(axis string) (plus, minus int) {
	if axis == "x" {
		return 0, 2
	}
	return 1, 3
}

// Contact reads a centre as the middle between opposed contacts, one number each:
// whatever the ball, the finder or the tool adds on one side it adds on the other.
type Contact struct {
	pickup.Contact
	p    *fold.Plan
	By   string
	Verb string // hit, kick
}

func (c Contact) field(t Target, i int) string { return t.Pre + Quarters[i].Field }

func (c Contact) reach(t Target) float64 { return c.Reach(t.Dia, t.Outside()) }

func (c Contact) Pair(v fold.View, t Target, axis string) []fold.Ask {
	a, b := QuarterOf(axis)
	at := expect(c.p, v, t, axis)
	var asks []fold.Ask
	for _, i := range []int{a, b} {
		q := Quarters[i]
		side := q.cos + q.sin
		ask := fold.Ask{Field: c.field(t, i), Label: fmt.Sprintf("%s, %s at %s, %s", t.Name, c.Verb, clock(q.dir), strings.ToUpper(axis)),
			Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: c.By, Of: t.Of, Dir: q.dir, Axis: axis}, Window: TravelWindow(c.p, axis)}
		opposite, taken := v.Num(c.field(t, a+b-i), unit.KLength)
		switch {
		case taken:
			ask.Window = Closer(Around(opposite+2*side*c.reach(t), Across, "the "+c.Verb+" across"), around(at, side*c.reach(t)))
		case at != nil:
			ask.Window = around(at, side*c.reach(t))
		}
		if ask.Window != nil {
			ask.Window.Slips = Slips(c.p, v, axis, c.Radius, nil)
			if taken {
				ask.Window.Slips.Earlier = []float64{opposite}
			}
		}
		asks = append(asks, ask)
	}
	return asks
}

// around is a prediction of a centre as one of what lies beside it, nil of none.
func around(at *fold.Window, by float64) *fold.Window {
	if at == nil {
		return nil
	}
	return Around(at.Want+by, at.Half, at.Why)
}

func (c Contact) Across(v fold.View, t Target, axis string) (at, u float64, ok bool) {
	x, ok := c.across(v, t, axis)
	return pickup.Middle(x[0], x[1]), c.MiddleU(), ok
}

// across are the two contacts on an axis, + first.
func (c Contact) across(v fold.View, t Target, axis string) (x [2]float64, ok bool) {
	a, b := QuarterOf(axis)
	plus, ok1 := v.Num(c.field(t, a), unit.KLength)
	minus, ok2 := v.Num(c.field(t, b), unit.KLength)
	return [2]float64{plus, minus}, ok1 && ok2
}

// both are those on X and on Y.
func (c Contact) both(v fold.View, t Target) (x, y [2]float64, ok bool) {
	x, ok1 := c.across(v, t, "x")
	y, ok2 := c.across(v, t, "y")
	return x, y, ok1 && ok2
}

// Size is what they measure between opposed sides, 0 while one is missing.
func (c Contact) Size(v fold.View, t Target) float64 {
	x, y, ok := c.both(v, t)
	if !ok {
		return 0
	}
	return c.Contact.Size(x, y, t.Outside())
}

func (c Contact) rough(v fold.View, t Target) (frame.Vec, bool) {
	x, _, ok1 := c.Across(v, t, "x")
	y, _, ok2 := c.Across(v, t, "y")
	return frame.Vec{X: x, Y: y}, ok1 && ok2
}

// Kicker is an edge finder, or a tool against paper: two opposed contacts an axis.
type Kicker struct {
	P  *fold.Plan
	By string
}

func (k Kicker) Contact() Contact {
	c := Contact{p: k.P, By: k.By, Verb: "kick", Contact: pickup.Contact{S: 0.005}}
	if k.By == "paper" {
		c.Verb, c.S = "touch", judge.PaperRepeat
		if ns := ToolNumbers(k.P); len(ns) > 0 {
			c.Radius = k.P.Job.Tools[ns[0]].Dia/2 + paperThickness
		}
	} else if f := k.P.Job.Machine.Finder; f != nil {
		c.Radius, c.S = f.Dia/2, f.Repeat
	}
	return c
}

func (k Kicker) Asks(v fold.View, t Target) []fold.Ask {
	c := k.Contact()
	asks := append(c.Pair(v, t, "x"), c.Pair(v, t, "y")...)
	const sides = "Both X sides first, go to the middle of the two, then both Y sides. Come up slowly, the same way each time"
	asks[0].Do = []fold.Act{{Do: "wipe", Of: t.Of, Words: fmt.Sprintf("Wipe the %s. %s.", t.Name, sides)}}
	if k.By == "finder" { // it was wiped before the spindle turned
		asks[0].Do = []fold.Act{{Do: "move", Of: t.Of, Words: fmt.Sprintf("Lower it into the %s, hands out, then spindle on at 800 to 1200 rpm. "+
			"%s; let it kick, STOP THE SPINDLE, then read.", t.Name, sides)}}
		if t.Outside() {
			asks[0].Do[0].Words = strings.Replace(asks[0].Do[0].Words, "into the ", "beside the ", 1)
		}
	}
	return asks
}

func (k Kicker) Centre(v fold.View, t Target, o *fold.Outcome) (Found, bool) {
	c := k.Contact()
	x, y, ok := c.both(v, t)
	if !ok {
		return Found{}, false
	}
	radius, off, axis := c.RadiusOff(x, y, t.Dia, t.Outside())
	for i, r := range radius {
		o.Lines = append(o.Lines, fold.Row{Label: "radius from " + strings.ToUpper(AxisName[i]), Value: r, Unit: unit.KLength})
	}
	worst := AxisName[axis]
	l := AtLeast(k.P.Limit("bore.radius"), 3.5*c.S)
	r := judge.Of(l, math.Abs(off), 0)
	if r.Verdict == fold.Fail {
		a, b := QuarterOf(worst)
		r.Words = fmt.Sprintf("The two %s sides make the radius %s off. Check both for a late %s or a chip.", strings.ToUpper(worst),
			k.P.Len(math.Abs(off)), c.Verb)
		o.Named = "bad-hit"
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: t.Of, Words: r.Words}, fold.Act{Do: "again", Of: c.field(t, a)},
			fold.Act{Do: "again", Of: c.field(t, b)})
	}
	o.Checks = append(o.Checks, r)
	return Found{Has: true, Centre: c.Cross(x, y, judge.TypeB)}, r.Verdict == fold.Pass
}

func (k Kicker) Pair(v fold.View, t Target, axis string) []fold.Ask {
	return k.Contact().Pair(v, t, axis)
}

func (k Kicker) Across(v fold.View, t Target, axis string) (float64, float64, bool) {
	return k.Contact().Across(v, t, axis)
}

func (k Kicker) rough(v fold.View, t Target) (frame.Vec, bool) { return k.Contact().rough(v, t) }

func (k Kicker) Stands() []fold.FactID { return nil }

func (k Kicker) Says(t Target) (act, read, caution string) {
	if k.By == "paper" {
		return "Touch the " + t.Name + " through paper from all four sides.", "Readout position of the spindle, nothing taken off.",
			"SPINDLE STOPPED: turn it by hand only. Keep fingers off the cutter."
	}
	return "Kick off the " + t.Name + " from all four sides.", "Kick, STOP, then read: the spindle's position, nothing taken off.",
		TurnsNow
}

// turnsNow is the caution where an edge finder runs, stoppedYet the one while it is fitted.
const (
	TurnsNow   = "The spindle turns now: hands out until it has STOPPED."
	StoppedYet = "SPINDLE STOPPED while hands are in."
)

// AtLeast raises a limit to what the instrument can tell.
func AtLeast(l fold.Limit, least float64) fold.Limit {
	l.Max = math.Max(l.Max, least)
	return l
}

// CheckCaution is the caution of a recheck, which reads by what the setup was found with.
func CheckCaution(p *fold.Plan) string {
	if p.Setup.Finds == "edge finder" {
		return "Stopped while hands are in. Where the edge finder turns, hands out until it has STOPPED."
	}
	return "SPINDLE STOPPED, its command off."
}
