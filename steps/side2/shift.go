package side2

import (
	"fmt"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/calc/witness"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// shift reads the witness set again, the part now held by its screws alone.
func shift(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "shift test", Needs: fold.Needs(fold.AsRead(facts.AMounting), fold.Live("screws"), fold.AsRead("baseline"),
			fold.IfThere("bore", "offset", "ball"), fold.Remembered("floor", kit.ZDatum(p))), Makes: []fold.FactID{"shift"},
		Asks: func(v fold.View) []fold.Ask {
			b, ok := facts.Baseline.In(v)
			return asksAgain(p, v, b, ok, p.Limit("shift.register"))
		},
		Judge: func(v fold.View) fold.Outcome { return judgeShift(p, v) },
		Page:  func(v fold.View) fold.Page { return shiftPage(p, v) },
	}
}

// judgeShift holds the motion since the baseline against the register, and how far the part rose.
func judgeShift(p *fold.Plan, v fold.View) fold.Outcome {
	b, _ := facts.Baseline.In(v)
	m, c, o, err := readAgain(p, v, b, p.Limit("shift.register"), tallest(p, v))
	if err != nil {
		return kit.Cannot(p, "shift", err, o)
	}
	var heights []fold.Check
	if v.Walks(3) {
		heights = riseChecks(p, m)
		o.Checks = append(o.Checks, heights...)
	}
	o.Lines = append(o.Lines, fold.Row{Label: "X", Value: m.Move.X, Unit: unit.KLength, Signed: true},
		fold.Row{Label: "Y", Value: m.Move.Y, Unit: unit.KLength, Signed: true},
		fold.Row{Label: "turned", Value: m.Turn, Unit: unit.KSlope, Signed: true})
	o.Lines = append(o.Lines, motionLines(p, m, false)...)
	if v.Walks(3) {
		o.Lines = append(o.Lines, riseRows(p, m)...)
	}
	if r := whatRose(m); r != "" {
		o.Notes = append(o.Notes, r)
	}
	nameWitness(p, m, &o)
	o.Facts = []fold.Known{shiftFact(m, tallest(p, v))}
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
