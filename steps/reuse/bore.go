package reuse

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/growth"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// touched is a bore or a pin by four touches: its centre with its covariance, its diameter with its standard uncertainty.
type touched struct {
	at     frame.Vec
	cov    frame.Cov2
	dia, u float64
}

func touch(p *fold.Plan, v fold.View, t kit.Target) (r touched) {
	c := contact(p, v)
	x, ux, _ := c.Across(v, t, "x")
	y, uy, _ := c.Across(v, t, "y")
	r.at, r.cov = frame.Vec{X: x, Y: y}, frame.Cov2{{ux * ux, 0}, {0, uy * uy}}
	if v.Walks(4) {
		r.dia, r.u = c.Size(v, t), c.SizeU(tipU(p, c))
	} else { // a pin was reckoned as a bore, and the tip's radius as known
		t.Of = "bore"
		r.dia, r.u = c.Size(v, t), c.S
	}
	return r
}

// tipU is the standard uncertainty of the radius of what touches: a ball by its eight hits in the ring, whose own size stands in
// the card's bore-u as well; an edge finder's size is by its card, and it kicks as well as it repeats.
func tipU(p *fold.Plan, c kit.Contact) float64 {
	if probed(p) {
		return c.S / math.Sqrt(8)
	}
	return c.S
}

const handField = "by-hand"

// handU is the standard uncertainty of a size by hand: a pin by micrometer, a bore by a bore gauge set in one.
func handU(t kit.Target) float64 {
	if t.Outside() {
		return growth.MicrometerU
	}
	return math.Sqrt2 * growth.MicrometerU
}

// open says that the touches of an edge finder leave open whether bore 1 has worn: its radius counts twice in a size.
func (r bores) open(p *fold.Plan, v fold.View) bool {
	return !probed(p) && v.Walks(4) && r.judged(p, v).Verdict == fold.NotProven
}

// handAsks ask bore 1 by hand where that is so.
func handAsks(p *fold.Plan, v fold.View) []fold.Ask {
	t, second, ok := targets(p)
	now, back := facts.Back.In(v)
	c := contact(p, v)
	if !ok || !back || probed(p) || c.Size(v, t) == 0 || c.Size(v, second) == 0 {
		return nil
	}
	r, err := byTouch(p, v, now)
	if err != nil || !r.open(p, v) {
		return nil
	}
	a := fold.Ask{Field: handField, Label: "bore 1, by bore gauge", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "micrometer", Of: t.Of, Dir: "size"}, Window: kit.Around(r.size.Want, 0.1, "its size by now")}
	a.Do = []fold.Act{{Do: "wipe", Of: t.Of, Words: "The touches leave wear open. Bore gauge, set in a micrometer: the mean of two " +
		"diameters."}}
	if t.Outside() {
		a.Label = t.Name + " 1, by micrometer"
		a.Do[0].Words = "The touches leave wear open. Micrometer, light: the mean of two diameters."
	}
	return []fold.Ask{a}
}

// judged holds bore 1 against the size that it has by now; earlier walks took its size as exact.
func (r bores) judged(p *fold.Plan, v fold.View) fold.Check {
	guard := 0.0
	if v.Walks(4) {
		guard = budget.OneSided * r.size.U
	}
	return judge.Most(p.Limit("reuse.bore"), math.Abs(r.size.Off), guard)
}

// boreChecked says it, and what to do.
func boreChecked(p *fold.Plan, v fold.View, r bores, o *fold.Outcome) fold.Check {
	w := r.judged(p, v)
	if w.Verdict == fold.Pass {
		return w
	}
	name := "Bore 1"
	if t, _ := kit.Targets(p); t.Outside() && v.Walks(4) {
		name = fold.Capital(t.Name) + " 1"
	}
	off, named := p.Len(math.Abs(r.size.Off)), "bore-worn"
	w.Words = fmt.Sprintf("%s is %s %s than it should be. Wipe it; if it stays, it is worn.", name, off, wider(r.size.Off))
	if w.Verdict == fold.NotProven {
		named = ""
		w.Words = fmt.Sprintf("%s is %s %s than it should be, known within %s: it may be worn. Wipe it.", name, off, wider(r.size.Off),
			p.Len(w.Guard))
	}
	if len(o.Next) == 0 {
		o.Named = named
		o.Next = []fold.Act{{Do: "wipe", Of: "bore", Words: w.Words + " Then all touches again."}, {Do: "round"}}
	}
	return w
}

func wider(off float64) string {
	if off < 0 {
		return "smaller"
	}
	return "wider"
}
