package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// rimAsks touch both points of the fixture's rim, with what they are expected to read.
func (p *Plan) rimAsks(v View, fl Fact, half float64) []Ask {
	var asks []Ask
	bore, found := v.Was("bore")
	for i, q := range p.rim() {
		a := Ask{Field: fmt.Sprintf("rim%d", i+1), Label: "rim: " + p.onFixture(q, bore, found), Kind: Reading, Unit: unit.KLength,
			What: What{By: p.touchBy(), Of: "rim@" + place(q.X) + "," + place(q.Y), Dir: "z-", Axis: "z"}, Window: p.travelWindow("z")}
		if l, ok := v.Fact(p.zDatum()); ok {
			a.Window = around(p.rimWas(fl, q)+l.Value[0], half, "the rim as before")
		}
		asks = append(asks, a)
	}
	return asks
}

// rimWas is the rim's height at one of its points, as an offset, by the floor fact, with
// the block that lies under the tool at each touch.
func (p *Plan) rimWas(fl Fact, q jobs.Point) float64 {
	r := p.rim()
	mx, my := (r[0].X+r[1].X)/2, (r[0].Y+r[1].Y)/2
	return fl.Value[3] + blockOf(fl) + fl.Value[1]*(q.X-mx) + fl.Value[2]*(q.Y-my)
}

// rimLimit is check.floor where only the rim can be touched, and says so.
func (p *Plan) rimLimit() Limit {
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
func datumCheck(p *Plan) *Spec {
	first, second := p.targets()
	thing := first.name
	due := func(v View, f FactID) bool {
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
	homed := func(v View) bool { return v.PendingAny("rehomed", "power-lost") }
	moved := func(v View) bool {
		return v.PendingAny("part-bumped", "fixture-tapped", "spindle-crash", "head-moved")
	}
	half := func(v View) float64 {
		if homed(v) {
			return 5
		}
		return 0.5
	}
	two := func(v View) bool {
		was, ok := v.Was("bore")
		return ok && second != nil && len(was.Value) > 4 && v.PendingAny("part-bumped", "temperature-moved")
	}
	boreLimit := func(v View) Limit {
		l := p.Limit("check.bore")
		if v.PendingAny("part-bumped") {
			l.Max /= 2
		}
		return l
	}
	floorLimit := func(v View) Limit {
		l := p.rimLimit()
		if v.PendingAny("fixture-tapped") {
			l.Max /= 2
		}
		return l
	}
	// difference is now less before.
	difference := func(v View) (d frame.Vec, dia float64, rim [2]float64, okB, okF bool) {
		if was, ok := v.Was("bore"); ok && due(v, "bore") {
			if raw, _, has := p.cross(v, first); has {
				c, _ := p.corrected(v, raw)
				d, dia, okB = frame.Vec{X: c.X - was.Value[0], Y: c.Y - was.Value[1]}, p.sizeAcross(v, first), true
			}
		}
		if was, ok := v.Was("floor"); ok && due(v, "floor") {
			l, has := v.Fact(p.zDatum())
			okF = has
			for i, q := range p.rim() {
				z, got := v.Num(fmt.Sprintf("rim%d", i+1), unit.KLength)
				okF = okF && got
				if has {
					rim[i] = z - l.Value[0] - p.rimWas(was, q)
				}
			}
		}
		return
	}
	// home says that the difference is a new home position rather than a fault.
	home := func(v View) bool {
		d, _, rim, okB, okF := difference(v)
		if !homed(v) || moved(v) {
			return false
		}
		return okB && d.Len() > boreLimit(v).Max || okF && math.Abs(rim[0]+rim[1])/2 > floorLimit(v).Max
	}
	complete := func(v View) bool {
		_, _, _, okB, okF := difference(v)
		return okB == due(v, "bore") && okF == due(v, "floor")
	}
	sp := &Spec{
		Title: thing + " and floor check", At: "offset", AsRead: []FactID{p.zDatum()}, Lifts: []FactID{"bore", "floor", "offset", "echo"}, May: []FactID{"bore", "floor"}, Makes: []FactID{"drift"},
		Seen: []FactID{"drift"}, Bare: p.boreCovered(),
	}
	sp.AsRead = append(sp.AsRead, p.finder().stands()...)
	sp.Asks = func(v View) []Ask {
		var asks []Ask
		if due(v, "bore") {
			asks = p.crossAsks(v, first)
			asks[0].Do = append([]Act{p.fitting("Wipe the " + thing + ".")}, asks[0].Do...)
			if two(v) {
				asks = append(asks, p.crossAsks(v, *second)...)
			}
			for i := range asks {
				if w := asks[i].Window; w != nil && homed(v) {
					w.Half = math.Max(w.Half, half(v))
				}
			}
		}
		if was, ok := v.Was("floor"); ok && due(v, "floor") {
			asks = append(asks, p.rimAsks(v, was, half(v))...)
		}
		if f, ok := v.Was("offset"); ok && v.PendingAny("rehomed") && complete(v) && !home(v) {
			if _, echoed := v.Was("echo"); echoed {
				page := p.echoAsks(f)
				for i := range page {
					page[i].Do = nil
				}
				page[0].Do = []Act{{Do: "look", Of: "offset", Words: "X, Y and Z are as before. Now open the control's offset page and read it."}}
				asks = append(asks, page...)
			}
		}
		return asks
	}
	sp.Judge = func(v View) Outcome {
		var o Outcome
		d, dia, rim, okB, okF := difference(v)
		dz := (rim[0] + rim[1]) / 2
		isHome := home(v)
		fail := func(c *Check, words string) {
			if c.Verdict == Fail {
				c.Words = words
				o.Next = append(o.Next, Act{Do: "declare", Of: "fixture-tapped", Words: words + " If wiping and reading again does not help, the fixture has moved: part out, then declare it tapped."})
				o.Named = "fixture-moved"
			}
		}
		most := 0.0
		if okB {
			was, _ := v.Was("bore")
			size := Judged(p.Limit("check.size"), math.Abs(dia-was.Value[2]), 0)
			if dia == 0 || was.Value[2] == 0 { // not every instrument measures it
				size.Got, size.Verdict = 0, Pass
			}
			if size.Verdict == Fail {
				size.Words = fmt.Sprintf("The %s measures %s, before %s: a chip, or another stylus.", thing, p.len(dia), p.len(was.Value[2]))
				o.Next = append(o.Next, Act{Do: "wipe", Of: thing, Words: size.Words + " Wipe it and take the hits again."}, Act{Do: "round"})
				o.Named = "chip-in-bore"
			}
			if dia > 0 {
				o.Checks = append(o.Checks, size)
			}
			if !isHome {
				c := Judged(boreLimit(v), d.Len(), 0)
				fail(&c, fmt.Sprintf("The %s stands %s from where it stood.", thing, p.len(d.Len())))
				o.Checks = append(o.Checks, c)
				most = math.Max(most, d.Len())
			}
			if two(v) {
				raw1, _, _ := p.cross(v, first)
				if raw2, _, has := p.cross(v, *second); has {
					to := second.from.Turned(was.Value[4]).Times(was.Value[3])
					off := raw2.Sub(raw1).Sub(to).Len()
					l := p.Limit("check.bore")
					l.ID, l.Why = "check.two", "second "+thing+" from the first as before"
					c := Judged(l, off, 0)
					fail(&c, fmt.Sprintf("The second %s stands %s from where it should: the fixture has turned or grown.", thing, p.len(off)))
					o.Checks = append(o.Checks, c)
				}
			}
			o.Lines = append(o.Lines, Row{Label: thing + " X", Value: d.X, Unit: unit.KLength, Signed: true, Big: true}, Row{Label: thing + " Y", Value: d.Y, Unit: unit.KLength, Signed: true, Big: true})
		}
		if okF {
			if isHome {
				c := Judged(p.rimLimit(), math.Abs(rim[0]-rim[1]), 0)
				fail(&c, "The rim's two points do not agree: the fixture has tilted, or a chip.")
				o.Checks = append(o.Checks, c)
			} else {
				c := Judged(floorLimit(v), maxAbs(rim[:]), 0)
				fail(&c, fmt.Sprintf("The rim stands %s from where it stood.", p.len(maxAbs(rim[:]))))
				o.Checks = append(o.Checks, c)
				most = math.Max(most, maxAbs(rim[:]))
			}
			o.Lines = append(o.Lines, Row{Label: "Z", Value: dz, Unit: unit.KLength, Signed: true, Big: true})
		}
		for _, c := range []struct {
			f    FactID
			done bool
		}{{"bore", okB}, {"floor", okF}} {
			if due(v, c.f) && !c.done { // read while the length did not stand: nothing was compared
				o.Leaves = append(o.Leaves, c.f)
				o.Notes = append(o.Notes, fmt.Sprintf("The %s could not be compared: what its readings rest on did not stand. It is not proven by this check.", c.f))
			}
		}
		if f, ok := v.Was("offset"); ok && v.Has("z0") && !isHome {
			p.echoChecks(v, f, &o)
		}
		if isHome {
			if was, ok := v.Was("bore"); ok && okB {
				f := was
				f.Value = append([]float64(nil), was.Value...)
				f.Value[0] += d.X
				f.Value[1] += d.Y
				f.Void = nil
				o.Facts = append(o.Facts, f)
			}
			if was, ok := v.Was("floor"); ok && okF {
				f := was
				f.Value = append([]float64(nil), was.Value...)
				f.Value[0] += dz
				f.Value[3] += dz
				f.Void = nil
				o.Facts = append(o.Facts, f)
			}
			o.Learned = fmt.Sprintf("The machine has a new home position: X %s Y %s Z %s. The offset is shifted by it and read back again.", unit.Signed(d.X, unit.KLength, p.Job.Unit, 0), unit.Signed(d.Y, unit.KLength, p.Job.Unit, 0), unit.Signed(dz, unit.KLength, p.Job.Unit, 0))
		} else {
			o.Learned = fmt.Sprintf("As before within %s; that much is carried in the budget.", p.len(most))
		}
		if old, ok := v.Fact("drift"); ok && len(old.Value) > 0 {
			most = math.Max(most, old.Value[0])
		}
		o.Facts = append(o.Facts, Fact{ID: "drift", Value: []float64{most}})
		return o
	}
	sp.Page = func(v View) Page {
		return Page{Why: "Two minutes here tell whether hours of work still stand.",
			Act:     "Find the " + thing + " by the fewest readings and touch the rim twice.",
			Read:    "Machine position at contact.",
			Caution: p.checkCaution() + " Z first when moving over clamps.", Scene: p.scene(v, nil)}
	}
	return sp
}

// sizeAcross is the diameter between opposed contacts, 0 with an instrument that does not measure it.
func (p *Plan) sizeAcross(v View, t target) float64 {
	b, ok := p.finder().(prober)
	if !ok {
		return 0
	}
	var span [2]float64
	for i, axis := range axisName[:2] {
		plus, minus := quarterOf(axis)
		x, ok1 := v.Num(t.pre+quarters[plus].field, unit.KLength)
		y, ok2 := v.Num(t.pre+quarters[minus].field, unit.KLength)
		if !ok1 || !ok2 {
			return 0
		}
		span[i] = math.Abs(x - y)
	}
	r := b.contact(v).radius
	if t.outside() {
		r = -r
	}
	return (span[0]+span[1])/2 + 2*r
}
