package bench

import "fliptrue/steps"

// setScrews is how the person sets the screws: by the turn where a thread of this fixture was stripped,
// by a level pull where threads were tapped on the table, else by a torque driver.
func (w *World) setScrews(a steps.Ask) string {
	const driver, pull, turn = 0, 1, 2
	switch {
	case w.card.Threads.StripAngle > 0:
		return a.Options[turn]
	case w.setup.HoldDown == "M":
		return a.Options[pull]
	}
	return a.Options[driver]
}
