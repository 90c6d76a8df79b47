package steps

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// warmthLimits are those of the part's warmth.
var warmthLimits = []LimitRow{
	{"seat.warmth", "the part is as warm as the fixture", "0.1 of the allowance at the farthest feature, 1 K: the larger", Soft, unit.KTemperature, (*Plan).warmthLimit, false},
}

// Answers about a part's warmth without a thermometer: the back of a hand tells some 3 K
// of two things that lie side by side (estimate).
const (
	asWarm = "as warm as the fixture"
	warmer = "warmer"
	colder = "colder"
)

// hottest is what a part may come with from a cut, a car or the sun, K over the shop (estimate).
const hottest = 15

// stretch is what a kelvin makes of the part at its farthest feature, mm; 0 when its material is not known.
func (p *Plan) stretch() float64 { return p.alpha(p.Job.Part.Material) * p.reach() }

// byHand is what two things may differ by, K, that the back of a hand calls as warm (estimate).
const byHand = 3

// warmthLimit is how far the part's temperature may be from the fixture's, K.
func (p *Plan) warmthLimit() float64 {
	return math.Max(1, 0.1*float64(p.Job.Allowance)/math.Max(p.stretch(), 1e-9))
}

// warmAsk asks how warm the part goes in: by the thermometer that measured the fixture, else by
// hand. A part that no usual heat makes too large is not asked about.
func (p *Plan) warmAsk(v View) (Ask, bool) {
	if p.stretch() == 0 || p.Limit("seat.warmth").Max >= hottest {
		return Ask{}, false
	}
	if id, ok := v.Fact("identity"); ok && len(id.Value) > 2 && id.Value[2] > 0 {
		return Ask{Field: "temp", Since: sinceWarm, Label: "temperature of the part", Kind: Reading, Unit: unit.KTemperature, What: What{By: "thermometer", Of: "part"},
			Window: around(id.Value[0], p.Limit("seat.warmth").Max, "as the fixture, by the same thermometer")}, true
	}
	return Ask{Field: "temp", Since: sinceWarm, Label: "to the back of your hand the part is", Kind: Choice, Options: []string{asWarm, warmer, colder}, What: What{By: "hand", Of: "part", Dir: "warmth"}, Want: asWarm,
		WantWhy: "It changes its size in the pocket while it comes to the shop's warmth.", Hint: p.waitWords(hottest)}, true
}

// warmCheck holds the part's temperature against the fixture's; true when it may not go in like this.
func (p *Plan) warmCheck(v View, o *Outcome) bool {
	waived := false
	a, ok := p.warmAsk(v)
	if !ok || !v.Has(a.Field) {
		return false
	}
	bad, wait := !SameAnswer(v.Text(a.Field), asWarm), p.waitWords(hottest)
	if t, ok := v.Num(a.Field, unit.KTemperature); ok && a.Window != nil {
		d := t - a.Window.Want
		c := Judged(p.Limit("seat.warmth"), math.Abs(d), 0)
		c.On = a.Field
		if bad = c.Verdict == Fail; bad {
			waived = v.Waived(c)
			wait = p.waitWords(d)
			c.Words = fmt.Sprintf("The part is %s the fixture. Cut like this it would come out %s off at its far end.", warmth(d), p.len(math.Abs(d)*p.stretch()))
		}
		o.Checks = append(o.Checks, c)
		if !bad && math.Abs(d) > 1 {
			o.Notes = append(o.Notes, p.uncounted(fmt.Sprintf("the part is %s the fixture", warmth(d)), math.Abs(d)))
		}
	} else if !bad {
		o.Notes = append(o.Notes, p.uncounted(fmt.Sprintf("a hand feels no %d degrees", byHand), byHand))
	}
	if bad {
		if o.Named == "" {
			o.Named = "part-hot"
		}
		o.Next = append(o.Next, Act{Do: "wait", Of: "part", Words: wait})
		if v.Has("walls") {
			o.Next = append(o.Next, Act{Do: "push", Of: "part", Words: "Then push it against " + p.walls() + " once more: it has changed its size."}, Act{Do: "again", Of: a.Field}, Act{Do: "again", Of: "walls"})
		} else {
			o.Next = append(o.Next, Act{Do: "again", Of: a.Field})
		}
	}
	return bad && !waived && !v.Has("up")
}

// uncounted says what a difference of d kelvin that passes may cost: the stated intervals take
// part and fixture to be as warm as one another.
func (p *Plan) uncounted(why string, d float64) string {
	return fmt.Sprintf("Not in any stated interval: %s, and that is up to %s at the part's far end.", why, p.len(d*p.stretch()))
}

// perThickness is the time constant of a part in still air, both faces free, minutes a mm: 2 of
// aluminium, 1 of wood (computed here from 10 W/m2K).
const perThickness = 2

// waitWords say how long a part that is d off wants until it is within the limit.
func (p *Plan) waitWords(d float64) string {
	n := perThickness * p.thickness() * math.Log(math.Max(math.Abs(d)/p.Limit("seat.warmth").Max, 1.2))
	return fmt.Sprintf("Leave it where it lies, air all round, for about %.0f min; then try again.", 5*math.Ceil(n/5))
}
