package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

func (k datumChecking) judge(v fold.View) fold.Outcome {
	var o fold.Outcome
	x, isHome, most := k.difference(v), k.home(v), 0.0
	if x.okB {
		most = math.Max(most, k.judgeBore(v, x, isHome, &o))
	}
	if x.okF {
		most = math.Max(most, k.judgeRim(v, x, isHome, &o))
	}
	k.unread(v, x, &o)
	if f, ok := v.Was("offset"); ok && v.Has("z0") && !isHome {
		checks.EchoChecks(k.p, v, f, &o)
	}
	if isHome {
		k.rehome(v, x, &o)
	} else {
		o.Learned = fmt.Sprintf("As before within %s; that much is carried in the budget.", k.p.Len(most))
	}
	if old, ok := facts.Drift.In(v); ok {
		most = math.Max(most, float64(old.D))
	}
	o.Facts = append(o.Facts, facts.Drift.Is(facts.DriftFact{D: unit.Length(most)}))
	return o
}

// fixtureMoved says what to do about a check that fails: wipe first, then own up that the fixture moved.
func fixtureMoved(o *fold.Outcome, c *fold.Check, words string) {
	if c.Verdict == fold.Fail {
		c.Words = words
		o.Next = append(o.Next, fold.Act{Do: "declare", Of: "fixture-tapped", Words: words +
			" If wiping and reading again does not help, the fixture has moved: part out, then declare it tapped."})
		o.Named = "fixture-moved"
	}
}

// judgeBore holds size and place against before, and the second one against the first; it gives how far the place moved.
func (k datumChecking) judgeBore(v fold.View, x datumDifference, isHome bool, o *fold.Outcome) (most float64) {
	was, _ := facts.Bore.Was(v)
	size := judge.Of(k.p.Limit("check.size"), math.Abs(x.dia-float64(was.Dia)), 0)
	if x.dia == 0 || was.Dia == 0 { // not every instrument measures it
		size.Got, size.Verdict = 0, fold.Pass
	}
	if size.Verdict == fold.Fail {
		size.Words = fmt.Sprintf("The %s measures %s, before %s: a chip, or another stylus.", k.thing, k.p.Len(x.dia), k.p.Len(float64(was.Dia)))
		o.Next = append(o.Next, fold.Act{Do: "wipe", Of: k.thing, Words: size.Words + " Wipe it and take the hits again."}, fold.Act{Do: "round"})
		o.Named = "chip-in-bore"
	}
	if x.dia > 0 {
		o.Checks = append(o.Checks, size)
	}
	if !isHome {
		c := judge.Of(k.boreLimit(v), x.d.Len(), 0)
		fixtureMoved(o, &c, fmt.Sprintf("The %s stands %s from where it stood.", k.thing, k.p.Len(x.d.Len())))
		o.Checks = append(o.Checks, c)
		most = math.Max(most, x.d.Len())
	}
	if k.two(v) {
		raw1, _, _ := cross(k.p, v, k.first)
		if raw2, _, has := cross(k.p, v, *k.second); has {
			to := k.second.From.Turned(float64(was.Theta)).Times(was.Scale)
			off := raw2.Sub(raw1).Sub(to).Len()
			l := judge.BoreMoved(k.p, v.Walks(3), false)
			l.ID, l.Why = "check.two", "second "+k.thing+" from the first as before"
			c := judge.Of(l, off, 0)
			fixtureMoved(o, &c, fmt.Sprintf("The second %s stands %s from where it should: the fixture has turned or grown.", k.thing, k.p.Len(off)))
			o.Checks = append(o.Checks, c)
		}
	}
	o.Lines = append(o.Lines, fold.Row{Label: k.thing + " X", Value: x.d.X, Unit: unit.KLength, Signed: true, Big: true},
		fold.Row{Label: k.thing + " Y", Value: x.d.Y, Unit: unit.KLength, Signed: true, Big: true})
	return most
}

// judgeRim holds the rim against before; it gives how far it moved.
func (k datumChecking) judgeRim(v fold.View, x datumDifference, isHome bool, o *fold.Outcome) (most float64) {
	if isHome {
		c := judge.Of(rimLimit(k.p), math.Abs(x.rim[0]-x.rim[1]), 0)
		fixtureMoved(o, &c, "The rim's two points do not agree: the fixture has tilted, or a chip.")
		o.Checks = append(o.Checks, c)
	} else {
		c := judge.Of(k.floorLimit(v), checks.MaxAbs(x.rim[:]), 0)
		fixtureMoved(o, &c, fmt.Sprintf("The rim stands %s from where it stood.", k.p.Len(checks.MaxAbs(x.rim[:]))))
		o.Checks = append(o.Checks, c)
		most = math.Max(most, checks.MaxAbs(x.rim[:]))
	}
	o.Lines = append(o.Lines, fold.Row{Label: "Z", Value: x.dz, Unit: unit.KLength, Signed: true, Big: true})
	return most
}

// unread leaves out what could not be compared.
func (k datumChecking) unread(v fold.View, x datumDifference, o *fold.Outcome) {
	for _, c := range []struct {
		f    fold.FactID
		done bool
	}{{"bore", x.okB}, {"floor", x.okF}} {
		if k.due(v, c.f) && !c.done { // read while the length did not stand: nothing was compared
			o.Leaves = append(o.Leaves, c.f)
			o.Notes = append(o.Notes, fmt.Sprintf("The %s could not be compared: what its readings rest on did not stand. It is not proven by "+
				"this check.", c.f))
		}
	}
}

// rehome makes bore and floor anew, shifted by the new home position.
func (k datumChecking) rehome(v fold.View, x datumDifference, o *fold.Outcome) {
	if was, ok := v.Was("bore"); ok && x.okB {
		f, _ := facts.Bore.Read(was)
		f.X += unit.Length(x.d.X)
		f.Y += unit.Length(x.d.Y)
		was.Value, was.Void = facts.Bore.Is(f).Value, nil
		o.Facts = append(o.Facts, was)
	}
	if was, ok := v.Was("floor"); ok && x.okF {
		f, _ := facts.Floor.Read(was)
		f.Z += unit.Length(x.dz)
		f.Rim += unit.Length(x.dz)
		was.Value, was.Void = facts.Floor.Is(f).Value, nil
		o.Facts = append(o.Facts, was)
	}
	o.Learned = fmt.Sprintf("The machine has a new home position: X %s Y %s Z %s. The offset is shifted by it and read back again.",
		kit.Signed(k.p, x.d.X), kit.Signed(k.p, x.d.Y), kit.Signed(k.p, x.dz))
}
