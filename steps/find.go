package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
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
		ask := Ask{Field: c.field(t, i), Label: fmt.Sprintf("%s, %s at %s deg, %s", t.name, c.verb, q.dir, strings.ToUpper(axis)), Kind: Reading, Unit: unit.KLength,
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
	words := fmt.Sprintf("Wipe the %s. Both X sides first, go to the middle of the two, then both Y sides. Come up slowly, the same way each time.", t.name)
	if k.by == "finder" {
		words = "Edge finder in, 800 to 1200 rpm. Let it kick, STOP THE SPINDLE, then read. " + words
	}
	asks[0].Do = []Act{{Do: "wipe", Of: t.of, Words: words}}
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
		"The only prompt with a turning spindle: hands away until it has STOPPED."
}

// atLeast raises a limit to what the instrument can tell.
func atLeast(l Limit, least float64) Limit {
	l.Max = math.Max(l.Max, least)
	return l
}

// typeB are the degrees of freedom given to an instrument whose repeat is known from its card or by practice.
const typeB = 50

// pinner is a gauge pin in the spindle that slides into the bore.
type pinner struct{ p *Plan }

func (g pinner) field(t target, axis string, k int) string {
	return repeatField(t.pre+"pin."+axis, k)
}

// size asks the pin's diameter.
func (g pinner) size(t target) Ask {
	a := Ask{Field: t.pre + "pin", Label: "diameter of the gauge pin", Kind: Reading, Unit: unit.KLength, What: What{By: "gauge", Of: "pin-gauge"}, Window: around(t.dia-0.01, 0.25, "a pin that goes into the "+t.name)}
	a.Do = []Act{{Do: "wipe", Of: t.of, Words: "Wipe the " + t.name + ". Gauge pin in the spindle: lower it by hand, move until it slides in freely."}}
	return a
}

func (g pinner) asks(v View, t target) []Ask {
	asks := []Ask{g.size(t)}
	for k := 1; k <= 2; k++ {
		xs := append(g.pairK(v, t, "x", k), g.pairK(v, t, "y", k)...)
		if k == 2 {
			xs[0].Do = []Act{{Do: "move", Of: "pin-gauge", Words: "Raise it, move off in X and Y, come back from the other side until it slides in freely."}}
		}
		asks = append(asks, xs...)
	}
	return asks
}

func (g pinner) pairK(v View, t target, axis string, k int) []Ask {
	a := Ask{Field: g.field(t, axis, k), Label: fmt.Sprintf("pin slides into the %s: %s", t.name, strings.ToUpper(axis)), Kind: Reading, Unit: unit.KLength,
		What: What{By: "pin", Of: t.of, Dir: "in", Axis: axis}, Form: fmt.Sprintf("%spin%d", t.pre, k), Window: g.p.travelWindow(axis)}
	if x, ok := v.Num(g.field(t, axis, 1), unit.KLength); ok && k > 1 {
		a.Window = around(x, 0.1, "the first time")
	} else if w := g.p.expect(v, t, axis); w != nil {
		a.Window = w
	}
	if a.Window != nil {
		a.Window.Slips = g.p.slips(v, axis, 0, nil)
	}
	return []Ask{a}
}

// sized says that a pin's size was taken already.
func (g pinner) sized(v View) bool { _, ok := g.dia(v, target{}); return ok }

// dia is the pin's diameter: the target's own, else the one taken first, in this round or the newest before it.
func (g pinner) dia(v View, t target) (float64, bool) {
	for _, r := range append([]*Round{v.Round}, newestFirst(v.Earlier)...) {
		for _, field := range []string{t.pre + "pin", "pin"} {
			if d, ok := (View{Plan: g.p, Round: r}).Num(field, unit.KLength); ok {
				return d, true
			}
		}
	}
	return 0, false
}

// clearance is the pin's play; before it is measured that of a pin that serves.
func (g pinner) clearance(v View, t target) float64 {
	if d, ok := g.dia(v, t); ok {
		return math.Max(t.dia-d, 0)
	}
	return 0.02
}

// at is the mean of a coordinate's readings and their range.
func (g pinner) at(v View, t target, axis string) (m, spread float64, ok bool) {
	a, ok := v.Num(g.field(t, axis, 1), unit.KLength)
	if !ok {
		return 0, 0, false
	}
	if b, two := v.Num(g.field(t, axis, 2), unit.KLength); two {
		return (a + b) / 2, math.Abs(a - b), true
	}
	return a, 0, true
}

func (g pinner) centre(v View, t target, o *Outcome) (found, bool) {
	x, sx, ok1 := g.at(v, t, "x")
	y, sy, ok2 := g.at(v, t, "y")
	if !ok1 || !ok2 {
		return found{}, false
	}
	gap := t.dia - v.Len(t.pre+"pin")
	if gap < 0 {
		g.p.cannotFind(t, fmt.Errorf("a pin of %s does not go into a %s of %s; measure the pin", g.p.len(v.Len(t.pre+"pin")), t.name, g.p.len(t.dia)), o)
		return found{}, false
	}
	k := Judged(atLeast(g.p.Limit("repeat"), gap), math.Max(sx, sy), 0)
	if k.Verdict == Fail {
		k.Words = fmt.Sprintf("The two times differ by %s, more than the pin has play: wipe, and find it twice more.", g.p.len(k.Got))
		o.Next = append(o.Next, Act{Do: "wipe", Of: t.of, Words: k.Words}, Act{Do: "round"})
	}
	o.Checks = append(o.Checks, k)
	_, u, _ := g.across(v, t, "x")
	return found{has: true, at: frame.Vec{X: x, Y: y}, cov: frame.Cov2{{u * u, 0}, {0, u * u}}, dof: typeB}, k.Verdict == Pass
}

func (g pinner) pair(v View, t target, axis string) []Ask { return g.pairK(v, t, axis, 1) }

// across has the pin anywhere in its play: a rectangle of half of it, and the readout's step.
func (g pinner) across(v View, t target, axis string) (float64, float64, bool) {
	m, _, ok := g.at(v, t, axis)
	s, _ := g.p.probeS()
	return m, math.Hypot(g.clearance(v, t)/2/math.Sqrt(3), s), ok
}

func (g pinner) rough(v View, t target) (frame.Vec, bool) {
	x, _, ok1 := g.at(v, t, "x")
	y, _, ok2 := g.at(v, t, "y")
	return frame.Vec{X: x, Y: y}, ok1 && ok2
}
func (g pinner) stands() []FactID { return nil }
func (g pinner) says(t target) (act, read, caution string) {
	return "Find the " + t.name + " with the gauge pin, twice.", "Readout position of the spindle while the pin slides freely.", "SPINDLE STOPPED. Lower by hand: a pin that jams bends."
}
