package register

import (
	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
)

// The fixture's growth by humidity takes the part along, from the bore to where the walls hold it: from there on it is the
// part, which grows for itself. Two bores measure it together with the heat. It counts once the part is in: what is judged
// before is what hits and dial can mend, which this is not.

// damped is how far it took the part, as far as hygrometers on both days tell, mm.
func (s Setup) damped() frame.Vec {
	if s.twoBores() {
		return frame.Vec{}
	}
	return s.reach().Times(s.Damp.Value)
}

// damp are its lines on one axis.
func (s Setup) damp(axis int) []budget.Line {
	if s.twoBores() {
		return nil
	}
	_, ls := s.Damp.At(axisOf(s.reach(), axis))
	return ls
}

func (s Setup) twoBores() bool { return s.Offset.Fixture.Cov[3][3] > 0 }

// reach is from the bore to where the part is held, as made.
func (s Setup) reach() frame.Vec { return s.Offset.Fixture.V.Add(s.Offset.Fixture.Held) }
