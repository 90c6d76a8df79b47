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

// pinner is a gauge pin in the spindle that slides into the bore.
type pinner struct{ p *fold.Plan }

func (g pinner) field(t Target, axis string, k int) string {
	return RepeatField(t.Pre+"pin."+axis, k)
}

// size asks the pin's diameter.
func (g pinner) size(t Target) fold.Ask {
	a := fold.Ask{Field: t.Pre + "pin", Label: "diameter of the gauge pin", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "gauge", Of: "pin-gauge"}, Window: Around(t.Dia-0.01, 0.25, "a pin that goes into the "+t.Name)}
	a.Do = []fold.Act{{Do: "wipe", Of: t.Of, Words: "Wipe the " + t.Name +
		". Gauge pin in the spindle: lower it by hand, move until it slides in freely."}}
	return a
}

func (g pinner) Asks(v fold.View, t Target) []fold.Ask {
	asks := []fold.Ask{g.size(t)}
	for k := 1; k <= 2; k++ {
		xs := append(g.pairK(v, t, "x", k), g.pairK(v, t, "y", k)...)
		if k == 2 {
			xs[0].Do = []fold.Act{{Do: "move", Of: "pin-gauge",
				Words: "Raise it, move off in X and Y. Come back from the other side until it slides in freely."}}
		}
		asks = append(asks, xs...)
	}
	return asks
}

func (g pinner) pairK(v fold.View, t Target, axis string, k int) []fold.Ask {
	a := fold.Ask{Field: g.field(t, axis, k), Label: fmt.Sprintf("pin slides into the %s: %s", t.Name, strings.ToUpper(axis)),
		Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "pin", Of: t.Of, Dir: "in", Axis: axis}, Form: fmt.Sprintf("%spin%d", t.Pre, k), Window: TravelWindow(g.p, axis)}
	if x, ok := v.Num(g.field(t, axis, 1), unit.KLength); ok && k > 1 {
		a.Window = Around(x, 0.1, "the first time")
	} else if w := expect(g.p, v, t, axis); w != nil {
		a.Window = w
	}
	if a.Window != nil {
		a.Window.Slips = Slips(g.p, v, axis, 0, nil)
	}
	return []fold.Ask{a}
}

// sized says that a pin's size was taken already.
func (g pinner) sized(v fold.View) bool { _, ok := g.dia(v, Target{}); return ok }

// dia is the pin's diameter: the target's own, else the one taken first, in this round or the newest before it.
func (g pinner) dia(v fold.View, t Target) (float64, bool) {
	for _, r := range append([]*fold.Round{v.Round}, newestFirst(v.Earlier)...) {
		for _, field := range []string{t.Pre + "pin", "pin"} {
			if d, ok := (fold.View{Plan: g.p, Round: r}).Num(field, unit.KLength); ok {
				return d, true
			}
		}
	}
	return 0, false
}

// clearance is the pin's play; before it is measured that of a pin that serves.
func (g pinner) clearance(v fold.View, t Target) float64 {
	if d, ok := g.dia(v, t); ok {
		return math.Max(pickup.Pin{Bore: t.Dia, Dia: d}.Play(), 0)
	}
	return 0.02
}

// at is the mean of a coordinate's readings and their range.
func (g pinner) at(v fold.View, t Target, axis string) (m, spread float64, ok bool) {
	a, ok := v.Num(g.field(t, axis, 1), unit.KLength)
	if !ok {
		return 0, 0, false
	}
	if b, two := v.Num(g.field(t, axis, 2), unit.KLength); two {
		return (a + b) / 2, math.Abs(a - b), true
	}
	return a, 0, true
}

func (g pinner) Centre(v fold.View, t Target, o *fold.Outcome) (Found, bool) {
	x, sx, ok1 := g.at(v, t, "x")
	y, sy, ok2 := g.at(v, t, "y")
	if !ok1 || !ok2 {
		return Found{}, false
	}
	gap := pickup.Pin{Bore: t.Dia, Dia: v.Len(t.Pre + "pin")}.Play()
	if gap < 0 {
		CannotFind(g.p, t, fmt.Errorf("a pin of %s does not go into a %s of %s", g.p.Len(v.Len(t.Pre+"pin")), t.Name, g.p.Len(t.Dia)), o)
		return Found{}, false
	}
	k := judge.Of(AtLeast(g.p.Limit("repeat"), gap), math.Max(sx, sy), 0)
	if k.Verdict == fold.Fail {
		k.Words = fmt.Sprintf("The two times differ by %s, more than the pin has play. Wipe, find it twice more.", g.p.Len(k.Got))
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: t.Of, Words: k.Words}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, k)
	_, u, _ := g.Across(v, t, "x")
	return Found{Has: true, Centre: pickup.Centre{At: frame.Vec{X: x, Y: y}, Cov: frame.Cov2{{u * u, 0}, {0, u * u}},
		Dof: judge.TypeB}}, k.Verdict == fold.Pass
}

func (g pinner) Pair(v fold.View, t Target, axis string) []fold.Ask { return g.pairK(v, t, axis, 1) }

// across has the pin anywhere in its play: a rectangle of half of it, and the readout's step.
func (g pinner) Across(v fold.View, t Target, axis string) (float64, float64, bool) {
	m, _, ok := g.at(v, t, axis)
	s, _ := judge.ProbeS(g.p)
	return m, pickup.PinU(g.clearance(v, t), s), ok
}

func (g pinner) rough(v fold.View, t Target) (frame.Vec, bool) {
	x, _, ok1 := g.at(v, t, "x")
	y, _, ok2 := g.at(v, t, "y")
	return frame.Vec{X: x, Y: y}, ok1 && ok2
}

func (g pinner) Stands() []fold.FactID { return nil }

func (g pinner) Says(t Target) (act, read, caution string) {
	return "Find the " + t.Name + " with the gauge pin, twice.", "Readout position of the spindle while the pin slides freely.",
		"SPINDLE STOPPED. Lower by hand: a pin that jams bends."
}
