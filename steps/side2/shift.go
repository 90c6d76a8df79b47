package side2

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/calc/witness"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// WeighMotion judges a motion at the worst listed feature. It says what it is in words.
func WeighMotion(p *fold.Plan, l fold.Limit, m fit.Motion) (c fold.Check, words string) {
	return weigh(p, l, m, 0)
}

// weigh judges a motion where it matters, for features so high over the faces it was read at.
func weigh(p *fold.Plan, l fold.Limit, m fit.Motion, height float64) (c fold.Check, words string) {
	name, axis, value, guard := AtWorst(p, m, height)
	c = judge.Of(l, value, guard)
	c.Largest = "witness readings"
	at := fmt.Sprintf("At %s along %s the part has moved by %s ± %s.", name, strings.ToUpper(kit.AxisName[axis]), p.Len(value), p.Len(guard))
	switch {
	case c.Verdict == fold.Pass && !m.AnyReal():
		words = "Quiet: nothing moved beyond the scatter. " + at
	case c.Verdict == fold.Pass:
		words = "Real but small. " + at
	case c.Verdict == fold.Fail:
		words = "Real and large. " + at
	case guard > l.Max:
		words = "Too noisy to say. " + at
	default:
		words = "Not proven. " + at
	}
	if c.Verdict != fold.Pass {
		c.Words = words
	}
	return c, words
}

// mostRepeats is how often a witness is read at most: twice what a set begins with; by the fourth walk four times, since
// each more that is asked for can still prove it.
func mostRepeats(p *fold.Plan) int {
	if p.Short() {
		return 4
	}
	return 2 * repeats(p)
}

// setRepeats is how often each witness is read: more when those before could not decide.
func setRepeats(p *fold.Plan, v fold.View, base facts.BaselineFact, l fold.Limit) int {
	step := repeats(p)
	for n := step; n < mostRepeats(p); n += step {
		if !unsettled(p, v.In(firstRepeats(v.Round, n), nil), base, l) {
			return n
		}
		if last := kit.RepeatField(witnesses(p)[0].Field, n+step); !v.Has(last) {
			return n + step
		}
	}
	return mostRepeats(p)
}

// unsettled says that a whole set as read neither passes nor fails.
func unsettled(p *fold.Plan, v fold.View, base facts.BaselineFact, l fold.Limit) bool {
	s := readSet(p, v, false)
	if !s.fixed {
		return false
	}
	m, err := moved(p, base, s, witness.All)
	if err != nil {
		return false
	}
	if c, _ := weigh(p, l, m, tallest(p, v)); c.Verdict == fold.NotProven {
		return true
	}
	if v.Walks(3) && l.ID == "shift.register" {
		for _, c := range riseChecks(p, m) {
			if c.Verdict == fold.NotProven {
				return true
			}
		}
	}
	return false
}

// tallest is how far a feature may lie over or under the faces that a motion was read at: the job
// gives no heights of features, so that it is the part's thickness. A record of an earlier walk knew none.
func tallest(p *fold.Plan, v fold.View) float64 {
	if !v.Walks(3) {
		return 0
	}
	return kit.ThicknessNow(p, v)
}

// firstRepeats is a round without the repeats that were asked for later.
func firstRepeats(r *fold.Round, n int) *fold.Round {
	if r == nil {
		return nil
	}
	return r.Of(func(t fold.Taken) (fold.Taken, bool) {
		i := strings.LastIndexByte(t.Field, '.')
		return t, i < 0 || t.Field[i+1:] <= strconv.Itoa(n)
	})
}

// shift reads the witness set again, the part now held by its screws alone.
func shift(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "shift test", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("screws"), fold.AsRead("baseline"),
			fold.IfThere("bore", "offset", "ball")), Makes: []fold.FactID{"shift"},
		Asks: func(v fold.View) []fold.Ask {
			b, ok := facts.Baseline.In(v)
			if !ok {
				return setAsks(p, v, nil, repeats(p), false)
			}
			return setAsks(p, v, &b, setRepeats(p, v, b, p.Limit("shift.register")), false)
		},
		Judge: func(v fold.View) fold.Outcome { return judgeShift(p, v) },
		Page:  func(v fold.View) fold.Page { return shiftPage(p, v) },
	}
}

// judgeShift holds the motion since the baseline against the register, and how far the part rose.
func judgeShift(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	b, _ := facts.Baseline.In(v)
	s := readSet(p, v, false)
	m, err := moved(p, b, s, witness.All)
	if err != nil {
		return kit.Cannot(p, "shift", err, o)
	}
	repeatCheck(p, s, &o)
	c, words := weigh(p, p.Limit("shift.register"), m, tallest(p, v))
	o.Checks = append(o.Checks, c)
	var heights []fold.Check
	if v.Walks(3) {
		heights = riseChecks(p, m)
		o.Checks = append(o.Checks, heights...)
	}
	o.Lines = append([]fold.Row{{Label: "moved at the worst feature", Value: c.Got, Guard: c.Guard, Unit: unit.KLength, Big: true,
		Verdict: c.Verdict},
		{Label: "X", Value: m.Move.X, Unit: unit.KLength, Signed: true}, {Label: "Y", Value: m.Move.Y, Unit: unit.KLength, Signed: true},
		{Label: "turned", Value: m.Turn, Unit: unit.KSlope, Signed: true}}, motionLines(p, m, false)...)
	if v.Walks(3) {
		o.Lines = append(o.Lines, riseRows(p, m)...)
	}
	if r := whatRose(m); r != "" {
		o.Notes = append(o.Notes, r)
	}
	nameWitness(p, m, &o)
	o.Facts = []fold.Known{shiftFact(m, tallest(p, v))}
	o.Learned = words
	afterMotion(p, v, c, m, &o)
	afterRise(p, v, heights, &o)
	return o
}

func shiftPage(p *fold.Plan, v fold.View) fold.Page {
	if posts(p) {
		return fold.Page{Why: "Screws take over from straps: a part that crept now would be cut out of register.",
			Act:     "Read the four dials again, untouched since they were set.",
			Read:    "Each dial as it stands, with its sign. Then take posts and dials off the table.",
			Caution: "SPINDLE STOPPED, its command off.", Scene: kit.Scene(p, v, spotMarks(p, v, false))}
	}
	read := "Machine position at the trigger. Part minus fixture: a refitted probe cancels."
	if !kit.Probes(p) {
		read = "As at the baseline, with the same tool, block and finder."
	}
	return fold.Page{Why: "Screws take over from straps: a part that crept now would be cut out of register.",
		Act:     "Read the witness set again: fixture first, then the part" + eachTwice(p) + ".",
		Read:    read,
		Caution: "SPINDLE STOPPED, its command off.", Scene: withMoves(p, v, p.Limit("shift.register"), kit.Scene(p, v, spotMarks(p, v, false)))}
}

// withMoves adds to a scene how far the features moved since the baseline, once all is read.
func withMoves(p *fold.Plan, v fold.View, l fold.Limit, s fold.Scene) fold.Scene {
	b, ok := facts.Baseline.In(v)
	if !ok {
		return s
	}
	m, err := moved(p, b, readSet(p, v, false), witness.All)
	if err != nil || !m.Plan {
		return s
	}
	s.Moves = &fold.MovePlot{Limit: l.Max}
	for _, f := range p.Job.Part.Features {
		at := kit.FixturePlace(p, f.At)
		d, _ := m.At(fit.Point{X: f.At.X, Y: f.At.Y})
		s.Moves.At, s.Moves.By = append(s.Moves.At, at), append(s.Moves.By, fold.XY{X: d.X, Y: d.Y})
	}
	return s
}

// seatAnew is the act after a part that the screws hold where it should not lie.
const seatAnew = "Loosen the screws, lift the part, wipe, seat it again: the walk goes on from the seat."

// afterMotion is the physical next act after a motion that does not pass.
func afterMotion(p *fold.Plan, v fold.View, c fold.Check, m fit.Motion, o *fold.Outcome) {
	switch {
	case c.Verdict == fold.Fail:
		o.Named = "shift-at-swap"
		o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "seat", Words: seatAnew})
	case c.Verdict == fold.NotProven:
		if m.AnyReal() {
			o.Named = "shift-at-swap"
		}
		o.Next = append(o.Next, undecided(p, v, fmt.Sprintf("Or shift the offset by the motion, X %s Y %s, and read its page again. Or accept "+
			"it by typing the number.",
			unit.Signed(m.Move.X, unit.KLength, p.Job.Unit, 0), unit.Signed(m.Move.Y, unit.KLength, p.Job.Unit, 0))))
	}
}

// afterRise is the act after heights that do not pass, where the plan asked for none.
func afterRise(p *fold.Plan, v fold.View, heights []fold.Check, o *fold.Outcome) {
	for _, c := range heights {
		if c.Verdict == fold.Pass || len(o.Next) > 0 {
			continue
		}
		o.Learned = c.Words
		if c.Verdict == fold.Fail {
			o.Named = "shift-at-swap"
			o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "seat", Words: seatAnew})
			return
		}
		o.Next = append(o.Next, undecided(p, v, "Or accept it by typing the number."))
	}
}

// undecided is the act when a motion can't be told from the limit: more repeats once, then the seat again.
func undecided(p *fold.Plan, v fold.View, or string) fold.Act {
	if v.Has(kit.RepeatField(witnesses(p)[0].Field, mostRepeats(p))) {
		return fold.Act{Do: "reopen", Of: "seat", Words: "More repeats will not tell. " +
			"Loosen the screws, lift the part, wipe, seat it again. " + or}
	}
	return fold.Act{Do: "again", Of: "more", Words: moreTouches(p) + or}
}

// nameWitness says which witness a rigid motion can't explain.
func nameWitness(p *fold.Plan, m fit.Motion, o *fold.Outcome) {
	sp := witnesses(p)
	switch {
	case m.BadVerdict == fit.Named && len(m.Bad) == 1 && m.Bad[0] < len(sp):
		o.Notes = append(o.Notes, fmt.Sprintf("%s does not fit one rigid motion, by %s: a chip on it, a bad touch, or the part bent.",
			sp[m.Bad[0]].Label, p.Len(math.Abs(m.Shifts[m.Bad[0]].Residual))))
	case m.BadVerdict == fit.Unnamed:
		o.Notes = append(o.Notes, "The witnesses do not fit one rigid motion: one is bad, or the part bent.")
	}
}

func moreTouches(p *fold.Plan) string {
	if repeats(p) == 1 {
		return "One more touch of each witness. "
	}
	return "Two more repeats of each witness. "
}
