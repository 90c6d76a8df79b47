package kit

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Target is a thing of the fixture that has a centre: its bore, pin or square, or the second one.
type Target struct {
	Pre  string    // of its fields
	Of   string    // as What names it: bore, bore2, pin, pin2, square
	Name string    // for the person
	Dia  float64   // diameter, or width of a square, by the card, mm
	N    int       // hits of a whole circle
	From frame.Vec // its place on the card, from the first
	Cut  bool      // just cut: its size is what is wanted, and held against nothing
	two  bool      // touched once on each axis: see twohits.go
	base string    // prefix of the first one's fields, for a second one
	jog  string    // prefix of another target's fields whose jog test serves, "" for its own
}

// Outside says that it is reached from outside.
func (t Target) Outside() bool { return !strings.HasPrefix(t.Of, "bore") }

// Found is a centre as the readings say, not yet corrected, machine coordinates.
type Found struct {
	Has bool // the readings make a centre
	pickup.Centre
	Turned *pickup.StopsFound // of stops: how they lie, found with it
}

// finder is an instrument that finds centres. Each step that wants a centre asks
// through it, so that a step is the same with any of them.
type finder interface {
	// Asks are those of a whole centre; they may grow with what was read.
	Asks(v fold.View, t Target) []fold.Ask
	// Centre reduces them, judges them and names the bad one; ok when all of it passes.
	Centre(v fold.View, t Target, o *fold.Outcome) (f Found, ok bool)
	// Pair asks for the coordinate on one axis alone, by the fewest readings.
	Pair(v fold.View, t Target, axis string) []fold.Ask
	// Across is that coordinate with its standard uncertainty.
	Across(v fold.View, t Target, axis string) (at, u float64, ok bool)
	// rough is the centre as far as this round's readings tell.
	rough(v fold.View, t Target) (frame.Vec, bool)
	// Stands lists what its readings rest on.
	Stands() []fold.FactID
	// Says are the words of a page.
	Says(t Target) (act, read, caution string)
}

// Targets are the first and, where the card has one, the second thing to find.
func Targets(p *fold.Plan) (first Target, second *Target) {
	b := &p.Job.Fixture.AsMade.Bore
	thing := Locator(p)
	first = Target{Of: thing, Name: thing, Dia: b.Dia, N: hitCount(p)}
	if b2 := p.Job.Fixture.AsMade.Bore2; b2 != nil {
		second = &Target{Pre: "b2", Of: thing + "2", Name: "second " + thing, Dia: b2.Dia, N: 4, From: Vec(b2.At), two: byTwo(p)}
		if second.Dia == 0 {
			second.Dia = b.Dia
		}
	}
	return first, second
}

// hitCount is how many hits the first circle takes.
func hitCount(p *fold.Plan) int {
	if Crosses(p) {
		return 4
	}
	return circleHits(p)
}

// circleHits is how many hits a whole circle takes.
func circleHits(p *fold.Plan) int {
	if p.Setup.Hits < 3 {
		return 6
	}
	return p.Setup.Hits
}

// expect is where one coordinate of a target should be: as it was found, or from the first one by the card.
func expect(p *fold.Plan, v fold.View, t Target, axis string) *fold.Window {
	along := func(c frame.Vec) float64 {
		if axis == "y" {
			return c.Y
		}
		return c.X
	}
	first, _ := Targets(p)
	if ch, has := facts.Chain.Perhaps(v); has && t.Cut {
		return Around(along(frame.Vec{X: float64(ch.X), Y: float64(ch.Y)}.Add(t.From)), FoundAgain, "the program that cut it")
	}
	b, found := facts.Bore.Perhaps(v)
	was := frame.Vec{X: float64(b.X), Y: float64(b.Y)}
	if t.Of == first.Of {
		if found {
			return Around(along(was), FoundAgain, "as it was found")
		}
		if first.Pre, first.jog = t.jog, ""; t.jog == "" || t.jog == t.Pre {
			return nil
		}
		if x, _, known := Finder(p).Across(v, first, axis); known {
			return Around(x, UnderOne, "before the last tap")
		}
		return nil
	}
	first.Pre, first.jog = t.base, t.jog
	half, theta := FoundAgain, 0.0
	if s, has := facts.Skew.Perhaps(v); has {
		theta = float64(s.Theta)
	} else {
		half += unsquared * t.From.Len()
	}
	to := along(t.From.Turned(theta))
	if b, known := Finder(p).rough(v, first); known {
		return Around(along(b)+to, half, "the first one and the card")
	}
	if x, _, known := Finder(p).Across(v, first, axis); known {
		return Around(x+to, half, "the first one and the card")
	}
	if found {
		return Around(along(was)+to, half, "the "+first.Name+" as it was found and the card")
	}
	return nil
}

// Slips is what is known around a coordinate: the other axis, and what stands in the work offset.
func Slips(p *fold.Plan, v fold.View, axis string, tip float64, other *float64) unit.SlipContext {
	s := unit.SlipContext{TipRadius: tip, Other: other, Step: p.Job.Machine.Readout}
	if f, ok := facts.Offset.Perhaps(v); ok {
		s.Offset = float64(f.Along(axis))
	}
	return s
}

// sizeNow is the size that a target should have now, and how far it may be from it: as made times the scale of the
// fixture where both of its centres were read, else as made, and what heat may have done.
func sizeNow(p *fold.Plan, v fold.View, t Target) (want float64, l fold.Limit, byScale bool) {
	l = p.Limit("bore.size")
	if q, both := grownBy(p, v); both {
		if b, err := frame.BoreGrown(t.Dia, t.Dia, q, 0, 0, 0); err == nil {
			return b.Want, l, true
		}
	}
	l.Max += FixtureAlpha(p) * t.Dia * math.Abs(warmer(p, v))
	return t.Dia, l, false
}

// grownBy is the scale of the fixture since it was made, by both of its centres; since the third walk, where both
// were read.
func grownBy(p *fold.Plan, v fold.View) (q float64, ok bool) {
	first, second := Targets(p)
	if second == nil || !v.Walks(3) || v.Round == nil {
		return 1, false
	}
	a, ok1 := Finder(p).rough(v, first)
	b, ok2 := Finder(p).rough(v, *second)
	if !ok1 || !ok2 {
		return 1, false
	}
	_, q, _, err := frame.TwoBores(a, b, second.From, frame.Cov2{}, frame.Cov2{})
	return q, err == nil
}

// sized holds a measured size against the card's.
func sized(p *fold.Plan, v fold.View, t Target, dia float64, o *fold.Outcome) bool {
	if t.Cut {
		return true
	}
	want, l, byScale := sizeNow(p, v, t)
	k := judge.Off(l, dia, want, 0)
	o.Lines = append(o.Lines, fold.Row{Label: t.Name + " diameter", Value: dia, Unit: unit.KLength})
	if k.Verdict == fold.Fail {
		k.Words = fmt.Sprintf("The %s measures %s, made %s.", t.Name, p.Len(dia), p.Len(t.Dia))
		if byScale {
			k.Words = fmt.Sprintf("The %s measures %s, made %s; grown like the fixture it is %s.", t.Name, p.Len(dia), p.Len(t.Dia), p.Len(want))
		}
	}
	o.Checks = append(o.Checks, k)
	return k.Verdict == fold.Pass
}

// CannotFind is an outcome of readings that make no centre.
func CannotFind(p *fold.Plan, t Target, err error, o *fold.Outcome) {
	o.Checks = append(o.Checks, fold.Check{Limit: fold.Limit{ID: t.Of + ".hits", Why: "the readings make a centre", Class: fold.Never},
		Count: true, Verdict: fold.Fail, Words: err.Error() + "."})
	o.Next = append(o.Next, fold.Act{Do: "round", Words: "Read the " + t.Name + " again: " + err.Error() + "."})
}
