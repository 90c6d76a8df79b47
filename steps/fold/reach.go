package fold

import "strings"

// A mishap told under one setup of a record has happened to the others as well, as far as it
// reaches: the power fails for all of them. Only what was declared reaches; what a step raises
// stays in its setup.

// reaching are the mishaps declared in other setups that reach this one, in order of place.
func (x *resolver) reaching() []Happened {
	var out []Happened
	for _, name := range x.lg.names() {
		o := x.lg.setups[name]
		if o == x.s || name == x.p.Setup.Name {
			continue
		}
		for _, h := range o.happened {
			if h.Seq <= x.s.begun || x.ended(h.Seq) || !x.reaches(h, name) {
				continue
			}
			h.From, h.Tool = name, x.p.tool(h.Tool)
			out = append(out, h)
		}
	}
	return out
}

// reaches says that a mishap declared in a setup concerns this one.
func (x *resolver) reaches(h Happened, setup string) bool {
	m, ok := x.p.Mishap(h.ID)
	if !ok {
		return false
	}
	switch m.Where {
	case OnMachine:
		return true
	case OfTool: // one that this setup does not have leaves it alone
		return strings.TrimSpace(h.Tool) == "" || x.p.tool(h.Tool) != ""
	case OnFixture:
		s, ok := x.p.Job.Setup(setup)
		return ok && s.Card != "" && s.Card == x.p.Setup.Card
	}
	return false
}

// ended says that the setup was done with before a place: released, and nothing is done after it.
func (x *resolver) ended(at Seq) bool {
	return x.p.kind.After == "" && x.s.released > 0 && x.s.released < at
}

// concerns says that what happened hits the fact; of another setup's tool only the length is meant.
func (m *Mishap) concerns(f FactID, h *Happened) bool {
	if h.From != "" && m.Where == OfTool && f.Column() != "length" {
		return false
	}
	return m.Hits(f, h.Tool)
}

// spared are the mishaps that would reach the setup if its record were of today.
func (x *resolver) spared() []string {
	if x.s.walk == 0 || x.s.walk >= tearing {
		return nil
	}
	var out []string
	for _, h := range x.reaching() {
		m, _ := x.p.Mishap(h.ID)
		out = append(out, m.Words+", told under "+h.From)
	}
	return out
}
