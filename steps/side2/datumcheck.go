package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// rimAsks touch both points of the fixture's rim, with what they are expected to read.
func rimAsks(p *fold.Plan, v fold.View, fl fold.Known, half float64) []fold.Ask {
	var asks []fold.Ask
	bore, found := v.Was("bore")
	for i, q := range kit.Rim(p) {
		a := fold.Ask{Field: fmt.Sprintf("rim%d", i+1), Label: "rim: " + kit.OnFixture(p, q, bore, found), Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: kit.TouchBy(p), Of: "rim@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "z-", Axis: "z"}, Window: kit.TravelWindow(
				p, "z")}
		if l, ok := facts.Length.Of(kit.ZDatum(p).Thing()).In(v); ok {
			a.Window = kit.Around(rimWas(p, fl, q)+float64(l.L), half, "the rim as before")
		}
		asks = append(asks, a)
	}
	return asks
}

// rimWas is the rim's height at one of its points, as an offset, by the floor fact, with
// the block that lies under the tool at each touch.
func rimWas(p *fold.Plan, fl fold.Known, q jobs.Point) float64 {
	r := kit.Rim(p)
	mx, my := (r[0].X+r[1].X)/2, (r[0].Y+r[1].Y)/2
	f, _ := facts.Floor.Read(fl)
	return float64(f.Rim) + float64(f.Block) + float64(f.TiltX)*(q.X-mx) + float64(f.TiltY)*(q.Y-my)
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

// datumCheck proves bore and floor as before. After a new homing the difference is
// the new home position: it then makes both anew, shifted by it.
func datumCheck(p *fold.Plan) *fold.Spec {
	first, second := kit.Targets(p)
	thing := first.Name
	due := func(v fold.View, f fold.FactID) bool {
		if _, ok := v.Was(f); !ok {
			return false
		}
		for _, h := range v.Pending {
			if m, ok := p.Mishap(h.ID); ok && m.Hits(f, h.Tool) && m.Recheck(f) == "datum-check" {
				return true
			}
		}
		return false
	}
	homed := func(v fold.View) bool { return v.PendingAny("rehomed", "power-lost") }
	moved := func(v fold.View) bool {
		return v.PendingAny("part-bumped", "fixture-tapped", "spindle-crash", "head-moved")
	}
	half := func(v fold.View) float64 {
		if homed(v) {
			return 5
		}
		return 0.5
	}
	two := func(v fold.View) bool {
		was, ok := v.Was("bore")
		return ok && second != nil && len(was.Value) > 4 && v.PendingAny("part-bumped", "temperature-moved")
	}
	boreLimit := func(v fold.View) fold.Limit {
		return judge.BoreMoved(p, v.Walks(3), v.PendingAny("part-bumped"))
	}
	floorLimit := func(v fold.View) fold.Limit {
		l := rimLimit(p)
		if v.PendingAny("fixture-tapped") {
			l.Max /= 2
		}
		return l
	}
	// difference is now less before.
	difference := func(v fold.View) (d frame.Vec, dia float64, rim [2]float64, okB, okF bool) {
		if was, ok := facts.Bore.Was(v); ok && due(v, "bore") {
			if raw, _, has := cross(p, v, first); has {
				c, _ := corrected(p, v, raw)
				d, dia, okB = frame.Vec{X: c.X - float64(was.X), Y: c.Y - float64(was.Y)}, sizeAcross(p, v, first), true
			}
		}
		if was, ok := v.Was("floor"); ok && due(v, "floor") {
			l, has := facts.Length.Of(kit.ZDatum(p).Thing()).In(v)
			okF = has
			for i, q := range kit.Rim(p) {
				z, got := v.Num(fmt.Sprintf("rim%d", i+1), unit.KLength)
				okF = okF && got
				if has {
					rim[i] = z - float64(l.L) - rimWas(p, was, q)
				}
			}
		}
		return
	}
	// home says that the difference is a new home position rather than a fault.
	home := func(v fold.View) bool {
		d, _, rim, okB, okF := difference(v)
		if !homed(v) || moved(v) {
			return false
		}
		return okB && d.Len() > boreLimit(v).Max || okF && math.Abs(rim[0]+rim[1])/2 > floorLimit(v).Max
	}
	complete := func(v fold.View) bool {
		_, _, _, okB, okF := difference(v)
		return okB == due(v, "bore") && okF == due(v, "floor")
	}
	sp := &fold.Spec{
		Title: thing + " and floor check", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.AsRead(kit.ZDatum(p)), fold.IfThere("drift")),
		Recheck: &fold.Recheck{Before: "offset", Lifts: []fold.FactID{"bore", "floor", "offset", "echo"},
			Remakes: []fold.FactID{"bore", "floor"}}, Makes: []fold.FactID{"drift"},
		Bare: BoreCovered(p),
	}
	sp.Needs = fold.Needs(sp.Needs, fold.AsRead(kit.Finder(p).Stands()...))
	sp.Asks = func(v fold.View) []fold.Ask {
		var asks []fold.Ask
		if due(v, "bore") {
			asks = crossAsks(p, v, first)
			asks[0].Do = append([]fold.Act{fitting(p, "Wipe the "+thing+".")}, asks[0].Do...)
			if two(v) {
				asks = append(asks, crossAsks(p, v, *second)...)
			}
			for i := range asks {
				if w := asks[i].Window; w != nil && homed(v) {
					w.Half = math.Max(w.Half, half(v))
				}
			}
		}
		if was, ok := v.Was("floor"); ok && due(v, "floor") {
			asks = append(asks, rimAsks(p, v, was, half(v))...)
		}
		if f, ok := v.Was("offset"); ok && v.PendingAny("rehomed") && complete(v) && !home(v) {
			if _, echoed := v.Was("echo"); echoed {
				page := checks.EchoAsks(p, v, f)
				for i := range page {
					page[i].Do = nil
				}
				page[0].Do = []fold.Act{{Do: "look", Of: "offset", Words: "X, Y and Z are as before. Now open the control's offset page and read it."}}
				asks = append(asks, page...)
			}
		}
		return asks
	}
	sp.Judge = func(v fold.View) fold.Outcome {
		var o fold.Outcome
		d, dia, rim, okB, okF := difference(v)
		dz := (rim[0] + rim[1]) / 2
		isHome := home(v)
		fail := func(c *fold.Check, words string) {
			if c.Verdict == fold.Fail {
				c.Words = words
				o.Next = append(o.Next, fold.Act{Do: "declare", Of: "fixture-tapped", Words: words +
					" If wiping and reading again does not help, the fixture has moved: part out, then declare it tapped."})
				o.Named = "fixture-moved"
			}
		}
		most := 0.0
		if okB {
			was, _ := facts.Bore.Was(v)
			size := judge.Of(p.Limit("check.size"), math.Abs(dia-float64(was.Dia)), 0)
			if dia == 0 || was.Dia == 0 { // not every instrument measures it
				size.Got, size.Verdict = 0, fold.Pass
			}
			if size.Verdict == fold.Fail {
				size.Words = fmt.Sprintf("The %s measures %s, before %s: a chip, or another stylus.", thing, p.Len(dia), p.Len(float64(was.Dia)))
				o.Next = append(o.Next, fold.Act{Do: "wipe", Of: thing, Words: size.Words + " Wipe it and take the hits again."}, fold.Act{Do: "round"})
				o.Named = "chip-in-bore"
			}
			if dia > 0 {
				o.Checks = append(o.Checks, size)
			}
			if !isHome {
				c := judge.Of(boreLimit(v), d.Len(), 0)
				fail(&c, fmt.Sprintf("The %s stands %s from where it stood.", thing, p.Len(d.Len())))
				o.Checks = append(o.Checks, c)
				most = math.Max(most, d.Len())
			}
			if two(v) {
				raw1, _, _ := cross(p, v, first)
				if raw2, _, has := cross(p, v, *second); has {
					to := second.From.Turned(float64(was.Theta)).Times(was.Scale)
					off := raw2.Sub(raw1).Sub(to).Len()
					l := judge.BoreMoved(p, v.Walks(3), false)
					l.ID, l.Why = "check.two", "second "+thing+" from the first as before"
					c := judge.Of(l, off, 0)
					fail(&c, fmt.Sprintf("The second %s stands %s from where it should: the fixture has turned or grown.", thing, p.Len(off)))
					o.Checks = append(o.Checks, c)
				}
			}
			o.Lines = append(o.Lines, fold.Row{Label: thing + " X", Value: d.X, Unit: unit.KLength, Signed: true, Big: true},
				fold.Row{Label: thing + " Y", Value: d.Y, Unit: unit.KLength, Signed: true, Big: true})
		}
		if okF {
			if isHome {
				c := judge.Of(rimLimit(p), math.Abs(rim[0]-rim[1]), 0)
				fail(&c, "The rim's two points do not agree: the fixture has tilted, or a chip.")
				o.Checks = append(o.Checks, c)
			} else {
				c := judge.Of(floorLimit(v), checks.MaxAbs(rim[:]), 0)
				fail(&c, fmt.Sprintf("The rim stands %s from where it stood.", p.Len(checks.MaxAbs(rim[:]))))
				o.Checks = append(o.Checks, c)
				most = math.Max(most, checks.MaxAbs(rim[:]))
			}
			o.Lines = append(o.Lines, fold.Row{Label: "Z", Value: dz, Unit: unit.KLength, Signed: true, Big: true})
		}
		for _, c := range []struct {
			f    fold.FactID
			done bool
		}{{"bore", okB}, {"floor", okF}} {
			if due(v, c.f) && !c.done { // read while the length did not stand: nothing was compared
				o.Leaves = append(o.Leaves, c.f)
				o.Notes = append(o.Notes, fmt.Sprintf("The %s could not be compared: what its readings rest on did not stand. It is not proven by "+
					"this check.", c.f))
			}
		}
		if f, ok := v.Was("offset"); ok && v.Has("z0") && !isHome {
			checks.EchoChecks(p, v, f, &o)
		}
		if isHome {
			if was, ok := v.Was("bore"); ok && okB {
				f, _ := facts.Bore.Read(was)
				f.X += unit.Length(d.X)
				f.Y += unit.Length(d.Y)
				was.Value, was.Void = facts.Bore.Is(f).Value, nil
				o.Facts = append(o.Facts, was)
			}
			if was, ok := v.Was("floor"); ok && okF {
				f, _ := facts.Floor.Read(was)
				f.Z += unit.Length(dz)
				f.Rim += unit.Length(dz)
				was.Value, was.Void = facts.Floor.Is(f).Value, nil
				o.Facts = append(o.Facts, was)
			}
			o.Learned = fmt.Sprintf("The machine has a new home position: X %s Y %s Z %s. The offset is shifted by it and read back again.",
				kit.Signed(p, d.X), kit.Signed(p, d.Y), kit.Signed(p, dz))
		} else {
			o.Learned = fmt.Sprintf("As before within %s; that much is carried in the budget.", p.Len(most))
		}
		if old, ok := facts.Drift.In(v); ok {
			most = math.Max(most, float64(old.D))
		}
		o.Facts = append(o.Facts, facts.Drift.Is(facts.DriftFact{D: unit.Length(most)}))
		return o
	}
	sp.Page = func(v fold.View) fold.Page {
		return fold.Page{Why: "Two minutes here tell whether hours of work still stand.",
			Act:     "Find the " + thing + " by the fewest readings and touch the rim twice.",
			Read:    "Machine position at contact.",
			Caution: kit.CheckCaution(p) + " Z first when moving over clamps.", Scene: kit.Scene(p, v, nil)}
	}
	return sp
}

// sizeAcross is the diameter between opposed contacts, 0 with an instrument that does not measure it.
func sizeAcross(p *fold.Plan, v fold.View, t kit.Target) float64 {
	b, ok := kit.Finder(p).(kit.Prober)
	if !ok {
		return 0
	}
	var span [2]float64
	for i, axis := range kit.AxisName[:2] {
		plus, minus := kit.QuarterOf(axis)
		x, ok1 := v.Num(t.Pre+kit.Quarters[plus].Field, unit.KLength)
		y, ok2 := v.Num(t.Pre+kit.Quarters[minus].Field, unit.KLength)
		if !ok1 || !ok2 {
			return 0
		}
		span[i] = math.Abs(x - y)
	}
	r := b.Contact(v).Radius
	if t.Outside() {
		r = -r
	}
	return (span[0]+span[1])/2 + 2*r
}
