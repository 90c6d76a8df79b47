package fit

// Lobing returns what share of a probe's lobing goes into the centre of a circle found from
// n evenly spaced hits. A probe of that many lobes triggers late by a·cos(lobes·φ); the
// centre is then off by share·a in the worst direction:
//
//	share = 1 for each of lobes+1 and lobes-1 that n divides
//
// A probe with three contacts has three lobes: four hits put the whole of it into the
// centre, three and six and five none. Derived: (2/n)·Σ cos(lobes·φ)·cos φ. Two lobes are an oval ring.
func Lobing(n, lobes int) float64 {
	share := 0.0
	if n < 3 || lobes < 2 {
		return share
	}
	for _, k := range []int{lobes - 1, lobes + 1} {
		if k%n == 0 {
			share++
		}
	}
	return share
}

// LobesPreset is the amplitude of a touch probe's three lobes, mm, where its calibration
// does not say (common practice, from memory); LobesPoor is that of a poor one.
const (
	LobesPreset = 0.001
	LobesPoor   = 0.004
)
