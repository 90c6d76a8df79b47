package steps

import (
	"fmt"

	"fliptrue/calc/unit"
)

// given is what a card says of a thing: editing the whole voids what was read with it, editing
// a figure only when the thing would be another one by its check. A smaller change is reckoned
// with, as is the tram and what is known of the part: every result is reckoned anew.
type given struct{ whole, figures []string }

var givenKeys = map[FactID]given{
	"ball": {[]string{"machine.probe.ball", "machine.probe.id", "machine.probe.void"},
		[]string{"machine.probe.radius", "machine.probe.radius-x", "machine.probe.radius-y", "machine.probe.eccentricity"}},
}

// givenFacts are the facts that job and cards bring at the beginning.
//
//	ball   [rx ry ex ey s dof]  effective radii and eccentricity, mm; pooled s of a hit and its degrees of freedom
//	tram   [tx ty]              spindle lean to the table, rad
//	card   []                   the fixture card
func givenFacts(p *Plan) []Fact {
	var out []Fact
	m := &p.Job.Machine
	if m.Probe != nil && holds(m.Probe.Void) {
		rx, ry := m.Probe.RadiusX, m.Probe.RadiusY
		if rx == 0 {
			rx = m.Probe.Radius
		}
		if ry == 0 {
			ry = m.Probe.Radius
		}
		out = append(out, Fact{ID: "ball", Value: []float64{rx, ry, m.Probe.Eccentricity[0], m.Probe.Eccentricity[1],
			m.Probe.Repeat, m.Probe.Dof}})
	}
	if m.Tram != nil && holds(m.Tram.Void) {
		out = append(out, Fact{ID: "tram", Value: []float64{float64(m.Tram.X), float64(m.Tram.Y)}})
	}
	if p.Job.Fixture.ID != "" {
		out = append(out, Fact{ID: "card"})
	}
	return append(out, givenPart(p)...)
}

// changedUnder is the key by which a change of job or cards voids what the step read from a
// place on, "" when it does not: its own keys, and those of the things given by a card that
// it was read with. small says that figures of the ball changed by too little for that.
func (x *resolver) changedUnder(sp *Spec, first Seq, c changed) (key string, small bool) {
	if key := firstTouched(sp.Keys, c.Keys); key != "" {
		return key, false
	}
	for _, g := range sp.stands() {
		of, ok := givenKeys[g]
		if !ok {
			continue
		}
		if v, ok := x.version(g, first-1); ok && (v.round != nil || v.from != nil) {
			continue // not the card's
		}
		if key := firstTouched(of.whole, c.Keys); key != "" {
			return key, false
		}
		if key := firstTouched(of.figures, c.Keys); key != "" {
			dr, de, ok := x.ballMoved(first, c.Seq)
			if !ok || dr > x.p.Limit("check.ball").Max || de > x.p.Limit("check.eccentricity").Max {
				return key, false
			}
			small = true
		}
	}
	return "", small
}

// ballMoved is how far the card's ball after one event is from that after another, in radius
// and place; ok is false where the record does not hold both.
func (x *resolver) ballMoved(from, to Seq) (radius, ecc float64, ok bool) {
	was, ok1 := x.ballAt(from)
	now, ok2 := x.ballAt(to)
	radius, ecc = ballDifference(was, now)
	return radius, ecc, ok1 && ok2
}

// ballAt is the card's ball after t events, read once for each state of the cards.
func (x *resolver) ballAt(t Seq) (b [4]float64, ok bool) {
	n := 0
	for n < len(x.s.replans) && x.s.replans[n].Seq <= t {
		n++
	}
	got, known := x.balls[n]
	if !known {
		if cards := x.s.cardsAt(t); cards["job.hash"] != "" { // of the job on the disk only what it is now is known
			if p, err := x.p.asBegun(&setupLog{cards: cards}); err == nil {
				for _, f := range givenFacts(p) {
					if f.ID == "ball" {
						got = f.Value[:4]
					}
				}
			}
		}
		x.balls[n] = got
	}
	if got == nil {
		return b, false
	}
	return [4]float64(got), true
}

// reckonedAnew says of a round that figures of the ball changed since by too little to void it.
func (x *resolver) reckonedAnew(sp *Spec, r *Round) string {
	last := Seq(0)
	for _, c := range x.s.changes {
		if r.First > 0 && c.Seq > r.First {
			if _, small := x.changedUnder(sp, r.First, c); small {
				last = c.Seq
			}
		}
	}
	if last == 0 {
		return ""
	}
	dr, de, _ := x.ballMoved(r.First, last)
	fine := 1e-4 // the figures have a digit more than a reading
	if x.p.Job.Unit == unit.Imperial {
		fine = 1e-5 * float64(unit.Inch)
	}
	show := func(v float64) string { return unit.Show(v, unit.KLength, x.p.Job.Unit, fine) }
	return fmt.Sprintf("Since this was read the card's ball changed by %s in radius and %s in place, by less than its check tells (%s and %s): reckoned anew, no hit is taken again.",
		show(dr), show(de), x.p.len(x.p.Limit("check.ball").Max), x.p.len(x.p.Limit("check.eccentricity").Max))
}
