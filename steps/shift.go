package steps

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
)

// weighMotion judges a motion at the worst listed feature. It says what it is in words.
func (p *Plan) weighMotion(l Limit, m fit.Motion) (c Check, words string) {
	name, axis, value, guard := p.atWorst(m)
	c = Judged(l, value, guard)
	c.Largest = "witness readings"
	at := fmt.Sprintf("At %s along %s the part has moved by %s ± %s.", name, strings.ToUpper(axisName[axis]), p.len(value), p.len(guard))
	switch {
	case c.Verdict == Pass && !m.AnyReal():
		words = "Quiet: nothing moved beyond the scatter. " + at
	case c.Verdict == Pass:
		words = "Real but small. " + at
	case c.Verdict == Fail:
		words = "Real and large. " + at
	case guard > l.Max:
		words = "Too noisy to say. " + at
	default:
		words = "Not proven. " + at
	}
	if c.Verdict != Pass {
		c.Words = words
	}
	return c, words
}

// setRepeats is how often each witness is read: more when two could not decide.
func (p *Plan) setRepeats(v View, base Fact, l Limit) int {
	trimmed := v.In(firstRepeats(v.Round), nil)
	s := p.readSet(trimmed, false)
	if !s.fixed {
		return witnessRepeats
	}
	m, err := p.moved(base, s, false)
	if err != nil {
		return witnessRepeats
	}
	if c, _ := p.weighMotion(l, m); c.Verdict == NotProven {
		return 2 * witnessRepeats
	}
	return witnessRepeats
}

// firstRepeats is a round without the repeats that were asked for later.
func firstRepeats(r *Round) *Round {
	if r == nil {
		return nil
	}
	return r.Of(func(t Taken) (Taken, bool) {
		i := strings.LastIndexByte(t.Field, '.')
		return t, i < 0 || t.Field[i+1:] <= "2"
	})
}

// shift reads the witness set again, the part now held by its screws alone.
func shift(p *Plan) *Spec {
	limit := func() Limit { return p.Limit("shift.register") }
	return &Spec{
		Title: "shift test", Live: []FactID{"screws"}, AsRead: []FactID{"baseline"}, Seen: []FactID{"bore", "offset", "ball"}, Makes: []FactID{"shift"},
		Asks: func(v View) []Ask {
			b, ok := v.Fact("baseline")
			if !ok {
				return p.setAsks(v, nil, witnessRepeats, false)
			}
			return p.setAsks(v, &b, p.setRepeats(v, b, limit()), false)
		},
		Judge: func(v View) Outcome {
			var o Outcome
			b, _ := v.Fact("baseline")
			s := p.readSet(v, false)
			m, err := p.moved(b, s, false)
			if err != nil {
				return p.cannot("shift", err, o)
			}
			p.repeatCheck(s, &o)
			c, words := p.weighMotion(limit(), m)
			o.Checks = append(o.Checks, c)
			o.Lines = append([]Row{{Label: "moved at the worst feature", Value: c.Got, Guard: c.Guard, Unit: unit.KLength, Big: true, Verdict: c.Verdict},
				{Label: "X", Value: m.Move.X, Unit: unit.KLength, Signed: true}, {Label: "Y", Value: m.Move.Y, Unit: unit.KLength, Signed: true},
				{Label: "turned", Value: m.Turn, Unit: unit.KSlope, Signed: true}}, p.motionLines(m, false)...)
			if r := p.whatRose(m); r != "" {
				o.Notes = append(o.Notes, r)
			}
			p.nameWitness(m, &o)
			o.Facts = []Fact{shiftFact(m)}
			o.Learned = words
			p.afterMotion(v, c, m, &o)
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "Screws take over from straps: a part that crept now would be cut out of register.",
				Act:     "Read the witness set again: fixture first, then the part, each twice.",
				Read:    "Machine position at the trigger. Part minus fixture: a refitted probe cancels.",
				Caution: "SPINDLE STOPPED, its command off.", Scene: p.scene(v, p.spotMarks(v, false))}
		},
	}
}

// afterMotion is the physical next act after a motion that does not pass.
func (p *Plan) afterMotion(v View, c Check, m fit.Motion, o *Outcome) {
	switch {
	case c.Verdict == Fail:
		o.Named = "shift-at-swap"
		o.Next = append(o.Next, Act{Do: "reopen", Of: "seat", Words: "Loosen the screws, lift the part, wipe, seat it again: the walk goes on from the seat."})
	case c.Verdict == NotProven:
		if m.AnyReal() {
			o.Named = "shift-at-swap"
		}
		o.Next = append(o.Next, p.undecided(v, fmt.Sprintf("Or shift the offset by the motion, X %s Y %s, and read its page again. Or accept it by typing the number.",
			unit.Signed(m.Move.X, unit.KLength, p.Job.Unit, 0), unit.Signed(m.Move.Y, unit.KLength, p.Job.Unit, 0))))
	}
}

// undecided is the act when a motion can't be told from the limit: more repeats once, then the seat again.
func (p *Plan) undecided(v View, or string) Act {
	if v.Has(repeatField(p.spots()[0].field, 2*witnessRepeats)) {
		return Act{Do: "reopen", Of: "seat", Words: "More repeats will not tell. Loosen the screws, lift the part, wipe, seat it again. " + or}
	}
	return Act{Do: "again", Of: "more", Words: "Two more repeats of each witness. " + or}
}

// nameWitness says which witness a rigid motion can't explain.
func (p *Plan) nameWitness(m fit.Motion, o *Outcome) {
	sp := p.spots()
	switch {
	case m.BadVerdict == fit.Named && len(m.Bad) == 1 && m.Bad[0] < len(sp):
		o.Notes = append(o.Notes, fmt.Sprintf("%s does not fit one rigid motion, by %s: a chip on it, a bad touch, or the part bent.", sp[m.Bad[0]].label, p.len(math.Abs(m.Shifts[m.Bad[0]].Residual))))
	case m.BadVerdict == fit.Unnamed:
		o.Notes = append(o.Notes, "The witnesses do not fit one rigid motion: one is bad and it can't be said which, or the part bent.")
	}
}
