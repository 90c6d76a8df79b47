package register

import (
	"math"

	"fliptrue/calc/frame"
)

// Centre returns by how much the offset is to be shifted so that the worst of |error| + kink + guard over all features is
// least, along each axis for itself, mm, rounded to what the control holds:
//
//	c = (max(e + k + g) + min(e - k - g)) / 2
//
// An error is where the feature stands minus where the tool will cut, and an offset that is larger by c cuts further by c.
// It is zero without features. What it takes off is known and of one sign, such as growth; it takes nothing off a guard.
func Centre(ks []Known, step float64) (c frame.Vec) {
	if len(ks) == 0 {
		return c
	}
	var by [2]float64
	for axis := range by {
		hi, lo := math.Inf(-1), math.Inf(1)
		for _, k := range ks {
			doubt := k.Kink[axis] + k.Guard[axis]
			hi, lo = math.Max(hi, k.Error[axis]+doubt), math.Min(lo, k.Error[axis]-doubt)
		}
		by[axis] = Round((hi+lo)/2, step)
	}
	return frame.Vec{X: by[0], Y: by[1]}
}

// Shifted is what is known at each feature once the offset is larger by c, mm.
func Shifted(ks []Known, c frame.Vec) []Known {
	out := append([]Known(nil), ks...)
	for i := range out {
		out[i].Error[0] -= c.X
		out[i].Error[1] -= c.Y
	}
	return out
}
