package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// still is the last look at the fixture before the cut: two sides of its bore and one of its far end, against
// where they were found. It is walked at levels alone; a full walk has the witness sets.
func still(p *fold.Plan) *fold.Spec {
	if !looksOnceMore(p) {
		return nil
	}
	return &fold.Spec{
		Title: "fixture still there", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("bore"), fold.AsRead("skew"),
			fold.IfThere("offset"), fold.LiveIfThere("ball")),
		Makes: []fold.FactID{"still"},
		Asks:  func(v fold.View) []fold.Ask { return stillAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			d, far, ok := stillOff(p, v)
			if !ok { // what it was found by is gone: nothing is made
				return o
			}
			c := judge.Most(p.Limit("check.bore"), d.Len(), 0)
			o.Checks = append(o.Checks, crept(p, c, "bore", &o))
			if far != nil {
				l := p.Limit("check.bore")
				l.ID, l.Why = "check.far", "far end of the fixture, off"
				o.Checks = append(o.Checks, crept(p, judge.Most(l, math.Abs(*far), 0), "far end", &o))
			}
			o.Facts = []fold.Known{{ID: "still"}}
			o.Learned = fmt.Sprintf("The fixture stands within %s of where it was found.", p.Len(c.Got))
			return o
		},
		Page: func(v fold.View) fold.Page {
			why := "A fixture that crept since its bore was found cuts the whole side beside."
			if !strapless(p) {
				why += " Where it stood while the holes were drilled this does not tell."
			}
			act := "Touch the fixture once more: bore at its sides RIGHT and AWAY"
			if _, second := kit.Targets(p); second != nil {
				act += ", then the second bore"
			}
			return fold.Page{Why: why, Act: act + ".",
				Read:    "Machine X and Y of the spindle at the trigger, no radius taken off.",
				Caution: "SPINDLE STOPPED, its command off.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

// looksOnceMore says that the walk has that look: from first use on, with a probe and a round bore.
func looksOnceMore(p *fold.Plan) bool {
	first, _ := kit.Targets(p)
	probed := kit.ByProbe(p)
	return p.Level() != fold.Full && p.Reads(fold.FirstUse) && probed && first.Of == "bore"
}

// stillAsks are one hit along X and one along Y in the bore, and one across the line in the second bore.
func stillAsks(p *fold.Plan, v fold.View) []fold.Ask {
	first, second := kit.Targets(p)
	f := kit.Finder(p)
	asks := []fold.Ask{f.Pair(v, first, "x")[0], f.Pair(v, first, "y")[0]}
	if second != nil {
		asks = append(asks, f.Pair(v, *second, farAxis(p))[0])
	}
	asks[0].Do = []fold.Act{fitting(p, "Wipe the bore's sides RIGHT and AWAY.")}
	return asks
}

func farAxis(p *fold.Plan) string {
	if kit.AlongY(p) {
		return "x"
	}
	return "y"
}

// stillOff is how far the bore stands from where it was found, and the far end, nil without one.
func stillOff(p *fold.Plan, v fold.View) (d frame.Vec, far *float64, ok bool) {
	b, ok := facts.Bore.In(v)
	if !ok {
		return d, nil, false
	}
	asks := stillAsks(p, v)
	was := frame.Vec{X: float64(b.X), Y: float64(b.Y)}
	zero, _ := corrected(p, v, frame.Vec{})
	raw := was.Sub(zero) // as the probe would read it, uncorrected
	first, second := kit.Targets(p)
	reach := first.Dia/2 - kit.FaceRadius(p, v)
	if b.Dia > 0 {
		reach = float64(b.Dia)/2 - kit.FaceRadius(p, v)
	}
	d = frame.Vec{X: v.Len(asks[0].Field) - raw.X - reach, Y: v.Len(asks[1].Field) - raw.Y - reach}
	if second != nil {
		theta := float64(b.Theta)
		if skew, ok := facts.Skew.In(v); ok && b.Theta == 0 {
			theta = float64(skew.Theta)
		}
		to := second.From.Turned(theta)
		at, dist := raw.Y+to.Y, v.Len(asks[2].Field)
		if farAxis(p) == "x" {
			at = raw.X + to.X
		}
		x := dist - at - (second.Dia/2 - kit.FaceRadius(p, v))
		far = &x
	}
	return d, far, true
}

// crept says what a fixture that does not stand there any more costs.
func crept(p *fold.Plan, c fold.Check, what string, o *fold.Outcome) fold.Check {
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The fixture's %s stands %s from where it was found: it was tapped or has crept.", what,
			unit.Format(c.Got, unit.KLength, p.Job.Unit, 0))
		if !strapless(p) {
			c.Words += " The holes may be off by as much: see that every screw drops in by itself."
		}
		o.Named = "tapped-after-bore"
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "declare", Of: "fixture-tapped", Words: c.Words +
				" Declare it tapped: the walk says what is read again."})
		}
	}
	return c
}
