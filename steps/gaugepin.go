package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

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
