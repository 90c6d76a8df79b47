package fold

import (
	"slices"

	"fliptrue/jobs"
)

// Given are the facts that job and cards bring at the beginning.
func (p *Plan) Given() []Known {
	if p.kind.Given == nil {
		return nil
	}
	return p.kind.Given(p)
}

// changedUnder is the key by which a change of job or cards voids what the step read from a
// place on, "" when it does not: its own keys, and those of the things given by a card that
// it was read with, as they are at place t. small says that figures of a thing changed by too
// little for that.
func (x *resolver) changedUnder(sp *Spec, first Seq, c changed, t Seq) (key string, small bool) {
	keys, until := x.differing(first, c, t)
	if key := Touched(sp.Keys, keys); key != "" {
		return key, false
	}
	if x.s.walk > 0 && x.s.walk < byValue {
		if key := Touched(sp.Former, keys); key != "" {
			return key, false
		}
	}
	for _, g := range sp.Stands() {
		of, ok := x.p.house.Cards[g]
		if !ok {
			continue
		}
		if v, ok := x.version(g, first-1); ok && (v.round != nil || v.from != nil) {
			continue // not the card's
		}
		if key := Touched(of.Whole, keys); key != "" {
			return key, false
		}
		if key := Touched(of.Figures, keys); key != "" {
			was, ok1 := x.cardAt(g, first)
			now, ok2 := x.cardAt(g, until)
			if !ok1 || !ok2 || !of.Same(x.p, was, now) {
				return key, false
			}
			small = true
		}
	}
	return "", small
}

// byValue is the walk from which on an edit counts only while a value differs from what it was at
// the first reading: restored, what was measured against it is back.
const byValue = 3

// differing are those keys of a change whose values differ at place t from those at the first
// reading, and the place whose figures count. A change that carries no values, or in a record that
// copied none, differs for good.
func (x *resolver) differing(first Seq, c changed, t Seq) (keys []string, until Seq) {
	if x.s.walk < byValue || !c.told || x.s.cards["job.hash"] == "" {
		return c.Keys, c.Seq
	}
	between := [2]int{x.replanned(first), x.replanned(t)}
	now, ok := x.differ[between]
	if !ok {
		now = jobs.Changed(x.s.cardsAt(first), x.s.cardsAt(t))
		x.differ[between] = now
	}
	for _, k := range c.Keys {
		if _, still := slices.BinarySearch(now, k); still {
			keys = append(keys, k)
		}
	}
	return keys, t
}

// replanned is how often the cards had changed by a place.
func (x *resolver) replanned(t Seq) int {
	n := 0
	for n < len(x.s.replans) && x.s.replans[n].Seq <= t {
		n++
	}
	return n
}

// cardAt is a fact as the cards gave it after t events, read once for each state of the cards;
// ok is false where the record does not hold it.
func (x *resolver) cardAt(f FactID, t Seq) (Known, bool) {
	n := x.replanned(t)
	got, known := x.gave[n]
	if !known {
		if cards := x.s.cardsAt(t); cards["job.hash"] != "" { // of the job on the disk only what it is now is known
			if p, err := x.p.asBegun(&setupLog{cards: cards, as: x.s.as}); err == nil {
				got = p.Given()
			}
		}
		x.gave[n] = got
	}
	for _, g := range got {
		if g.ID == f {
			return g, true
		}
	}
	return Known{}, false
}

// reckonedAnew says of a round that figures of a card changed since by too little to void it.
func (x *resolver) reckonedAnew(sp *Spec, r *Round) string {
	last := Seq(0)
	for _, c := range x.s.changes {
		if r.First > 0 && c.Seq > r.First {
			if _, small := x.changedUnder(sp, r.First, c, x.now); small {
				_, last = x.differing(r.First, c, x.now)
			}
		}
	}
	if last == 0 {
		return ""
	}
	for _, g := range sp.Stands() {
		if of, ok := x.p.house.Cards[g]; ok {
			was, ok1 := x.cardAt(g, r.First)
			now, ok2 := x.cardAt(g, last)
			if ok1 && ok2 {
				return of.Said(x.p, was, now)
			}
		}
	}
	return ""
}
