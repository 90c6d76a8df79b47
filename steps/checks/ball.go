package checks

import (
	"fmt"

	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// RingAsks are four hits in the ring with the spindle mark to the front, and four with the spindle turned half round.
func RingAsks(p *fold.Plan, v fold.View) []fold.Ask {
	size := fold.Ask{Field: "size", Label: "size engraved on the ring", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "eye", Of: "ring", Dir: "size"},
		Do:   []fold.Act{{Do: "fit", Of: "ring", Words: "Wipe ring and ball. Ring flat on the table, probe in, spindle mark to the front."}}}
	size.Window = kit.Around(25, 24.5, "a ring gauge")
	asks := []fold.Ask{size}
	for _, o := range []struct{ pre, of, say string }{{"a", "ring", "mark to the front"}, {"b", "ring/180", "spindle turned half round"}} {
		for i, dir := range []string{"x+", "x-", "y+", "y-"} {
			axis := dir[:1]
			a := fold.Ask{Field: o.pre + "." + dir, Label: fmt.Sprintf("ring, moving %s, %s", dir, o.say), Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: "probe", Of: o.of, Dir: dir, Axis: axis}, Window: kit.TravelWindow(p, axis)}
			if w := acrossRing(p, v, o.pre, axis); w != nil && dir[1:] == "-" {
				a.Window = w
			}
			if x, ok := v.Num("a."+dir, unit.KLength); ok && o.pre == "b" {
				a.Window = kit.Around(x, 0.3, "the hit with the mark to the front")
			}
			if i == 0 && o.pre == "b" {
				a.Do = []fold.Act{{Do: "mark", Of: "spindle", Dir: "180", Words: "Turn the spindle half round by hand."}}
			}
			asks = append(asks, a)
		}
	}
	return asks
}

// acrossRing is where the hit moving to minus is expected once the one to plus was read: the ring less the ball away.
func acrossRing(p *fold.Plan, v fold.View, pre, axis string) *fold.Window {
	x, ok1 := v.Num(pre+"."+axis+"+", unit.KLength)
	size, ok2 := v.Num("size", unit.KLength)
	if !ok1 || !ok2 {
		return nil
	}
	return kit.Around(x-size+ballDia(p), kit.Across, "the hit across")
}

// ballDia is the ball of the probe by its card, mm; 2 where the card has none (common practice).
func ballDia(p *fold.Plan) float64 {
	if m := p.Job.Machine.Probe; m != nil && m.Ball > 0 {
		return m.Ball
	}
	return 2
}

// ringBall is the ball as those hits say: [rx ry ex ey].
func ringBall(p *fold.Plan, v fold.View, o *fold.Outcome) (f facts.BallFact, ok bool) {
	touches := func(pre string) fit.Touches {
		return fit.Touches{XPlus: v.Len(pre + ".x+"), XMinus: v.Len(pre + ".x-"), YPlus: v.Len(pre + ".y+"), YMinus: v.Len(pre + ".y-")}
	}
	b, err := pickup.BallOf(v.Len("size"), ballDia(p), touches("a"), touches("b"))
	if err != nil {
		o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: "ball.ring", Why: "ring, ball and hits against each other",
			Class: fold.Never}, Count: true, Verdict: fold.Fail, Words: err.Error() + "."})
		o.Next = append(o.Next, fold.Act{Do: "round", Words: "Wipe ring and ball, take the hits again: " + err.Error() + "."})
		return f, false
	}
	return facts.BallFact{RX: unit.Length(b.RX), RY: unit.Length(b.RY), EX: unit.Length(b.EX), EY: unit.Length(b.EY)}, true
}

// ballPage is the page of both.
func ballPage(act string) func(fold.View) fold.Page {
	return func(fold.View) fold.Page {
		return fold.Page{Why: "The radius that counts is where the probe triggers, not where the ball ends.",
			Act:     act,
			Read:    "Machine position at the trigger; probe X, move to the middle, probe Y.",
			Caution: "Never start the spindle with the probe fitted: lock its command off."}
	}
}

// Calibrate takes the ball anew in a ring.
func Calibrate(p *fold.Plan) *fold.Spec {
	if p.Job.Machine.Probe == nil {
		return nil
	}
	return &fold.Spec{
		Title: "ball calibration", Recheck: &fold.Recheck{Before: "bore", Lifts: []fold.FactID{"bore", "floor", "baseline", "shift"}},
		Makes: []fold.FactID{"ball"},
		Asks: func(v fold.View) []fold.Ask {
			asks := RingAsks(p, v)
			if v.PendingAny("probe-changed") {
				a := fold.Ask{Field: "purpose", Label: "the stylus was", Kind: fold.Choice, Options: []string{"changed on purpose after the last hit",
					"bumped, or it is not known when"}, What: fold.What{By: "eye", Of: "probe", Dir: "purpose"}}
				asks = append([]fold.Ask{a}, asks...)
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			b, ok := ringBall(p, v, &o)
			if !ok {
				return o
			}
			s, dof := judge.ProbeS(p)
			b.S, b.Freedom = unit.Length(s), dof
			o.Facts = []fold.Known{facts.Ball.Is(b)}
			ecc := judge.Of(fold.Limit{ID: "ball.eccentricity", Why: "eccentricity of the ball", Max: 0.010, Class: fold.Soft, Unit: unit.KLength},
				kit.BallOf(b).Runs(), 0)
			if ecc.Verdict == fold.Fail {
				ecc.Words = "The ball stands off the spindle axis. Adjust the stylus, or keep the spindle mark to the front always."
				o.Next = append(o.Next, fold.Act{Do: "adjust", Of: "probe", Words: ecc.Words}, fold.Act{Do: "round"})
			}
			o.Checks = append(o.Checks, ecc)
			o.Lines = ballLines(b)
			o.Learned = fmt.Sprintf("Effective radius %s along X, %s along Y.", p.Num(float64(b.RX)), p.Num(float64(b.RY)))
			if before, ok := ballBefore(p, v); ok && v.PendingAny("probe-changed") &&
				!fold.SameAnswer(v.Text("purpose"), "changed on purpose after the last hit") {
				dr, de := kit.BallDifference(b, before)
				if dr > p.Limit("check.ball").Max || de > p.Limit("check.eccentricity").Max {
					// A witness set is part minus fixture, each with its own radii: it comes back with any calibration.
					o.Leaves = []fold.FactID{"bore", "floor"}
					o.Notes = append(o.Notes, fmt.Sprintf("The ball is not what it was, by %s in radius and %s in place: bore and floor are to be read "+
						"again.", p.Len(dr), p.Len(de)))
				}
			}
			return o
		},
		Page: ballPage("Calibrate the ball in the ring: four hits, turn the spindle half round, four hits."),
	}
}

// BallBefore is Calibrate in a setup that only reads by the ball: it comes back before the step first, and lifts nothing; nil without
// a probe.
func BallBefore(p *fold.Plan, first fold.StepID) *fold.Spec {
	s := Calibrate(p)
	if s != nil {
		s.Recheck = &fold.Recheck{Before: first}
	}
	return s
}

// ballBefore is the calibration before this round.
func ballBefore(p *fold.Plan, v fold.View) (facts.BallFact, bool) {
	for i := len(v.Earlier) - 1; i >= 0; i-- {
		var o fold.Outcome
		if b, ok := ringBall(p, fold.View{Plan: p, Round: v.Earlier[i]}, &o); ok && has(v.Earlier[i], "b.y-") {
			return b, true
		}
	}
	for _, f := range p.Given() {
		if f.ID == "ball" {
			return facts.Ball.Read(f)
		}
	}
	return facts.BallFact{}, false
}

func ballLines(b facts.BallFact) []fold.Row {
	return []fold.Row{{Label: "radius X", Value: float64(b.RX), Unit: unit.KLength, Big: true},
		{Label: "radius Y", Value: float64(b.RY), Unit: unit.KLength},
		{Label: "eccentricity X", Value: float64(b.EX), Unit: unit.KLength, Signed: true},
		{Label: "eccentricity Y", Value: float64(b.EY), Unit: unit.KLength, Signed: true}}
}

// BallCheck proves that the ball is what it was, after the probe was taken out and put back.
func BallCheck(p *fold.Plan) *fold.Spec {
	if p.Job.Machine.Probe == nil {
		return nil
	}
	return &fold.Spec{
		Title: "ball check", Recheck: &fold.Recheck{Before: "bore", Lifts: []fold.FactID{"ball"}},
		Asks: func(v fold.View) []fold.Ask { return RingAsks(p, v) },
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			b, ok := ringBall(p, v, &o)
			was, known := facts.Ball.Was(v)
			if !ok || !known {
				return o
			}
			dr, de := kit.BallDifference(b, was)
			r, e := judge.Of(p.Limit("check.ball"), dr, 0), judge.Of(p.Limit("check.eccentricity"), de, 0)
			for _, c := range []*fold.Check{&r, &e} {
				if c.Verdict == fold.Fail {
					c.Words = "The ball is not what it was: calibrate it."
					o.Named = "probe-refitted"
				}
			}
			if o.Named != "" {
				o.Next = append(o.Next, fold.Act{Do: "look", Of: "ball", Words: "The probe sits otherwise in its collet: calibrate the ball in the " +
					"ring."})
			}
			o.Checks = append(o.Checks, r, e)
			o.Lines = ballLines(b)
			o.Learned = fmt.Sprintf("The ball is as before within %s; it stands %s from where it stood.", p.Len(dr), p.Len(de))
			return o
		},
		Page: ballPage("Check the ball in the ring: four hits, turn the spindle half round, four hits."),
	}
}

// has says that something was taken at a round's field.
func has(r *fold.Round, field string) bool { _, ok := r.Get(field); return ok }
