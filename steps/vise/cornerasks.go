package vise

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// spots are the two places along a face.
func (f face) spots() [2]float64 {
	return [2]float64{math.Round(nearShare * f.length), math.Round(farShare * f.length)}
}

// along is the axis that a face runs along.
func (f face) along() string {
	if f.axis == "x" {
		return "y"
	}
	return "x"
}

// cornerAsking is what the asks of a corner go by.
type cornerAsking struct {
	p      *fold.Plan
	v      fold.View
	fx, fy face
	c      kit.Contact
	size   [3]float64 // of the stock
}

func cornerAsks(p *fold.Plan, v fold.View) []fold.Ask {
	q := cornerAsking{p: p, v: v, c: faceContact(p, v), size: kit.StockSize(p, v)}
	q.fx, q.fy = pickedFaces(p)
	var asks []fold.Ask
	for i := range 2 {
		asks = append(asks, q.contact(q.fx, "a", i)...)
	}
	for i := range 2 {
		asks = append(asks, q.contact(q.fy, "b", i)...)
	}
	return asks
}

// contact asks one place on a face: both coordinates, and the one along the approach once more.
func (q cornerAsking) contact(f face, pre string, i int) []fold.Ask {
	at, name, other := f.spots()[i], fmt.Sprintf("%s%d", pre, i+1), f.along()
	where := fmt.Sprintf("%s, %s %d", f.name, q.c.Verb, i+1)
	asks := []fold.Ask{touchAsk(q.p, q.c, f, name+"."+f.axis, where+", "+strings.ToUpper(f.axis), at, f.axis, q.window(f, pre, i, f.axis)),
		touchAsk(q.p, q.c, f, name+"."+other, where+", "+strings.ToUpper(other), at, other, q.window(f, pre, i, other))}
	asks[0].Form, asks[1].Form = name, name
	again := touchAsk(q.p, q.c, f, name+".2", kit.SecondTouch(where+", "+strings.ToUpper(f.axis)), at, f.axis, q.window(f, pre, i, f.axis))
	if x, ok := q.v.Num(name+"."+f.axis, unit.KLength); ok {
		again.Window = kit.Around(x, 0.05, "the touch before")
		again.Window.Slips = kit.Slips(q.p, q.v, f.axis, q.c.Radius, nil)
	}
	if i == 0 {
		asks[0].Do = []fold.Act{come(q.c, f, "Come from one side, moving")}
	}
	return append(asks, again)
}

// window is where a contact can read, by those before it.
func (q cornerAsking) window(f face, pre string, i int, axis string) *fold.Window {
	w := kit.TravelWindow(q.p, axis)
	n, okN := q.v.Num(pre+"1."+f.axis, unit.KLength)
	l, okL := q.v.Num(pre+"1."+f.along(), unit.KLength)
	switch {
	case i == 1 && axis == f.axis && okN:
		w = kit.Around(n, kit.UnderOne, "the other contact on this face")
	case i == 1 && axis != f.axis && okL:
		w = kit.Around(l+f.spots()[i]-f.spots()[0], 5, "the place along the face")
	case pre == "b":
		x, ok1 := q.v.Num("a1.x", unit.KLength)
		y, ok2 := q.v.Num("a1.y", unit.KLength)
		switch {
		case !ok1 || !ok2:
			return w
		case axis == "x":
			return kit.Around(q.zeroX(x)+f.spots()[i], 5, "the place along the face")
		}
		w = kit.Around(q.faceY(y), 8, "the other face")
	}
	if w != nil {
		w.Slips = kit.Slips(q.p, q.v, axis, q.c.Radius, nil)
	}
	return w
}

// zeroX is about where the program zero lies along X, by the first contact on the side face.
func (q cornerAsking) zeroX(x float64) float64 {
	if q.fx.sign > 0 {
		return x - q.c.Radius - q.size[0]
	}
	return x + q.c.Radius
}

// faceY is about where the contact on the other face reads, by the place of the first along its face.
func (q cornerAsking) faceY(y float64) float64 {
	far := 0.0
	if q.fy.sign > 0 {
		far = q.size[1]
	}
	return y - q.fx.spots()[0] + far + q.fy.sign*q.c.Radius
}

// come is how a face is come to. It is wiped first, but for an edge finder before the spindle turns.
func come(c kit.Contact, f face, from string) fold.Act {
	dir := strings.ToUpper(f.dir())
	if c.By == "finder" {
		return fold.Act{Do: "move", Of: f.of, Words: fmt.Sprintf("To the %s: hands out, then spindle on at 800 to 1200 rpm. %s %s; let it kick, "+
			"STOP THE SPINDLE, then read.", f.name, from, dir)}
	}
	return fold.Act{Do: "wipe", Of: f.of, Words: fmt.Sprintf("Wipe the %s. %s %s.", f.name, from, dir)}
}

// way is a face's approach for calc.
func (f face) way() fit.Direction {
	switch {
	case f.axis == "x" && f.sign < 0:
		return fit.XPlus
	case f.axis == "x":
		return fit.XMinus
	case f.sign < 0:
		return fit.YPlus
	}
	return fit.YMinus
}
