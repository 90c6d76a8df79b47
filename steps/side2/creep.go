package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/witness"
	"fliptrue/steps/fold"
)

// creep is what the dial on the part said while the screws went in. A walk that reads little has the last
// round alone, or none.
type creep struct {
	last       [2]float64 // where it stands at the end, along each axis
	step, most float64    // in one round, and ever
	rounds     int        // read, of each axis
}

// creepOf reads the dial's rounds along these axes.
func creepOf(v fold.View, axes []string) creep {
	var c creep
	for k, ax := range axes {
		var xs []float64
		for i := range stages {
			if field := fmt.Sprintf("round%d.%s", i+1, ax); v.Has(field) {
				xs = append(xs, v.Len(field))
			}
		}
		step, most, last := witness.Crept(xs)
		c.step, c.most = math.Max(c.step, step), math.Max(c.most, most)
		c.last[k], c.rounds = last, len(xs)
	}
	return c
}

// checks hold it against what may be in one round and in all; nothing was seen where nothing was read.
func (c creep) checks(per, total func() fold.Check) []fold.Check {
	switch c.rounds {
	case 0:
		return nil
	case len(stages):
		return []fold.Check{per(), total()}
	}
	return []fold.Check{total()}
}

// screwsShift is what screws can shift a part by that no dial is on, along each axis, as a rectangle's half
// width, mm (common practice, an estimate: 0.002 to 0.02).
const screwsShift = 0.012
