package dowel

import (
	"fmt"
	"math"

	"fliptrue/calc/growth"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// two are the pins, and the holes that go on them, in this order.
var two = [2]struct{ no, name, pin, of string }{{"1", "first", "pin", "pin"}, {"2", "second", "second pin", "pin2"}}

// drawn are diameters and distance of the pins by the fixture's card.
func drawn(p *fold.Plan) (d [2]float64, apart float64) {
	first, second := kit.Targets(p)
	if second == nil { // the reader refuses such a card
		return [2]float64{first.Dia, first.Dia}, 1
	}
	return [2]float64{first.Dia, second.Dia}, second.From.Len()
}

// pins measures both pins: size and distance by micrometer, and whether they stand upright.
func pins(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "pins", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("identity"), fold.AsRead("bore")),
		Makes: []fold.FactID{facts.Pins.ID}, Bare: fold.PartMustBeOut,
		Asks:  func(v fold.View) []fold.Ask { return pinAsks(p) },
		Judge: func(v fold.View) fold.Outcome { return judgePins(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "The part lies where the pins stand at its own height. A bent pin stands elsewhere there.",
				Act:     "Measure both pins, then run the dial up each of them.",
				Read:    "Micrometer across a pin and over both. Dial: 0 at the foot; away from the pin's axis is +.",
				Caution: "SPINDLE STOPPED, its command off. Raise Z by hand.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

func pinAsks(p *fold.Plan) []fold.Ask {
	d, apart := drawn(p)
	read := func(field, label, by, of, dir, axis string, w *fold.Window) fold.Ask {
		return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: by, Of: of, Dir: dir, Axis: axis},
			Window: w}
	}
	var asks []fold.Ask
	for i, t := range two {
		asks = append(asks, read("d"+t.no, "diameter of the "+t.pin+", by micrometer", "micrometer", t.of, "size", "",
			kit.Around(d[i], 0.05, "the fixture's card")))
	}
	asks[0].Do = []fold.Act{{Do: "wipe", Of: "pin", Words: "Wipe both pins; no burr at their tops."}}
	asks = append(asks, read("over", "outside over both pins, by micrometer", "micrometer", "pins", "over", "",
		kit.Around(apart+(d[0]+d[1])/2, 0.1, "the fixture's card")))
	for _, t := range two {
		for _, axis := range kit.AxisName[:2] {
			a := read("up"+t.no+"."+axis, fmt.Sprintf("%s along %s: dial from foot to part height", t.pin,
				map[string]string{"x": "X", "y": "Y"}[axis]), "dial", t.of, "up", axis, kit.Around(0, 0.05, "an upright pin"))
			a.Do = []fold.Act{{Do: "fit", Of: "dial", Words: "Dial on the pin's foot along " + map[string]string{"x": "X", "y": "Y"}[axis] +
				", needle to 0. Raise it to the part's height."}}
			asks = append(asks, a)
		}
	}
	return asks
}

func judgePins(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	worst, at := 0.0, 0
	for i, t := range two {
		if l := math.Hypot(v.Len("up"+t.no+".x"), v.Len("up"+t.no+".y")); l > worst {
			worst, at = l, i
		}
	}
	c := judge.Most(p.Limit("dowel.lean"), worst, 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("The %s leans by %s up to the part: it is bent, or not pressed home.", two[at].pin, p.Len(worst))
		o.Named = "pin-bent"
		o.Next = append(o.Next, fold.Act{Do: "change", Of: "pin", Words: "Press in another pin, square and home. Then find both anew."},
			fold.Act{Do: "reopen", Of: "bore"})
	}
	o.Checks = append(o.Checks, c)
	f := facts.PinsFact{D1: unit.Length(v.Len("d1")), D2: unit.Length(v.Len("d2"))}
	f.Apart = unit.Length(v.Len("over")) - (f.D1+f.D2)/2
	u := growth.MicrometerU * growth.MicrometerU
	f.Cov = fold.NewCov("d1,d2,apart", [][]float64{{u, 0, -u / 2}, {0, u, -u / 2}, {-u / 2, -u / 2, 1.5 * u}})
	o.Facts = []fold.Known{facts.Pins.Is(f)}
	o.Lines = []fold.Row{{Label: "pin", Value: float64(f.D1), Unit: unit.KLength}, {Label: "second pin", Value: float64(f.D2),
		Unit: unit.KLength},
		{Label: "apart", Value: float64(f.Apart), Unit: unit.KLength, Big: true}, {Label: "lean up to the part", Value: worst, Unit: unit.KLength, Verdict: c.Verdict}}
	o.Learned = fmt.Sprintf("The pins stand upright within %s and %s apart.", p.Len(worst), p.Len(float64(f.Apart)))
	return o
}
