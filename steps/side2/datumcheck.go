package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// rimAsks touch both points of the fixture's rim, with what they are expected to read.
func rimAsks(p *fold.Plan, v fold.View, fl facts.FloorFact, half float64) []fold.Ask {
	var asks []fold.Ask
	bore, found := v.Was("bore")
	for i, q := range kit.Rim(p) {
		a := fold.Ask{Field: fmt.Sprintf("rim%d", i+1), Label: "rim: " + kit.OnFixture(p, q, bore, found), Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: kit.TouchBy(p), Of: "rim@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "z-", Axis: "z"}, Window: kit.TravelWindow(
				p, "z")}
		if l, ok := facts.Length.Of(kit.ZDatum(p).Thing()).In(v); ok {
			a.Window = kit.Around(kit.RimWas(p, fl, q)+float64(l.L), half, "the rim as before")
		}
		asks = append(asks, a)
	}
	return asks
}

// rimLimit is check.floor where only the rim can be touched, and says so.
func rimLimit(p *fold.Plan) fold.Limit {
	l := p.Limit("check.floor")
	l.Why = "rim as before (the floor itself was not touched)"
	return l
}

// What is compared is an offset: machine Z less the length of the probe as it sits now. A step
// that takes the probe out voids that length from its first reading on, and the check waits for
// it: a probe that went back a hundredth longer is no fixture that sank, and one that was never
// out needs no second length. Floor less rim would do without a length, but the floor can't be
// touched with the part in.

// datumChecking proves bore and floor as before. After a new homing the difference is
// the new home position: it then makes both anew, shifted by it.
type datumChecking struct {
	p      *fold.Plan
	first  kit.Target
	second *kit.Target
	thing  string
}

// datumCheck is that as a step.
func datumCheck(p *fold.Plan) *fold.Spec {
	first, second := kit.Targets(p)
	k := datumChecking{p, first, second, first.Name}
	sp := &fold.Spec{
		Title: k.thing + " and floor check", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.AsRead(kit.ZDatum(p)), fold.IfThere("drift")),
		Recheck: &fold.Recheck{Before: "offset", Lifts: []fold.FactID{"bore", "floor", "offset", "echo"},
			Remakes: []fold.FactID{"bore", "floor"}}, Makes: []fold.FactID{"drift"},
		Bare: BoreCovered(p),
		Asks: k.asks, Judge: k.judge, Page: k.page,
	}
	sp.Needs = fold.Needs(sp.Needs, fold.AsRead(kit.Finder(p).Stands()...))
	return sp
}

// due says that a fact stood, and that what happened since wants it checked here.
func (k datumChecking) due(v fold.View, f fold.FactID) bool {
	if _, ok := v.Was(f); !ok {
		return false
	}
	for _, h := range v.Pending {
		if m, ok := k.p.Mishap(h.ID); ok && m.Hits(f, h.Tool) && m.Recheck(f) == "datum-check" {
			return true
		}
	}
	return false
}

func (k datumChecking) homed(v fold.View) bool { return v.PendingAny("rehomed", "power-lost") }

func (k datumChecking) moved(v fold.View) bool {
	return v.PendingAny("part-bumped", "fixture-tapped", "spindle-crash", "head-moved")
}

// half is the half width of what is expected to be read.
func (k datumChecking) half(v fold.View) float64 {
	if k.homed(v) {
		return 5
	}
	return 0.5
}

// two says that the second one is read as well.
func (k datumChecking) two(v fold.View) bool {
	was, ok := v.Was("bore")
	return ok && k.second != nil && len(was.Value) > 4 && v.PendingAny("part-bumped", "temperature-moved")
}

func (k datumChecking) boreLimit(v fold.View) fold.Limit {
	return judge.BoreMoved(k.p, v.Walks(3), v.PendingAny("part-bumped"))
}

func (k datumChecking) floorLimit(v fold.View) fold.Limit {
	l := rimLimit(k.p)
	if v.PendingAny("fixture-tapped") {
		l.Max /= 2
	}
	return l
}

// datumDifference is now less before.
type datumDifference struct {
	d        frame.Vec
	dia      float64 // as it measures now
	rim      [2]float64
	dz       float64 // mean of the rim
	okB, okF bool    // bore, floor: compared
}

func (k datumChecking) difference(v fold.View) (x datumDifference) {
	if was, ok := facts.Bore.Was(v); ok && k.due(v, "bore") {
		if raw, _, has := cross(k.p, v, k.first); has {
			c, _ := corrected(k.p, v, raw)
			x.d, x.dia, x.okB = frame.Vec{X: c.X - float64(was.X), Y: c.Y - float64(was.Y)}, sizeAcross(k.p, v, k.first), true
		}
	}
	if was, ok := facts.Floor.Was(v); ok && k.due(v, "floor") {
		l, has := facts.Length.Of(kit.ZDatum(k.p).Thing()).In(v)
		x.okF = has
		for i, q := range kit.Rim(k.p) {
			z, got := v.Num(fmt.Sprintf("rim%d", i+1), unit.KLength)
			x.okF = x.okF && got
			if has {
				x.rim[i] = z - float64(l.L) - kit.RimWas(k.p, was, q)
			}
		}
	}
	x.dz = (x.rim[0] + x.rim[1]) / 2
	return x
}

// home says that the difference is a new home position rather than a fault.
func (k datumChecking) home(v fold.View) bool {
	x := k.difference(v)
	if !k.homed(v) || k.moved(v) {
		return false
	}
	return x.okB && x.d.Len() > k.boreLimit(v).Max || x.okF && math.Abs(x.dz) > k.floorLimit(v).Max
}

func (k datumChecking) complete(v fold.View) bool {
	x := k.difference(v)
	return x.okB == k.due(v, "bore") && x.okF == k.due(v, "floor")
}

func (k datumChecking) asks(v fold.View) []fold.Ask {
	var asks []fold.Ask
	if k.due(v, "bore") {
		asks = crossAsks(k.p, v, k.first)
		asks[0].Do = append([]fold.Act{fitting(k.p, "Wipe the "+k.thing+".")}, asks[0].Do...)
		if k.two(v) {
			asks = append(asks, crossAsks(k.p, v, *k.second)...)
		}
		for i := range asks {
			if w := asks[i].Window; w != nil && k.homed(v) {
				w.Half = math.Max(w.Half, k.half(v))
			}
		}
	}
	if was, ok := facts.Floor.Was(v); ok && k.due(v, "floor") {
		asks = append(asks, rimAsks(k.p, v, was, k.half(v))...)
	}
	if f, ok := v.Was("offset"); ok && v.PendingAny("rehomed") && k.complete(v) && !k.home(v) {
		if _, echoed := v.Was("echo"); echoed {
			page := checks.EchoAsks(k.p, v, f)
			for i := range page {
				page[i].Do = nil
			}
			page[0].Do = []fold.Act{{Do: "look", Of: "offset", Words: "X, Y and Z are as before. Now open the control's offset page and read it."}}
			asks = append(asks, page...)
		}
	}
	return asks
}

func (k datumChecking) page(v fold.View) fold.Page {
	return fold.Page{Why: "Two minutes here tell whether hours of work still stand.",
		Act:     "Find the " + k.thing + " by the fewest readings and touch the rim twice.",
		Read:    "Machine position at contact.",
		Caution: kit.CheckCaution(k.p) + " Z first when moving over clamps.", Scene: kit.Scene(k.p, v, nil)}
}

// sizeAcross is the diameter between opposed contacts, 0 with an instrument that does not measure it.
func sizeAcross(p *fold.Plan, v fold.View, t kit.Target) float64 {
	b, ok := kit.Finder(p).(kit.Prober)
	if !ok {
		return 0
	}
	return b.Contact(v).Size(v, t)
}
