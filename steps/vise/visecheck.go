package vise

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

// again is one touch of the recheck: what is touched, and what it read when the stock was picked up.
type again struct {
	field, label string
	of           fold.What
	was          float64
	known        bool
	s            float64 // scatter of one touch
}

// againAt are the places that are touched once more: both picked-up faces and the top.
func againAt(p *fold.Plan, v fold.View) []again {
	fx, fy := pickedFaces(p)
	if byMiddle(p) {
		fx, fy = FaceOf(p, "x", -1), FaceOf(p, "y", -1)
	}
	at := func(f face) string {
		if byMiddle(p) {
			return kit.Place(math.Round(f.length / 2))
		}
		return kit.Place(f.spots()[0])
	}
	c := faceContact(p, v)
	q := topPoints(p)[0]
	x := again{field: "x", label: fx.name, of: fold.What{By: c.By, Of: fx.of + "@" + at(fx), Dir: fx.dir(), Axis: "x"}, s: c.S}
	y := again{field: "y", label: fy.name, of: fold.What{By: c.By, Of: fy.of + "@" + at(fy), Dir: fy.dir(), Axis: "y"}, s: c.S}
	z := again{field: "z", label: "top, " + checks.StockPlaces[0], of: fold.What{By: kit.TouchBy(p), Of: "stock-top@" + kit.Place(q.X) + "," +
		kit.Place(q.Y), Dir: "z-", Axis: "z"}}
	z.s, _ = kit.TouchS(p)
	if was, ok := facts.Corner.Was(v); ok {
		x.was, x.known = float64(was.HX), true
		y.was, y.known = float64(was.HY), true
	}
	if was, ok := facts.Top.Was(v); ok {
		l, has := facts.Length.Of(kit.ZDatum(p).Thing()).In(v)
		z.was, z.known = float64(was.Z1)+float64(l.L), has
	}
	return []again{x, y, z}
}

// stands is the limit on a touch that is taken again: at least what two touches of one place differ by. Records of
// earlier walks took 0.010 for every instrument.
func (a again) stands(p *fold.Plan, v fold.View) fold.Limit {
	l := p.Limit("check.bore")
	if v.Walks(3) {
		l = kit.AtLeast(l, 3.5*math.Sqrt2*a.s)
	}
	l.ID, l.Why = "check.stock."+a.field, "change of the stock's place"
	return l
}

// viseCheck touches the stock once more on each picked-up face and on its top: does it
// stand where it stood? The same places, the same ball, so that only differences count.
func viseCheck(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "stock check", Needs: fold.AsRead(standsOnBall(p, facts.AMounting, kit.ZDatum(p))...),
		Recheck: &fold.Recheck{Before: "offset", Lifts: []fold.FactID{"seat", "corner", "top"}, Against: []fold.FactID{"corner"}},
		Asks: func(v fold.View) []fold.Ask {
			var asks []fold.Ask
			for _, a := range againAt(p, v) {
				w := kit.TravelWindow(p, a.of.Axis)
				if a.known {
					w = kit.Around(a.was, 0.5, "as it was")
					w.Slips = kit.Slips(p, v, a.of.Axis, kit.BallRadius(p, v), nil)
				}
				asks = append(asks, fold.Ask{Field: a.field, Label: a.label, Kind: fold.Reading, Unit: unit.KLength, What: a.of, Window: w})
			}
			asks[0].Do = []fold.Act{{Do: "fit", Of: fitted(p), Words: instrumentIn(p) + " The same places as before."}}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome { return judgeAgain(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Three touches tell whether the pickup still holds.", Act: "Touch both picked-up faces and the top once more.",
				Read:    "Position at the contact, the same places as before.",
				Caution: kit.CheckCaution(p), Scene: kit.StockPicture(p, v)}
		},
	}
}

func judgeAgain(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	most := 0.0
	for _, a := range againAt(p, v) {
		if !a.known {
			continue
		}
		d := v.Len(a.field) - a.was
		most = math.Max(most, math.Abs(d))
		c := judge.Most(a.stands(p, v), math.Abs(d), 0)
		if c.Verdict == fold.Fail {
			c.Words = fmt.Sprintf("%s stands %s from where it stood: pick it up again.", a.label, p.Len(math.Abs(d)))
			o.Named = "stock-moved"
		}
		o.Checks = append(o.Checks, c)
		o.Lines = append(o.Lines, fold.Row{Label: a.label, Value: d, Unit: unit.KLength, Signed: true})
	}
	if o.Named != "" {
		o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: "Try the parallels, close the vise again, and pick up corner and top " +
			"anew."})
	}
	o.Learned = fmt.Sprintf("The stock stands as before within %s.", p.Len(most))
	return o
}
