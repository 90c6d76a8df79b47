package machine

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Known is the first answer of a measurement that may be left out.
var Known = []string{"measure it now", "not now"}

// columnLean is the lean of Z travel: along a square, not round the spindle. Left out it is
// not known, never 0. ISO 230-1:2012, 3.6 calls it a squareness error of two axes: the
// difference between the inclinations of their reference straight lines, with its sign
// (from memory).
//
// Fact "tram/column": see facts.ColumnFact, when measured.
func columnLean(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "Z travel", Needs: fold.AsRead("tram/swept"), Makes: []fold.FactID{"tram/column", "tram/travel"}, Keeps: kit.TramKeeps,
		Owns:  func(f fold.FactID, field string) bool { return f == "tram/travel" || field != "way" },
		Asks:  columnAsks,
		Judge: func(v fold.View) fold.Outcome { return judgeColumn(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "The sweep shows how the spindle stands, not how Z travels. They are two leans.",
				Act:  "Run the dial up a square in X and in Y, or say that it is not measured.",
				Read: "Toward the stylus is +.", Caution: "SPINDLE STOPPED. Keep the dial in its range while Z travels."}
		},
	}
}

func columnAsks(v fold.View) []fold.Ask {
	asks := []fold.Ask{{Field: "way", Label: "lean of the Z travel", Kind: fold.Choice, Options: Known,
		What: fold.What{By: "eye", Of: "column", Dir: "way"}}}
	if !fold.SameAnswer(v.Text("way"), Known[0]) {
		return asks
	}
	h := fold.Ask{Field: "height", Label: "height that Z travels along the square", Kind: fold.Reading, Unit: unit.KLength,
		What: fold.What{By: "scale", Of: "blade", Dir: "height"}, Window: kit.Around(100, 80, "a square on the table"),
		Do: []fold.Act{{Do: "fit", Of: "dial", Words: "Square on the table, its blade up. Dial in the spindle against the blade, spindle not " +
			"turned. Read low, travel up, read high. For X with the blade's face to the LEFT, for Y with it TOWARD YOU."}}}
	asks = append(asks, h)
	for _, ax := range []struct{ field, axis, name string }{{"dx", "x", "X"}, {"dy", "y", "Y"}} {
		asks = append(asks, fold.Ask{Field: ax.field, Label: "going up, the blade comes toward the stylus by, " + ax.name +
			" (away from it is -)", Kind: fold.Reading, Unit: unit.KLength,
			What: fold.What{By: "dial", Of: "blade", Dir: "up", Axis: ax.axis}, Window: kit.Around(0, 0.2, "a column that stands")})
	}
	return asks
}

func judgeColumn(p *fold.Plan, v fold.View) fold.Outcome {
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
	o.Facts = append(o.Facts, facts.Column.Is(facts.ColumnFact{X: unit.Angle(zx), Y: unit.Angle(zy)}))
	o.Lines = []fold.Row{{Label: "Z going up in X, to the RIGHT is +", Value: zx, Unit: unit.KSlope, Signed: true, Big: true},
		{Label: "Z going up in Y, AWAY is +", Value: zy, Unit: unit.KSlope, Signed: true, Big: true}}
	if t := p.Job.Part.Size[2]; t > 0 {
		o.Lines = append(o.Lines, fold.Row{Label: "over the part, X", Value: zx * t, Unit: unit.KLength, Signed: true},
			fold.Row{Label: "over the part, Y", Value: zy * t, Unit: unit.KLength, Signed: true})
		// Two readings of the dial, and the square is taken as true.
		g := budget.OneSided * math.Sqrt2 * pickup.StepU(p.Job.Machine.Dial.Graduation) * t / h
		for _, a := range []struct {
			id, say string
			lean    float64
		}{{".x", checks.Leaning(p, zx, "to the RIGHT", "to the LEFT"), zx}, {".y", checks.Leaning(p, zy, "AWAY", "TOWARD YOU"), zy}} {
			travelHolds(v, "travel.lean", a.id, math.Abs(a.lean)*t, g, "Going up Z leans "+a.say+
				". Walls and holes lean with it. Look at gibs and column, and at the square itself.", p, &o)
		}
	}
	o.Learned = fmt.Sprintf("Going up Z leans %s. In Y it leans %s. Walls cut in several depths and drilled holes lean with it.",
		checks.Leaning(p, zx, "to the RIGHT", "to the LEFT"), checks.Leaning(p, zy, "AWAY", "TOWARD YOU"))
	return o
}

// travelHolds judges what an error of the machine's travel does to the part, before it goes on the card.
func travelHolds(v fold.View, limit, suffix string, value, guard float64, words string, p *fold.Plan, o *fold.Outcome) {
	if !v.Walks(3) {
		return
	}
	c := judge.Most(p.Limit(limit), value, guard)
	c.Limit.ID += suffix
	c.Limit.Why = strings.Replace(c.Limit.Why, "each way", "along "+strings.ToUpper(strings.TrimPrefix(suffix, ".")), 1)
	if c.Verdict != fold.Pass {
		c.Words = words
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "look", Of: "machine", Words: words + " Measure again, or accept it by its reason."},
				fold.Act{Do: "round"})
		}
	}
	o.Checks = append(o.Checks, c)
}
