package desk

import (
	"fmt"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// BeforeDrilling are all questions to answer while the part is still whole: straps, keep-out,
// drill plan, and what is known of the cut to come.
func BeforeDrilling(p *fold.Plan, v fold.View, read unit.Torque, o *fold.Outcome) {
	w := AsFound{Earlier: !v.Walks(3)}
	h := StrapHolds(p, read, w)
	k := DrillKeepOut(p)
	d := DrillPlan(p)
	keep := k.Checks(p, "straps.keepout")
	o.Checks = append(o.Checks, h.checks...)
	o.Checks = append(o.Checks, keep...)
	o.Checks = append(o.Checks, d.Checks...)
	o.Lines = append(o.Lines, h.Rows...)
	for _, notes := range [][]string{h.notes, k.Notes, d.Notes} {
		o.Notes = append(o.Notes, notes...)
	}
	if o.Named == "" {
		o.Named = h.named
	}
	words := []string{h.next}
	for _, c := range append(keep, d.Checks...) {
		if !c.Verdict.OK() {
			words = append(words, c.Words)
		}
	}
	words = append(words, k.Moves(p)...)
	for _, w := range words {
		if w != "" {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: w})
		}
	}
	if w.Earlier {
		seatOnly(p, w, o)
		return
	}
	CutToCome(p, o)
}

// seatOnly is what records of the first two walks judge of the cut at this place.
func seatOnly(p *fold.Plan, w AsFound, o *fold.Outcome) {
	if s := Hold(p, w); s.Why == "" {
		c := s.Retention(p)
		o.Checks = append(o.Checks, c)
		o.Lines = append(o.Lines, s.CeilingRows(p)[:2]...)
		s.orChange(p, o, c)
	}
}

// CutToCome is what the desk knows of the cut: whether the screws will hold it, whether its tools
// reach and bear it, and whether it clears what stands. A hole is for good: it stops here, not at the cut.
func CutToCome(p *fold.Plan, o *fold.Outcome) {
	if s := Hold(p, AsFound{}); s.Why != "" {
		unheld(NotComputed(s.Why), o)
	} else {
		held := s.Held(p)
		o.Checks = append(o.Checks, held...)
		o.Lines = append(o.Lines, s.CeilingRows(p)[:2]...)
		s.orChange(p, o, held...)
	}
	k := CutKeepOut(p)
	reach, _, _ := ReachAll(p, AsFound{})
	checks := append(k.Checks(p, "deck.keepout"), reach...)
	if c, ok := HeadRoom(p, 0); ok {
		checks = append(checks, c)
	}
	for _, c := range checks {
		o.Checks = append(o.Checks, c)
		if !c.Verdict.OK() && len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: "Do not drill. " + c.Words + " Change the job first."})
		}
	}
}

// orChange says what to do instead of drilling where the screws will not hold.
func (h *Holding) orChange(p *fold.Plan, o *fold.Outcome, cs ...fold.Check) {
	if fold.Worst(cs).OK() {
		return
	}
	o.Next = append(o.Next, fold.Act{Do: "round", Words: fmt.Sprintf("Do not drill: the screws will not hold a cut of %s. %s Change the job "+
		"first.", p.Len(p.Setup.Cut.Ap), h.first())})
	o.Notes = append(o.Notes, "What would let it hold, in this order: "+h.advice()+".")
}
