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

// viseCheck touches the stock once more on each picked-up face and on its top: does it
// stand where it stood? The same places, the same ball, so that only differences count.
func viseCheck(p *fold.Plan) *fold.Spec {
	sx, sy := kit.Sides(p)
	if p.Setup.Zero == "centre" {
		sx, sy = -1, -1
	}
	fx, fy := FaceOf(p, "x", sx), FaceOf(p, "y", sy)
	at := func(f face) float64 {
		if p.Setup.Zero == "centre" {
			return math.Round(f.length / 2)
		}
		return f.spots()[0]
	}
	q := topPoints(p)[0]
	type one struct {
		field, label, fact string
		of                 fold.What
		was                func(fold.View) (float64, bool)
	}
	list := func(v fold.View) []one {
		c := faceContact(p, v)
		from := func(id fold.FactID, i int, add fold.FactID) func(fold.View) (float64, bool) {
			return func(v fold.View) (float64, bool) {
				f, ok := v.Was(id)
				if !ok {
					return 0, false
				}
				x := f.Value[i]
				if add != "" {
					l, ok := v.Fact(add)
					if !ok {
						return 0, false
					}
					x += l.Value[0]
				}
				return x, true
			}
		}
		return []one{
			{"x", fx.name, "corner", fold.What{By: c.By, Of: fx.of + "@" + kit.Place(at(fx)), Dir: fx.dir(), Axis: "x"}, from("corner", 6, "")},
			{"y", fy.name, "corner", fold.What{By: c.By, Of: fy.of + "@" + kit.Place(at(fy)), Dir: fy.dir(), Axis: "y"}, from("corner", 7, "")},
			{"z", "top, " + checks.StockPlaces[0], "top", fold.What{By: kit.TouchBy(p), Of: "stock-top@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "z-", Axis: "z"}, from("top", 4, kit.ZDatum(p))},
		}
	}
	return &fold.Spec{
		Title: "stock check", Needs: fold.AsRead(standsOnBall(p, facts.AMounting, kit.ZDatum(p))...), Recheck: &fold.Recheck{Before: "offset", Lifts: []fold.FactID{"seat", "corner", "top"}, Against: []fold.FactID{"corner"}},
		Asks: func(v fold.View) []fold.Ask {
			var asks []fold.Ask
			for _, a := range list(v) {
				w := kit.TravelWindow(p, a.of.Axis)
				if x, ok := a.was(v); ok {
					w = kit.Around(x, 0.5, "as it was")
					w.Slips = kit.Slips(p, v, a.of.Axis, kit.BallRadius(p, v), nil)
				}
				asks = append(asks, fold.Ask{Field: a.field, Label: a.label, Kind: fold.Reading, Unit: unit.KLength, What: a.of, Window: w})
			}
			asks[0].Do = []fold.Act{{Do: "fit", Of: "probe", Words: instrumentIn(p) + " The same places as before."}}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			l := p.Limit("check.bore")
			l.ID, l.Why = "check.stock", "the stock stands as before"
			most := 0.0
			for _, a := range list(v) {
				was, ok := a.was(v)
				if !ok {
					continue
				}
				d := v.Len(a.field) - was
				most = math.Max(most, math.Abs(d))
				c := judge.Judged(l, math.Abs(d), 0)
				c.Limit.ID += "." + a.field
				if c.Verdict == fold.Fail {
					c.Words = fmt.Sprintf("%s stands %s from where it stood: pick it up again.", a.label, p.Len(math.Abs(d)))
					o.Named = "stock-moved"
				}
				o.Checks = append(o.Checks, c)
				o.Lines = append(o.Lines, fold.Row{Label: a.label, Value: d, Unit: unit.KLength, Signed: true})
			}
			if o.Named != "" {
				o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "grip", Words: "Try the parallels, close the vise again, and pick up corner and top anew."})
			}
			o.Learned = fmt.Sprintf("The stock stands as before within %s.", p.Len(most))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Three touches tell whether the pickup still holds.", Act: "Touch both picked-up faces and the top once more.", Read: "Position at the contact, the same places as before.",
				Caution: kit.CheckCaution(p), Scene: kit.StockPicture(p, v)}
		},
	}
}
