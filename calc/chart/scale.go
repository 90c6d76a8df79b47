package chart

import "math"

// nothing is a length below which a plot shows none, mm.
const nothing = 1e-7

// Scale returns what a plot of lengths shows at its end: the limit times the least of a few fixed factors
// that holds all values. So noise within the limit looks like noise, whatever its size, and
// a failure like a failure. Without a limit (0, or an infinity) it is a round number that holds them, 0 where there is none.
func Scale(limit, largest float64) float64 {
	if !(limit > 0) || math.IsInf(limit, 0) {
		if !(largest >= nothing) || math.IsInf(largest, 0) {
			return 0
		}
		p := math.Pow(10, math.Floor(math.Log10(largest)))
		for _, f := range []float64{1, 2, 5} {
			if f*p >= largest {
				return f * p
			}
		}
		return 10 * p
	}
	f := 1.5
	for f*limit < largest && f < 1e9 {
		f *= 2
	}
	return f * limit
}
