package batch

import "fmt"

// PriorWalks is how many walks a listed frequency counts for. Common practice.
const PriorWalks = 25

// Rate is how often a mistake happens in a shop.
type Rate struct {
	Listed float64 // chance in one walk, as listed
	Walks  int     // walks in which a reading that sees it was taken
	Caught int     // in how many it was caught
	Catch  float64 // share of them that the reading catches; 0 takes 1
}

// Learned is the chance by both: a Beta prior of the weight of PriorWalks.
//
//	(25·listed + caught/catch)/(25 + walks), at most 1
//
// Only walks that looked are counted, divided by the catch: else a short walk would prove itself right.
func (r Rate) Learned() (float64, error) {
	c := r.Catch
	if c == 0 {
		c = 1
	}
	if !(r.Listed >= 0 && r.Listed <= 1) || !(c > 0 && c <= 1) || r.Walks < 0 || r.Caught < 0 || r.Caught > r.Walks {
		return 0, fmt.Errorf("chance %g, %d caught in %d walks with a catch of %g make no frequency; correct the count",
			r.Listed, r.Caught, r.Walks, r.Catch)
	}
	return min(1, (PriorWalks*r.Listed+float64(r.Caught)/c)/(PriorWalks+float64(r.Walks))), nil
}
