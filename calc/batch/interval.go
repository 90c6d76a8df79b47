package batch

import (
	"math"

	"fliptrue/calc/given"
)

// Interval is how often to check, in parts.
type Interval struct {
	Best  float64 // as a real number
	Every int     // the whole number of least cost, 1 or more
	Cost  float64 // min a part at Every: checking and what is lost before a check finds it
}

// ToInterval weighs a check of c minutes against a part worth w minutes that is lost if the
// fixture moved, which happens with probability p a part.
//
//	cost(k) = c/k + p w k/2      k* = √(2 c/(p w))
//
// Taguchi's interval of on-line checking (from memory), where half of the parts between two
// checks are lost on average. All above 0, p below 1.
func ToInterval(c, p, w float64) (Interval, error) {
	if err := given.Above("minutes of a check", c, "chance that it moved", p, "chance that it did not", 1-p, "worth of a part",
		w); err != nil {
		return Interval{}, err
	}
	i := Interval{Best: math.Sqrt(2 * c / (p * w))}
	cost := func(k float64) float64 { return c/k + p*w*k/2 }
	k := math.Max(1, math.Floor(i.Best))
	if cost(k+1) < cost(k) {
		k++
	}
	i.Every, i.Cost = int(k), cost(k)
	return i, nil
}
