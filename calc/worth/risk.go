package worth

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
)

// left are mistakes that slip through a walk of each level, as a share of the part's worth: the sum over 33 mistakes of the
// usual walk, 38 of one with straps, of frequency, harm and what no reading of the level catches. Computed from that list;
// its frequencies are judgement. E: may be wrong by a factor of 3, by which ways and levels do not change places.
var left = []struct {
	from            float64 // allowance from which on it holds, mm
	usual, strapped [3]float64
}{
	{0.20, [3]float64{0.0269, 0.0061, 0.0059}, [3]float64{0.0271, 0.0059, 0.0055}},
	{0.05, [3]float64{0.0495, 0.0076, 0.0059}, [3]float64{0.0470, 0.0061, 0.0056}},
	{0, [3]float64{0.1466, 0.0185, 0.0064}, [3]float64{0.1307, 0.0136, 0.0061}},
}

// Over the allowance a part is reworked, over three times the allowance it is scrap: what each costs of its worth.
const (
	reworked = 0.3
	scrapped = 0.7
)

// Risk is what may still be lost after a walk at a level, as a share of the part's worth: mistakes that slip through, and
// sides that do not meet with nothing wrong at all.
type Risk struct{ Mistakes, Register float64 }

// Share is both.
func (r Risk) Share() float64 { return r.Mistakes + r.Register }

// Left is the risk that a walk leaves; u is the register's standard uncertainty at the worst feature, mm. Errors: what can't be.
//
//	register = 0.3 P(|e| > T) + 0.7 P(|e| > 3 T),  e normal with u
func (c Case) Left(l Level, u float64) (Risk, error) {
	if l < Proven || l > Irreplaceable || !(c.Allowance > 0) || !(u > 0) || math.IsInf(u, 0) {
		return Risk{}, fmt.Errorf("level %d, allowance %g and uncertainty %g make no risk; the allowance and the uncertainty are above 0", l,
			float64(c.Allowance), u)
	}
	row := left[len(left)-1]
	for _, r := range left {
		if float64(c.Allowance) >= r.from-1e-9 {
			row = r
			break
		}
	}
	out := Risk{Mistakes: row.usual[l-1]}
	if c.Strapped {
		out.Mistakes = row.strapped[l-1]
	}
	beyond := func(limit float64) float64 { return math.Erfc(limit / u / math.Sqrt2) }
	out.Register = reworked*beyond(float64(c.Allowance)) + scrapped*beyond(3*float64(c.Allowance))
	return out, nil
}

// Of95 is the standard uncertainty behind a one-sided 95 % guard.
func Of95(guard float64) float64 { return guard / budget.OneSided }
