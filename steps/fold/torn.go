package fold

import "fmt"

// A round is read in one go of the machine: what a mishap hits of that on which the step rests as
// read, between the first and the last reading, tears it. Half of it was read before, half after;
// it makes nothing and is asked again. Records of earlier walks keep their rounds.

// tearing is the walk from which on rounds are torn, and mishaps reach other setups.
const tearing = 3

// torn is what tore the round, nil for nothing. Only what was declared tears: what steps raise
// comes at their ends.
func (x *resolver) torn(sp *Spec, r *Round) *Cause {
	if r == nil || r.First == 0 || x.s.walk < tearing {
		return nil
	}
	for _, h := range x.happened {
		if h.By != "" || h.Seq <= r.First || h.Seq > r.Last {
			continue
		}
		m, ok := x.p.Mishap(h.ID)
		if !ok {
			continue
		}
		for _, n := range sp.Needs {
			if n.Rests == AsItWas && n.Waits == Always && m.Hits(n.Fact, h.Tool) {
				return &Cause{Seq: h.Seq, Fact: n.Fact, Mishap: h.ID, Cell: V, Words: m.Words + ", halfway through the readings"}
			}
		}
	}
	return nil
}

// half says of a torn round what is wrong with it and what to do.
func (x *resolver) half(sp *Spec, r *Round, c *Cause) Stray {
	return Stray{c.Seq, fmt.Sprintf("%s/%s/%d was split by event %d (%s). Nothing of this round counts: read %s again in a new round",
		x.p.Setup.Name, sp.ID, r.No, c.Seq, c.Words, sp.ID)}
}
