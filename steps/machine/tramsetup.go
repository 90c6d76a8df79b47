package machine

import (
	"fmt"
	"math"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// tramSetup is the same sweep as on a side, always read.
func tramSetup(p *fold.Plan) *fold.Spec {
	s := checks.Tram(p)
	s.Makes = []fold.FactID{"tram", "tram/swept"}
	s.Recheck = nil
	s.Asks = func(v fold.View) []fold.Ask { return checks.SweepAsks(p, v) }
	s.Judge = func(v fold.View) fold.Outcome {
		o := checks.JudgeSweep(p, v)
		if len(o.Facts) > 0 {
			o.Facts = append(o.Facts, fold.Known{ID: "tram/swept"})
		}
		return o
	}
	return s
}

// Known is the first answer of a measurement that may be left out.
var Known = []string{"measure it now", "not now"}

// columnLean is the lean of Z travel: along a square, not round the spindle. Left out it is
// not known, never 0. ISO 230-1:2012, 3.6 calls it a squareness error of two axes: the
// difference between the inclinations of their reference straight lines, with its sign
// (from memory).
//
// Fact "tram/column": [zx zy] when measured.
func columnLean(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "Z travel", Needs: fold.AsRead("tram/swept"), Makes: []fold.FactID{"tram/column", "tram/travel"}, Keeps: kit.TramKeeps,
		Owns: func(f fold.FactID, field string) bool { return f == "tram/travel" || field != "way" },
		Asks: func(v fold.View) []fold.Ask {
			asks := []fold.Ask{{Field: "way", Label: "lean of the Z travel", Kind: fold.Choice, Options: Known, What: fold.What{By: "eye", Of: "column", Dir: "way"}}}
			if !fold.SameAnswer(v.Text("way"), Known[0]) {
				return asks
			}
			h := fold.Ask{Field: "height", Label: "height that Z travels along the square", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "scale", Of: "blade", Dir: "height"}, Window: kit.Around(100, 80, "a square on the table"),
				Do: []fold.Act{{Do: "fit", Of: "dial", Words: "Square on the table, its blade up. Dial in the spindle against the blade, spindle not turned. Read low, travel up, read high: for X with the blade's face to the LEFT, for Y with it TOWARD YOU."}}}
			asks = append(asks, h)
			for _, ax := range []string{"x", "y"} {
				asks = append(asks, fold.Ask{Field: "d" + ax, Label: "going up, the blade comes toward the stylus by, " + map[string]string{"x": "X", "y": "Y"}[ax] + " (away from it is -)", Kind: fold.Reading, Unit: unit.KLength,
					What: fold.What{By: "dial", Of: "blade", Dir: "up", Axis: ax}, Window: kit.Around(0, 0.2, "a column that stands")})
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			o.Facts = []fold.Known{{ID: "tram/travel"}}
			if !fold.SameAnswer(v.Text("way"), Known[0]) {
				o.Learned = "Column not measured: a wall cut in several depths may lean by what is not known."
				return o
			}
			h := v.Len("height")
			if !(h > 0) {
				kit.Refuse(&o, "column.height", "Z travels along the square", fmt.Errorf("height %s is not above 0", p.Num(h)))
				return o
			}
			// Coming toward a face that looks left or at the person is a travel toward +.
			zx, zy := v.Len("dx")/h, v.Len("dy")/h
			o.Facts = append(o.Facts, fold.Known{ID: "tram/column", Value: []float64{zx, zy}})
			o.Lines = []fold.Row{{Label: "Z travel leans in X", Value: zx, Unit: unit.KSlope, Signed: true, Big: true}, {Label: "Z travel leans in Y", Value: zy, Unit: unit.KSlope, Signed: true, Big: true}}
			if t := p.Job.Part.Size[2]; t > 0 {
				o.Lines = append(o.Lines, fold.Row{Label: "over the part, X", Value: zx * t, Unit: unit.KLength, Signed: true},
					fold.Row{Label: "over the part, Y", Value: zy * t, Unit: unit.KLength, Signed: true})
			}
			o.Learned = fmt.Sprintf("Z travel leans by %s along X and %s along Y: that leans walls cut in several depths and drilled holes.", p.Slope(zx), p.Slope(zy))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "The sweep shows how the spindle stands, not how Z travels. They are two leans.", Act: "Run the dial up a square in X and in Y, or say that it is not measured.",
				Read: "Toward the stylus is +.", Caution: "SPINDLE STOPPED. Keep the dial in its range while Z travels."}
		},
	}
}

// squareTest takes the squareness of X to Y from a test square that was cut from both
// sides: half of the mismatch is the machine's, since it doubles across either flip.
// ISO 230-1:2012, 3.6: squareness error is reported as an angle or as length over length,
// with its sign (from memory).
//
// Fact "squareness": [eps], cov 1: X error per Y.
func squareTest(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "squareness", Needs: fold.AsRead("tram/travel"), Makes: []fold.FactID{"squareness", "tram/done"},
		Owns: func(f fold.FactID, field string) bool { return f == "tram/done" || field != "way" },
		Asks: func(v fold.View) []fold.Ask {
			asks := []fold.Ask{{Field: "way", Label: "a finished, flipped test square", Kind: fold.Choice, Options: []string{Known[1], Known[0]}, What: fold.What{By: "eye", Of: "test-square", Dir: "way"}}}
			if !fold.SameAnswer(v.Text("way"), Known[0]) {
				return asks
			}
			asks = append(asks, fold.Ask{Field: "dy", Label: "along Y, from the place TOWARD YOU to the place AWAY", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "calliper", Of: "test-square", Dir: "span"}, Window: kit.Around(60, 55, "a test square")})
			for _, e := range []struct{ f, label string }{{"near", "TOWARD YOU"}, {"far", "AWAY"}} {
				asks = append(asks, fold.Ask{Field: e.f, Label: "step in X at the place " + e.label + ", side 1 to the RIGHT of side 2 is +", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "dial", Of: "test-square", Dir: e.f, Axis: "x"}, Window: kit.Around(0, 0.1, "two sides that meet")})
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Facts: []fold.Known{{ID: "tram/done"}}}
			if !fold.SameAnswer(v.Text("way"), Known[0]) {
				o.Learned = "Squareness stays as it stands on the card."
				if !p.Job.Machine.SquareMeasured {
					o.Learned = "Squareness is not on the card: it counts as 0 until it is measured."
				}
				return o
			}
			dy := v.Len("dy")
			if !(dy > 0) {
				o.Facts = nil
				kit.Refuse(&o, "square.span", "the two places lie apart", fmt.Errorf("they are %s apart", p.Len(dy)))
				return o
			}
			eps := float64(frame.SquarenessOf(v.Len("far")-v.Len("near"), dy))
			u := p.Job.Machine.Dial.Graduation / math.Sqrt(12) * math.Sqrt2 / (2 * dy)
			o.Facts = append(o.Facts, fold.Known{ID: "squareness", Value: []float64{eps}, Cov: [][]float64{{u * u}}})
			o.Lines = []fold.Row{{Label: "X error per Y", Value: eps, Guard: 1.645 * u, Unit: unit.KSlope, Signed: true, Big: true}}
			if h := p.Job.Part.Size[1]; h > 0 {
				o.Lines = append(o.Lines, fold.Row{Label: "sides of the part, ends", Value: math.Abs(eps) * h, Unit: unit.KLength})
			}
			o.Learned = fmt.Sprintf("X and Y are out of square by %s.", p.Slope(eps))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Out of square doubles between the sides after either flip, and a fixture made on the same machine does not cure it.",
				Act: "Measure the step between the sides of a flipped test square at two places, or leave it.", Read: "Side 1 to the RIGHT of side 2 is +, the part as it lies on side 2."}
		},
	}
}
