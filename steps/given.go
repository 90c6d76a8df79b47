package steps

// givenKeys are the keys of a card that say which thing was read with: editing one voids what
// was read with it. The tram, and what is known of the part, are only reckoned with, and every
// result is reckoned anew.
var givenKeys = map[FactID][]string{
	"ball": {"machine.probe.ball", "machine.probe.radius", "machine.probe.radius-x", "machine.probe.radius-y",
		"machine.probe.eccentricity", "machine.probe.id", "machine.probe.void"},
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
