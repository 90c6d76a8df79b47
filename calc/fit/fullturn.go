package fit

import "math"

// FullTurn looks for one step between neighbouring readings that is a full turn of the
// dial, up or down, on top of the run's own trend: the needle went round unseen. turns are
// the travels per turn to try, mm (0.2, 0.4, 0.5, 1.0 are common). It returns the station
// after the step, from 0, and the signed travel to take off the readings from there on.
//
//	step within 5 % of a turn of the median step, all other steps within a quarter turn
//
// Fewer than four readings say nothing. It is a question to ask, not a correction to make.
func FullTurn(readings []float64, turns ...float64) (at int, travel float64, ok bool) {
	n := len(readings)
	if n < 4 {
		return 0, 0, false
	}
	steps := make([]float64, n-1)
	for i := range steps {
		steps[i] = readings[i+1] - readings[i]
	}
	m := median(steps)
	for _, turn := range turns {
		found := -1
		for i, s := range steps {
			switch d := math.Abs(s - m); {
			case math.Abs(d-turn) <= 0.05*turn && found < 0:
				found = i
			case !(d <= turn/4):
				found = n // a second large step: not one turn
			}
		}
		if found >= 0 && found < n {
			return found + 1, math.Copysign(turn, steps[found]-m), true
		}
	}
	return 0, 0, false
}

func median(vs []float64) float64 {
	s := append([]float64(nil), vs...)
	for i := range s { // insertion: a run has a dozen stations
		for k := i; k > 0 && s[k] < s[k-1]; k-- {
			s[k], s[k-1] = s[k-1], s[k]
		}
	}
	n := len(s)
	return (s[(n-1)/2] + s[n/2]) / 2
}
