package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// viseCheck touches the stock once more on each picked-up face and on its top: does it
// stand where it stood? The same places, the same ball, so that only differences count.
func viseCheck(p *Plan) *Spec {
	sx, sy := p.sides()
	if p.Setup.Zero == "centre" {
		sx, sy = -1, -1
	}
	fx, fy := p.face("x", sx), p.face("y", sy)
	at := func(f face) float64 {
		if p.Setup.Zero == "centre" {
			return math.Round(f.length / 2)
		}
		return f.spots()[0]
	}
	q := p.topPoints()[0]
	type one struct {
		field, label, fact string
		of                 What
		was                func(View) (float64, bool)
	}
	list := func(v View) []one {
		c := p.faceContact(v)
		from := func(id FactID, i int, add FactID) func(View) (float64, bool) {
			return func(v View) (float64, bool) {
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
			{"x", fx.name, "corner", What{By: c.by, Of: fx.of + "@" + place(at(fx)), Dir: fx.dir(), Axis: "x"}, from("corner", 6, "")},
			{"y", fy.name, "corner", What{By: c.by, Of: fy.of + "@" + place(at(fy)), Dir: fy.dir(), Axis: "y"}, from("corner", 7, "")},
			{"z", "top, " + stockPlaces[0], "top", What{By: p.touchBy(), Of: "stock-top@" + place(q.X) + "," + place(q.Y), Dir: "z-", Axis: "z"}, from("top", 4, p.zDatum())},
		}
	}
	return &Spec{
		Title: "stock check", At: "offset", AsRead: p.standsOnBall(p.zDatum()), Lifts: []FactID{"seat", "corner", "top"}, Against: []FactID{"corner"},
		Asks: func(v View) []Ask {
			var asks []Ask
			for _, a := range list(v) {
				w := p.travelWindow(a.of.Axis)
				if x, ok := a.was(v); ok {
					w = around(x, 0.5, "as it was")
					w.Slips = p.slips(v, a.of.Axis, p.ballRadius(v), nil)
				}
				asks = append(asks, Ask{Field: a.field, Label: a.label, Kind: Reading, Unit: unit.KLength, What: a.of, Window: w})
			}
			asks[0].Do = []Act{{Do: "fit", Of: "probe", Words: p.instrumentIn() + " The same places as before."}}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
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
				c := Judged(l, math.Abs(d), 0)
				c.Limit.ID += "." + a.field
				if c.Verdict == Fail {
					c.Words = fmt.Sprintf("%s stands %s from where it stood: pick it up again.", a.label, p.len(math.Abs(d)))
					o.Named = "stock-moved"
				}
				o.Checks = append(o.Checks, c)
				o.Lines = append(o.Lines, Row{Label: a.label, Value: d, Unit: unit.KLength, Signed: true})
			}
			if o.Named != "" {
				o.Next = append(o.Next, Act{Do: "reopen", Of: "grip", Words: "Try the parallels, close the vise again, and pick up corner and top anew."})
			}
			o.Learned = fmt.Sprintf("The stock stands as before within %s.", p.len(most))
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "Three touches tell whether the pickup still holds.", Act: "Touch both picked-up faces and the top once more.", Read: "Position at the contact, the same places as before.",
				Caution: p.checkCaution(), Scene: p.stockPicture(v)}
		},
	}
}
