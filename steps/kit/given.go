package kit

import (
	"fmt"

	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// Cards are what the machine's card says of the ball: another ball voids what was read with it,
// other figures only where its check would tell them from those before.
var Cards = map[fold.FactID]fold.Card{
	"ball": {
		Whole:   []string{"machine.probe.ball", "machine.probe.id", "machine.probe.void"},
		Figures: []string{"machine.probe.radius", "machine.probe.radius-x", "machine.probe.radius-y", "machine.probe.eccentricity"},
		Same: func(p *fold.Plan, was, now fold.Known) bool {
			dr, de := ballMoved(was, now)
			return dr <= p.Limit("check.ball").Max && de <= p.Limit("check.eccentricity").Max
		},
		Said: func(p *fold.Plan, was, now fold.Known) string {
			dr, de := ballMoved(was, now)
			fine := 1e-4 // the figures have a digit more than a reading
			if p.Job.Unit == unit.Imperial {
				fine = 1e-5 * float64(unit.Inch)
			}
			show := func(v float64) string { return unit.Show(v, unit.KLength, p.Job.Unit, fine) }
			return fmt.Sprintf("Since this was read the card's ball changed by %s in radius and %s in place, by less than its check tells (%s and "+
				"%s): reckoned anew, no hit is taken again.",
				show(dr), show(de), p.Len(p.Limit("check.ball").Max), p.Len(p.Limit("check.eccentricity").Max))
		},
	},
}

// ballMoved is how far one ball of the card is from another, in radius and place.
func ballMoved(was, now fold.Known) (radius, ecc float64) {
	a, _ := facts.Ball.Read(was)
	b, _ := facts.Ball.Read(now)
	return BallDifference(a, b)
}

// GivenFacts are the facts that the cards bring at the beginning.
//
//	ball   [rx ry ex ey s dof]  effective radii and eccentricity, mm; pooled s of a hit and its degrees of freedom
//	tram   [tx ty]              spindle lean to the table, rad
//	card   []                   the fixture card
func GivenFacts(p *fold.Plan) []fold.Known {
	var out []fold.Known
	m := &p.Job.Machine
	if m.Probe != nil && holds(m.Probe.Void) {
		rx, ry := m.Probe.RadiusX, m.Probe.RadiusY
		if rx == 0 {
			rx = m.Probe.Radius
		}
		if ry == 0 {
			ry = m.Probe.Radius
		}
		out = append(out, fold.Known{ID: "ball", Value: []float64{rx, ry, m.Probe.Eccentricity[0], m.Probe.Eccentricity[1],
			m.Probe.Repeat, m.Probe.Dof}})
	}
	if m.Tram != nil && holds(m.Tram.Void) {
		out = append(out, fold.Known{ID: "tram", Value: []float64{float64(m.Tram.X), float64(m.Tram.Y)}})
	}
	if p.Job.Fixture.ID != "" {
		out = append(out, fold.Known{ID: "card"})
	}
	return out
}

// BallDifference is the larger change of a radius, and the change of the eccentricity.
func BallDifference(a, b facts.BallFact) (radius, ecc float64) {
	return BallOf(a).Changed(BallOf(b))
}

// BallOf is a ball as calc has it.
func BallOf(b facts.BallFact) pickup.Ball {
	return pickup.Ball{RX: float64(b.RX), RY: float64(b.RY), EX: float64(b.EX), EY: float64(b.EY)}
}
