package rescue

import (
	"fliptrue/calc/frame"
	"fliptrue/calc/register"
)

// ReentryStep is the most of a step where the cut goes on that is not felt, mm. Common practice.
const ReentryStep = 0.02

// Offset is the placement for a part that moved.
type Offset struct {
	Place frame.Placement
	Moved Moved
	old   frame.Placement
}

// ToOffset turns the old placement into the new one.
//
//	control that turns:  O' = O + t, rotation + w
//	else:                O' = O + t + (R(w) - I) c
//
// c is the middle of what is still to be cut, program coordinates: there the error is none. t is
// turned by a rotation that the old placement already had.
func ToOffset(old frame.Placement, m Moved, turns bool, c frame.Vec) Offset {
	place := frame.Motion{Turn: old.Rotation, Shift: old.Offset}
	o := Offset{Place: frame.Placement{Offset: place.Apply(m.Motion.Shift), Rotation: old.Rotation + m.Motion.Turn}, Moved: m, old: old}
	if !turns {
		o.Place.Rotation = old.Rotation
		o.Place.Offset = place.Apply(m.Motion.Move(c))
	}
	return o
}

// Left is what the new placement leaves at a place: the part's feature less where the tool
// will cut, program coordinates, mm. None where the control turns.
func (o Offset) Left(p frame.Vec) frame.Vec {
	part := o.old.Motion().Apply(o.Moved.Motion.Apply(p))
	return part.Sub(o.Place.Motion().Apply(p)).Turned(-float64(o.Place.Rotation))
}

// Judge judges what is left at places still to be cut against a limit: ReentryStep for a step
// where the cut goes on, the register allowance for the rest. See register.Judge.
func (o Offset) Judge(places []frame.Vec, limit float64) (register.Judged, error) {
	return register.Judge(places, limit, func(p frame.Vec) (d, guard frame.Vec) {
		u := o.uAt(p)
		return o.Left(p), frame.Vec{X: o.Moved.Guard(u.X), Y: o.Moved.Guard(u.Y)}
	})
}

func (o Offset) uAt(p frame.Vec) frame.Vec { return o.Moved.Motion.CovAt(p, o.Moved.Cov).U() }

// ShownOffset is the offset that was active, by the machine and work readouts at the stop: it must
// be the one read back when it was entered. X, Y, Z; Z also less the active length. With a rotation
// active the work readout cannot be compared so: read the rotation first.
func ShownOffset(machine, work frame.Vec3, length float64) frame.Vec3 {
	return frame.Vec3{X: machine.X - work.X, Y: machine.Y - work.Y, Z: machine.Z - work.Z - length}
}
