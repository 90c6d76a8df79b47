package kit

import (
	"fmt"
	"math"
	"strconv"
)

// oclock is a direction as a clock hand, X+ at 3 o'clock.
func oclock(deg float64) string {
	h := math.Mod(3-deg/30+24, 12)
	lo := math.Floor(h)
	name := func(x float64) string {
		n := int(math.Mod(x, 12))
		if n == 0 {
			n = 12
		}
		return fmt.Sprint(n)
	}
	if h-lo < 0.25 {
		return name(lo)
	}
	if h-lo > 0.75 {
		return name(lo + 1)
	}
	return name(lo) + "-" + name(lo+1)
}

// clock is a hit's direction, in degrees as What has it, for the person.
func clock(deg string) string {
	d, err := strconv.ParseFloat(deg, 64)
	if err != nil {
		return deg
	}
	side := ""
	switch d {
	case 0:
		side = ", RIGHT"
	case 90:
		side = ", AWAY"
	case 180:
		side = ", LEFT"
	case 270:
		side = ", TOWARD YOU"
	}
	return fmt.Sprintf("%s o'clock (%s deg%s)", oclock(d), deg, side)
}

// Fitting is what is fitted, and the heading and words of the pause before it.
type Fitting struct{ Of, Heading, Words string }

// Fittings are the words by which each instrument goes in, before the locating bore.
var Fittings = map[string]Fitting{
	"probe": {"probe", "PROBE IN - SPINDLE LOCKED - ALL FIXTURE BOLTS TIGHT",
		"Fit the probe, spindle mark to the front. Try every fixture bolt."},
	"dial":        {"dial", "DIAL IN - SPINDLE LOCKED - ALL FIXTURE BOLTS TIGHT", "Fit the dial. Try every fixture bolt."},
	"edge finder": {"finder", "ALL FIXTURE BOLTS TIGHT", "Fit the edge finder. Try every fixture bolt."},
	"pin":         {"pin-gauge", "SPINDLE LOCKED - ALL FIXTURE BOLTS TIGHT", "Fit the gauge pin. Try every fixture bolt."},
	"paper":       {"tool", "SPINDLE LOCKED - ALL FIXTURE BOLTS TIGHT", "Fit the first tool. Try every fixture bolt."},
}
