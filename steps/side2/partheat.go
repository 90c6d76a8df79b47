package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// WarmthLimits are those of the part's warmth.
var WarmthLimits = []fold.LimitRow{
	{ID: "seat.warmth", Why: "warmth of the part against the fixture", How: "0.1 of the allowance at the farthest feature, {1}: the larger", Class: fold.Soft, Unit: unit.KWarmth, Max: WarmthLimit, Min: false},
}

// Answers about a part's warmth without a thermometer: the back of a hand tells some 3 K
// of two things that lie side by side (estimate).
const (
	AsWarm = "as warm as the fixture"
	Warmer = "warmer"
	colder = "colder"
)

// hottest is what a part may come with from a cut, a car or the sun, K over the shop (estimate).
const hottest = 15

// stretch is what a kelvin makes of the part at its farthest feature, mm; 0 when its material is not known.
func stretch(p *fold.Plan) float64 { return kit.Alpha(p, p.Job.Part.Material) * judge.Reach(p) }

// byHand is what two things may differ by, K, that the back of a hand calls as warm (estimate).
const byHand = 3

// WarmthLimit is how far the part's temperature may be from the fixture's, K.
func WarmthLimit(p *fold.Plan) float64 {
	return math.Max(1, 0.1*float64(p.Job.Allowance)/math.Max(stretch(p), 1e-9))
}

// WarmAsk asks how warm the part goes in: by the thermometer that measured the fixture, else by
// hand. A part that no usual heat makes too large is not asked about.
func WarmAsk(p *fold.Plan, v fold.View) (fold.Ask, bool) {
	if stretch(p) == 0 || p.Limit("seat.warmth").Max >= hottest {
		return fold.Ask{}, false
	}
	if id, ok := facts.Identity.In(v); ok && id.Measured > 0 {
		return fold.Ask{Field: "temp", Since: kit.SinceWarm, Label: "temperature of the part", Kind: fold.Reading, Unit: unit.KTemperature,
			Bare: kit.BareTemperature(p), What: fold.What{By: "thermometer", Of: "part"},
			Window: kit.Around(id.T, p.Limit("seat.warmth").Max, "as the fixture, by the same thermometer")}, true
	}
	return fold.Ask{Field: "temp", Since: kit.SinceWarm, Label: "to the back of your hand the part is", Kind: fold.Choice,
		Options: []string{AsWarm, Warmer, colder}, What: fold.What{By: "hand", Of: "part", Dir: "warmth"}, Want: AsWarm,
		WantWhy: "It changes its size in its place while it comes to the shop's warmth.", Hint: waitWords(p, v, hottest)}, true
}

// WarmCheck holds the part's temperature against the fixture's; true when it may not go in like this.
func WarmCheck(p *fold.Plan, v fold.View, o *fold.Outcome) bool {
	waived := false
	a, ok := WarmAsk(p, v)
	if !ok || !v.Has(a.Field) {
		return false
	}
	bad, wait := !fold.SameAnswer(v.Text(a.Field), AsWarm), waitWords(p, v, hottest)
	if t, ok := v.Num(a.Field, unit.KTemperature); ok && a.Window != nil {
		d := t - a.Window.Want
		c := judge.Of(p.Limit("seat.warmth"), math.Abs(d), 0)
		c.On = a.Field
		if bad = c.Verdict == fold.Fail; bad {
			waived = v.Waived(c)
			wait = waitWords(p, v, d)
			c.Words = fmt.Sprintf("The part is %s the fixture. Cut like this it would come out %s off at its far end.", kit.Warmth(p, d),
				p.Len(math.Abs(d)*stretch(p)))
		}
		o.Checks = append(o.Checks, c)
		if !bad && math.Abs(d) > 1 {
			o.Notes = append(o.Notes, uncounted(p, fmt.Sprintf("the part is %s the fixture", kit.Warmth(p, d)), math.Abs(d)))
		}
	} else if !bad {
		o.Notes = append(o.Notes, uncounted(p, "a hand feels no "+kit.Degrees(p, byHand), byHand))
	}
	if bad {
		if o.Named == "" {
			o.Named = "part-hot"
		}
		o.Next = append(o.Next, fold.Act{Do: "wait", Of: "part", Words: wait})
		if v.Has("walls") {
			o.Next = append(o.Next, fold.Act{Do: "push", Of: "part", Words: "Then push it against " + walls(p) +
				" once more: it has changed its size."}, fold.Act{Do: "again", Of: a.Field}, fold.Act{Do: "again", Of: "walls"})
		} else {
			o.Next = append(o.Next, fold.Act{Do: "again", Of: a.Field})
		}
	}
	return bad && !waived && !v.Has("up")
}

// uncounted says what a difference of d kelvin that passes may cost: the stated intervals take
// part and fixture to be as warm as one another.
func uncounted(p *fold.Plan, why string, d float64) string {
	return fmt.Sprintf("Not in any stated interval: %s. That is up to %s at the part's far end.", why, p.Len(d*stretch(p)))
}

// perThickness is the time constant of a part in still air, both faces free, minutes a mm: 2 of
// aluminium, 1 of wood (computed here from 10 W/m2K).
const perThickness = 2

// waitWords say how long a part that is d off wants until it is within the limit.
func waitWords(p *fold.Plan, v fold.View, d float64) string {
	n := perThickness * kit.ThicknessNow(p, v) * math.Log(math.Max(math.Abs(d)/p.Limit("seat.warmth").Max, 1.2))
	return fmt.Sprintf("Leave it where it lies, air all round, for about %.0f min; then try again.", 5*math.Ceil(n/5))
}
