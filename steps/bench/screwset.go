package bench

import (
	"fliptrue/steps/fold"
)

// setScrews is how the person sets the screws: by the turn where a thread of this fixture was stripped,
// by a level pull where threads were tapped on the table, else by a torque driver.
func (w *World) setScrews(a fold.Ask) string {
	const driver, pull, turn = 0, 1, 2
	switch {
	case w.card.Threads.StripAngle > 0:
		return a.Options[turn]
	case w.setup.HoldDown == "M":
		return a.Options[pull]
	}
	return a.Options[driver]
}

// tightened is what the screws were set to: what the page says, or what a hand takes for a small screw
// where it says nothing. ok is false for another ask.
func tightened(a fold.Ask) (v float64, ok bool) {
	bare := map[fold.What]float64{ // N mm, N, rad
		{By: "driver", Of: "screws", Dir: "torque"}:    30,
		{By: "spring balance", Of: "key", Dir: "pull"}: 0.75,
		{By: "eye", Of: "screws", Dir: "angle"}:        0.4,
	}
	if v, ok = bare[a.What]; ok && a.Window != nil {
		v = a.Window.Want
	}
	return v, ok
}
