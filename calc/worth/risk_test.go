package worth

import (
	"math"
	"testing"

	"fliptrue/calc/unit"
)

// P(|e| > T) at T = 1.96 u is 0.05 (normal table, any handbook); three times as far is nothing.
func TestRisk(t *testing.T) {
	c := Case{Allowance: 0.05}
	r, err := c.Left(FirstUse, 0.05/1.959964)
	if err != nil || math.Abs(r.Register-0.3*0.05) > 1e-6 || r.Mistakes != 0.0076 || math.Abs(r.Share()-r.Mistakes-r.Register) > 1e-15 {
		t.Errorf("%+v %v", r, err)
	}
	for _, strapped := range []bool{false, true} { // more read, or more allowed: never more risk
		wider := [4]float64{1: 1, 2: 1, 3: 1}
		for _, allowed := range []unit.Length{0.02, 0.05, 0.2} {
			last := 1.0
			for l := Proven; l <= Irreplaceable; l++ {
				r, err := Case{Allowance: allowed, Strapped: strapped}.Left(l, 0.01)
				if err != nil || r.Share() > last || r.Share() > wider[l] {
					t.Errorf("level %d at %g: %+v %v, the one before %g and %g", l, allowed, r, err, last, wider[l])
				}
				last, wider[l] = r.Share(), r.Share()
			}
		}
	}
	if r, err := (Case{}).Left(Proven, 0.01); err == nil {
		t.Errorf("no allowance made %+v", r)
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := c.Left(Proven, bad); err == nil {
			t.Errorf("u %g was taken", bad)
		}
	}
}
