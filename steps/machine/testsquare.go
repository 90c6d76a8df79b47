package machine

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// squareTest takes the squareness of X to Y from a test square that was cut from both
// sides: half of the mismatch is the machine's, since it doubles across either flip.
// ISO 230-1:2012, 3.6: squareness error is reported as an angle or as length over length,
// with its sign (from memory).
//
// Fact "squareness": see facts.SquarenessFact.
func squareTest(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "squareness", Needs: fold.AsRead("tram/travel"), Makes: []fold.FactID{"squareness", "tram/done"},
		Owns:  func(f fold.FactID, field string) bool { return f == "tram/done" || field != "way" },
		Asks:  squareAsks,
		Judge: func(v fold.View) fold.Outcome { return judgeSquare(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Out of square doubles between the sides after either flip, and a fixture made on the same machine does " +
				"not cure " +
				"it.",
				Act:  "Measure the step between the sides of a flipped test square at two places, or leave it.",
				Read: "Side 1 to the RIGHT of side 2 is +, the part as it lies on side 2."}
		},
	}
}

func squareAsks(v fold.View) []fold.Ask {
	asks := []fold.Ask{{Field: "way", Label: "a finished, flipped test square", Kind: fold.Choice, Options: []string{Known[1], Known[0]},
		What: fold.What{By: "eye", Of: "test-square", Dir: "way"}}}
	if !fold.SameAnswer(v.Text("way"), Known[0]) {
		return asks
	}
	asks = append(asks, fold.Ask{Field: "dy", Label: "along Y, from the place TOWARD YOU to the place AWAY", Kind: fold.Reading,
		Unit: unit.KLength, What: fold.What{By: "calliper", Of: "test-square", Dir: "span"}, Window: kit.Around(60, 55, "a test square")})
	for _, e := range []struct{ f, label string }{{"near", "TOWARD YOU"}, {"far", "AWAY"}} {
		asks = append(asks, fold.Ask{Field: e.f, Label: "step in X at the place " + e.label + ", side 1 to the RIGHT of side 2 is +",
			Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "dial", Of: "test-square", Dir: e.f, Axis: "x"}, Window: kit.Around(0, 0.1, "two sides that meet")})
	}
	return asks
}

func judgeSquare(p *fold.Plan, v fold.View) fold.Outcome {
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
	u := pickup.SquareU(p.Job.Machine.Dial.Graduation, dy)
	o.Facts = append(o.Facts, facts.Squared.Is(facts.SquarenessFact{Eps: unit.Angle(eps), Cov: fold.NewCov("eps", [][]float64{{u * u}})}))
	o.Lines = []fold.Row{{Label: "X per Y, to the RIGHT going AWAY is +", Value: eps, Guard: budget.OneSided * u, Unit: unit.KSlope,
		Signed: true, Big: true}}
	way := checks.Leaning(p, eps, "to the RIGHT", "to the LEFT")
	if h := p.Job.Part.Size[1]; h > 0 {
		o.Lines = append(o.Lines, fold.Row{Label: "sides of the part, ends", Value: math.Abs(eps) * h, Unit: unit.KLength})
		travelHolds(v, "travel.square", "", math.Abs(eps)*h, budget.OneSided*u*h, "Going AWAY the cut strays "+way+
			". It doubles between the sides. Square the axes, or look at the readings.", p, &o)
	}
	o.Learned = fmt.Sprintf("Going AWAY the cut strays %s. X and Y are out of square by that.", way)
	return o
}
