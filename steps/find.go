package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// target is a thing of the fixture that has a centre: its bore, pin or square, or the second one.
type target struct {
	pre  string    // of its fields
	of   string    // as What names it: bore, bore2, pin, pin2, square
	name string    // for the person
	dia  float64   // diameter, or width of a square, by the card, mm
	n    int       // hits of a whole circle
	from frame.Vec // its place on the card, from the first
	base string    // prefix of the first one's fields, for a second one
	jog  string    // prefix of another target's fields whose jog test serves, "" for its own
}

// outside says that it is reached from outside.
func (t target) outside() bool { return !strings.HasPrefix(t.of, "bore") }

// found is a centre as the readings say, not yet corrected, machine coordinates.
type found struct {
	has bool // the readings make a centre
	at  frame.Vec
	dia float64 // 0 when the instrument does not measure it
	cov frame.Cov2
	dof float64
}

// finder is an instrument that finds centres. Each step that wants a centre asks
// through it, so that a step is the same with any of them.
type finder interface {
	// asks are those of a whole centre; they may grow with what was read.
	asks(v View, t target) []Ask
	// centre reduces them, judges them and names the bad one; ok when all of it passes.
	centre(v View, t target, o *Outcome) (f found, ok bool)
	// pair asks for the coordinate on one axis alone, by the fewest readings.
	pair(v View, t target, axis string) []Ask
	// across is that coordinate with its standard uncertainty.
	across(v View, t target, axis string) (at, u float64, ok bool)
	// rough is the centre as far as this round's readings tell.
	rough(v View, t target) (frame.Vec, bool)
	// stands lists what its readings rest on.
	stands() []FactID
	// says are the words of a page.
	says(t target) (act, read, caution string)
}

// finder is the instrument that the job finds with.
func (p *Plan) finder() finder {
	switch p.Setup.Finds {
	case "dial":
		return sweeper{p}
	case "pin":
		return pinner{p}
	case "edge finder":
		return kicker{p, "finder"}
	case "paper":
		return kicker{p, "paper"}
	}
	return prober{p}
}

// targets are the first and, where the card has one, the second thing to find.
func (p *Plan) targets() (first target, second *target) {
	b := &p.Job.Fixture.AsMade.Bore
	thing := p.locator()
	first = target{of: thing, name: thing, dia: b.Dia, n: p.hitCount()}
	if b2 := p.Job.Fixture.AsMade.Bore2; b2 != nil {
		second = &target{pre: "b2", of: thing + "2", name: "second " + thing, dia: b2.Dia, n: 4, from: vec(b2.At)}
		if second.dia == 0 {
			second.dia = b.Dia
		}
	}
	return first, second
}

// hitCount is how many hits the first circle takes.
func (p *Plan) hitCount() int {
	if p.Setup.Hits < 3 {
		return 6
	}
	return p.Setup.Hits
}

// expect is where one coordinate of a target should be: as it was found, or from the first one by the card.
func (p *Plan) expect(v View, t target, axis string) *Window {
	along := func(c frame.Vec) float64 {
		if axis == "y" {
			return c.Y
		}
		return c.X
	}
	first, _ := p.targets()
	if t.of == first.of {
		for _, get := range []func(FactID) (Fact, bool){v.Fact, v.Was} {
			if b, has := get("bore"); has {
				return around(along(frame.Vec{X: b.Value[0], Y: b.Value[1]}), 1, "as it was found")
			}
		}
		return nil
	}
	first.pre, first.jog = t.base, t.jog
	half, theta := 1.0, 0.0
	if s, has := v.Fact("skew"); has {
		theta = s.Value[0]
	} else {
		half += 0.02 * t.from.Len() // not squared yet: a degree
	}
	to := along(t.from.Turned(theta))
	if b, known := p.finder().rough(v, first); known {
		return around(along(b)+to, half, "the first one and the card")
	}
	if x, _, known := p.finder().across(v, first, axis); known {
		return around(x+to, half, "the first one and the card")
	}
	return nil
}

// slips is what is known around a coordinate: the other axis, and what stands in the work offset.
func (p *Plan) slips(v View, axis string, tip float64, other *float64) unit.SlipContext {
	s := unit.SlipContext{TipRadius: tip, Other: other, Step: p.Job.Machine.Readout}
	for _, get := range []func(FactID) (Fact, bool){v.Fact, v.Was} {
		if f, ok := get("offset"); ok && len(f.Value) > 2 {
			s.Offset = f.Value[map[string]int{"x": 0, "y": 1, "z": 2}[axis]]
		}
	}
	return s
}

// sized holds a measured size against the card's.
func (p *Plan) sized(v View, t target, dia float64, o *Outcome) bool {
	l := p.Limit("bore.size")
	l.Max += p.fixtureAlpha() * t.dia * math.Abs(p.warmer(v))
	k := Judged(l, math.Abs(dia-t.dia), 0)
	o.Lines = append(o.Lines, Row{Label: t.name + " D", Value: dia, Unit: unit.KLength})
	if k.Verdict == Fail {
		k.Words = fmt.Sprintf("The %s measures %s, made %s.", t.name, p.len(dia), p.len(t.dia))
	}
	o.Checks = append(o.Checks, k)
	return k.Verdict == Pass
}

// cannotFind is an outcome of readings that make no centre.
func (p *Plan) cannotFind(t target, err error, o *Outcome) {
	o.Checks = append(o.Checks, Check{Limit: Limit{ID: t.of + ".hits", Why: "the readings make a centre", Class: Never}, Count: true, Verdict: Fail, Words: err.Error() + "."})
	o.Next = append(o.Next, Act{Do: "round", Words: "Read the " + t.name + " again: " + err.Error() + "."})
}
