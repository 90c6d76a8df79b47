package tui

import (
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// bounds begins what is expected where only its bounds are known.
const bounds = "between "

// upTo begins it where the lower one is nothing.
const upTo = "up to "

// expected is what a field is expected to be: one number with its window behind it, or in
// words where it is a difference and either way, or all that can be said are its bounds.
func (m *Model) expected(a fold.Ask) (pred, after, apart string) {
	if a.Window == nil || a.Blind {
		return "", "", ""
	}
	sys := m.o.Plan.System()
	pred = asEntered(a.Window.Want, a, sys)
	after = "±" + apartText(a.Window.Half, a, sys)
	if a.Window.Why != "" {
		after += "  " + a.Window.Why
	}
	if a.Window.Least > 0 { // what is expected is a difference, and either way: there is no one number
		apart = asEntered(a.Window.Least, a, sys) + " to " + asEntered(a.Window.Half, a, sys) + " away from " + pred + ", either way"
		if a.Window.Why != "" {
			apart += ": " + a.Window.Why
		}
		pred = ""
	} else if half := math.Abs(a.Window.Half); a.Window.Want != 0 && half >= math.Abs(a.Window.Want)/2 &&
		(a.Unit != unit.KLength || half >= 5) { // its middle is no prediction
		apart = bounds + asEntered(a.Window.Want-half, a, sys) + " and " + asEntered(a.Window.Want+half, a, sys)
		if a.Window.Want > 0 && a.Window.Want <= half && a.What.Axis == "" && a.What.By != "dial" &&
			a.Unit != unit.KTemperature { // what has a size
			apart = upTo + asEntered(a.Window.Want+half, a, sys)
		}
		if a.Window.Why != "" {
			apart += ": " + a.Window.Why
		}
		pred = ""
	}
	return pred, after, apart
}
