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

// asksAgain asks the witness set once more, as often as it takes to tell its motion from the limit; a baseline that is not there foresees
// nothing.
func asksAgain(p *fold.Plan, v fold.View, base facts.BaselineFact, ok bool, l fold.Limit) []fold.Ask {
	if !ok {
		return setAsks(p, v, nil, repeats(p), false)
	}
	return setAsks(p, v, &base, setRepeats(p, v, base, l), false)
}

// readAgain is the set held against its baseline: the motion, how it is judged for features so high over the faces, and an outcome that
// says so.
func readAgain(p *fold.Plan, v fold.View, base facts.BaselineFact, l fold.Limit, height float64) (
	m fit.Motion, c fold.Check, o fold.Outcome, err error,
) {
	s := readSet(p, v, false)
	if m, err = movedSince(p, v, base, s, setGoes(p, v, base, l)); err != nil {
		return m, c, o, err
	}
	repeatCheck(p, s, &o)
	c, o.Learned = weigh(p, l, m, height)
	o.Checks = append(o.Checks, c)
	o.Lines = []fold.Row{{Label: "moved at the worst feature", Value: c.Got, Guard: c.Guard, Unit: unit.KLength, Big: true,
		Verdict: c.Verdict}}
	return m, c, o, nil
}

// movedSince is the motion since the baseline, its guards those of the looks that there may be after so many goes that could not tell. The
// baseline and the fixture's own witness are in every look: reckoned is what the baseline alone has in common, which is the least.
func movedSince(p *fold.Plan, v fold.View, base facts.BaselineFact, s witnessSet, goes int) (fit.Motion, error) {
	m, err := moved(p, base, s, witness.All)
	if err != nil || !v.Walks(4) {
		return m, err
	}
	u, first := []float64{1}, 1/float64(repeats(p))
	if !posts(p) { // dials on posts stand as they stand: they are read once
		u = nil
		for n := repeats(p); n <= mostRepeats(p); n += repeats(p) {
			u = append(u, math.Sqrt(first+1/float64(n)))
		}
	}
	m.Look = kit.Looks(v, goes, u...)
	return m, nil
}

// setGoes are the earlier goes at a part that lies as it lay, which could not tell.
func setGoes(p *fold.Plan, v fold.View, base facts.BaselineFact, l fold.Limit) int {
	return v.Goes(func(v fold.View) bool {
		s := readSet(p, v, false)
		if !s.fixed {
			return false
		}
		m, err := movedSince(p, v, base, s, 0)
		if err != nil {
			return false
		}
		c, _ := weigh(p, l, m, tallest(p, v))
		return c.Verdict == fold.NotProven
	})
}

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
	step, earlier := repeats(p), v.Earlier
	if !v.Walks(4) {
		earlier = nil
	}
	for n := step; n < mostRepeats(p); n += step {
		if !unsettled(p, v.In(firstRepeats(v.Round, n), earlier), base, l) {
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
	m, err := movedSince(p, v, base, s, setGoes(p, v, base, l))
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
