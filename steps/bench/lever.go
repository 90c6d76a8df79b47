package bench

import (
	"math"

	"fliptrue/steps/fold"
)

// lever is the angle of the dial's stylus to what it touches, as an eye sees it: to five degrees. ok is
// false for another ask.
func (w *World) lever(q fold.What) (rad, step float64, ok bool) {
	if q.By != "eye" || q.Of != "dial" || q.Dir != "lever" {
		return 0, 0, false
	}
	step = 5 * math.Pi / 180
	return roundTo(math.Acos(min(1, math.Abs(w.dial.sense))), step), step, true
}
