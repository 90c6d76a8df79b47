package jaws

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	calc "fliptrue/calc/jaws"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

// limit is how far a wall may move as the jaws close.
func limit(p *fold.Plan) unit.Length {
	return unit.Length(calc.WallShare * float64(p.Job.Allowance))
}

// pressed is what a force of the jaws does to what they grip: how far a wall moves by itself, the most that plug or nest
// let it move, and the force that the limit allows.
type pressed struct {
	Moves, Bound unit.Length
	By           string // what bounds it, "" for nothing
	Allowed      unit.Force
	Why          string // why it is not computed
}

// press reckons it; gap is how much wider the nest is than the part, as planned or as measured.
func press(p *fold.Plan, gap unit.Length) (r pressed) {
	j := p.Setup.Jaws
	part, err := p.Job.Library().Like(p.Job.Part.Material)
	if err != nil || !part.Stiffness.Known() {
		r.Why = "no stiffness of " + p.Job.Part.Material + " is known; give materials." + p.Job.Part.Material + ".e with its source"
	}
	r.Bound = unit.Length(math.Inf(1))
	if j.Plug {
		r.Bound, r.By = calc.PlugMost/2, "plug"
	}
	axis, _ := across(p)
	e, lim := unit.Stress(part.Stiffness.Low), limit(p)
	if j.Shape == "ring" {
		wrap := unit.Angle(j.Wrap * math.Pi / 180)
		if b := calc.Gap(gap/2, 0, wrap); b < r.Bound {
			r.Bound, r.By = b, "nest"
		}
		ring := calc.Ring{Radius: unit.Length(p.Job.Part.Size[axis]-j.Wall) / 2, Wall: unit.Length(j.Wall),
			Height: unit.Length(p.Job.Part.Size[2]), E: e}
		if r.Why != "" {
			return r
		}
		o, err := ring.Pressed(j.Most, wrap)
		if err != nil {
			r.Why = err.Error()
			return r
		}
		r.Moves = o.Spread / 2
		r.Allowed, _ = ring.Allowed(2*lim, wrap)
	} else if r.Why == "" {
		s, err := hold.Squeezed(hold.Beam{Length: unit.Length(j.Span), Width: unit.Length(p.Job.Part.Size[2]), Thick: unit.Length(j.Wall), E: e},
			hold.Simple, j.Most, lim)
		if err != nil {
			r.Why = err.Error()
			return r
		}
		r.Moves, r.Allowed = s.Bow, s.Allowed
	}
	return r
}

// bounded says that plug or nest keep the wall within the limit, whatever the force.
func (r pressed) bounded(p *fold.Plan) bool { return r.Bound <= limit(p)*(1+1e-9) }

// needed is the force that the planned cut asks for, or why it is not computed.
func needed(p *fold.Plan) (f unit.Force, why string) {
	cut, why := desk.Heaviest(p)
	if why != "" {
		return 0, why
	}
	l, err := cut.Load()
	if err != nil {
		return 0, err.Error()
	}
	mu, _ := desk.Friction(p)
	g, err := calc.ToGrip(unit.Force(cut.Corner*math.Hypot(float64(l.Fh), math.Max(float64(l.Fa), 0))), mu.Low, 0)
	if err != nil {
		return 0, err.Error()
	}
	return g.Needed, ""
}

// gentle says whether any handle is both gentle and firm enough.
func gentle(p *fold.Plan) fold.Check {
	c := fold.Check{Limit: fold.Limit{ID: "jaws.gentle", Why: "a grip that holds and does not bow the part", Class: fold.Never}, Count: true,
		Verdict: fold.Pass}
	need, why := needed(p)
	r := press(p, calc.NestMost/2)
	switch {
	case why != "" || r.bounded(p):
	case r.Why != "":
		c.Verdict, c.Words = fold.NotProven, "How far the jaws bow it is not computed: "+r.Why+"."
	case need > r.Allowed:
		c.Verdict = fold.Fail
		c.Words = fmt.Sprintf("No handle is gentle enough: the cut needs %s, the wall takes %s. Plug inside, or screws, vacuum.",
			desk.Newtons(p, need), desk.Newtons(p, r.Allowed))
	case p.Setup.Jaws.Most > r.Allowed:
		c.Verdict = fold.Fail
		c.Words = fmt.Sprintf("At its most the mark presses %s, the wall takes %s. A gentler mark, or a plug.",
			desk.Newtons(p, p.Setup.Jaws.Most), desk.Newtons(p, r.Allowed))
	}
	return c
}

// Clamped is what the jaws hold at the least force of their mark.
func Clamped(p *fold.Plan) *fold.Hold {
	j := p.Setup.Jaws
	cut, why := desk.Heaviest(p)
	if why != "" {
		return desk.NotHeld("%s", why).Hold(p)
	}
	mu, words := desk.Friction(p)
	v, err := calc.Clamped{Force: j.Force, Mu: mu.Low, Grip: unit.Length(j.Grip)}.Against(cut, unit.Length(desk.CutHeight(p)))
	if err != nil {
		return desk.NotHeld("%v", err).Hold(p)
	}
	h := desk.OneHold{Ceiling: v.Ceiling, Slip: v.Slip, Up: v.Tip, Ask: [2]float64{calc.GripSF, calc.GripSF}, UpName: "held against prying",
		Advice: "A shallower cut, a deeper nest, or screws.",
		More:   []fold.Row{{Label: "jaws press, at least", Text: desk.Newtons(p, j.Force)}, {Label: "at most", Text: desk.Newtons(p, j.Most)}},
		Rests: []string{"Friction at the jaws: " + words, "Force at the mark: " + j.Source + ".",
			"One screw holds both jaws: when it slackens nothing is left. Stand out of the part's way."}}
	return h.Hold(p)
}
