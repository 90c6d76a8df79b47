package budget

import (
	"math"
	"math/rand/v2"
	"testing"
)

// ISO 14253-1 (secondary sources, verified copy): inside the zone reduced by the guard is proven conforming, outside the
// zone widened by it is proven non-conforming, between them neither is. 0.1 ± and 1.65 u with u = 0.018: limits computed here.
func TestDecide(t *testing.T) {
	const g = 1.65 * 0.018
	near(t, "guard", g, 0.0297, 1e-12)
	for _, c := range []struct {
		v    float64
		want Verdict
	}{{0.0702, Pass}, {0.0704, NotProven}, {0.075, NotProven}, {0.1296, NotProven}, {0.1298, Fail}} {
		if got := Decide(c.v, g, AtMost, 0.1); got != c.want {
			t.Errorf("Decide(%v) = %v, want %v", c.v, got, c.want)
		}
	}
	// on the line, in numbers a float64 holds exactly
	if Decide(0.75, 0.25, AtMost, 1) != Pass || Decide(1.25, 0.25, AtMost, 1) != Fail || Decide(1, 0, AtMost, 1) != Pass {
		t.Error("a value on the line belongs to the proven side")
	}
}

// Over a grid of exact numbers each sense is what the standard's zones say: the claim is proven, its contrary is
// proven, or neither. Zones as intervals of what the true value may be.
func TestDecideZones(t *testing.T) {
	for v := -3.0; v <= 3; v += 0.25 {
		for _, g := range []float64{0, 0.25, 1, inf} {
			for limit := -2.0; limit <= 2; limit += 0.5 {
				lo, hi := v-g, v+g
				for _, c := range []struct {
					s           Sense
					good, wrong bool
				}{{AtMost, hi <= limit, lo >= limit}, {AtLeast, lo >= limit, hi <= limit}, {Equal, lo == limit && hi == limit, limit <= lo || limit >= hi}} {
					want := NotProven
					switch {
					case c.good:
						want = Pass
					case c.wrong || g == 0:
						want = Fail
					}
					if got := Decide(v, g, c.s, limit); got != want {
						t.Fatalf("%v ± %v, sense %d, limit %v: %v, want %v", v, g, c.s, limit, got, want)
					}
				}
			}
		}
	}
}

// What is no number fails, on every side; nothing is proven with an infinite guard; decimals that add up to their limit sit on it.
func TestDecideEdges(t *testing.T) {
	nan := math.NaN()
	for _, s := range []Sense{AtMost, AtLeast, Equal} {
		for _, x := range [][3]float64{{nan, 0, 1}, {nan, 0.1, 1}, {0, nan, 1}, {0, nan, 0}, {0, 0, nan}, {0, 0.1, nan}, {0, -0.1, 0}, {1, -1, 1}, {0, math.Inf(-1), 0}} {
			if got := Decide(x[0], x[1], s, x[2]); got != Fail {
				t.Errorf("%v, sense %d: %v", x, s, got)
			}
		}
		for _, v := range []float64{0, 1e12, -1e12, inf} {
			if got := Decide(v, inf, s, 1); got != NotProven {
				t.Errorf("%v ± infinite, sense %d: %v", v, s, got)
			}
		}
	}
	sum := 0.1 + 0.2
	for _, c := range []struct {
		v, limit float64
		s        Sense
		want     Verdict
	}{{sum, 0.3, AtMost, Pass}, {-sum, -0.3, AtLeast, Pass}, {0.3, sum, AtLeast, Pass}, {sum, 0.3, Equal, Pass}, {-sum, -0.3, Equal, Pass},
		{0.3 * (1 + 5e-10), 0.3, AtMost, Pass}, {0.3 * (1 - 5e-10), 0.3, AtLeast, Pass},
		{0.3 * (1 + 2e-9), 0.3, AtMost, Fail}, {0.3 * (1 - 2e-9), 0.3, AtLeast, Fail}, {0.3 * (1 + 2e-9), 0.3, Equal, Fail}, {1e-300, 0, Equal, Fail}, {0, 0, Equal, Pass}} {
		if got := Decide(c.v, 0, c.s, c.limit); got != c.want {
			t.Errorf("%v against %v, sense %d: %v", c.v, c.limit, c.s, got)
		}
	}
	for _, c := range []struct {
		adverse, favourable bool
		want                Verdict
	}{{true, true, Pass}, {false, true, NotProven}, {true, false, NotProven}, {false, false, Fail}} {
		if got := DecideEnds(c.adverse, c.favourable); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// A claim that is passed is wrong at most once in twenty, where it stands on its line.
func TestGuardCovers(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	wrong, fails := 0, 0
	const n, u, limit = 200000, 0.004, 1.0
	for range n {
		got := limit + u*r.NormFloat64() // the true value is the limit
		switch Decide(got, OneSided*u, AtMost, limit) {
		case Pass:
			wrong++
		case Fail:
			fails++
		}
	}
	for _, k := range []int{wrong, fails} {
		near(t, "share", float64(k)/n, 0.05, 0.002)
	}
	near(t, "factor", OneSided, TQuantile(0.95, inf), 2e-4)
	if OneSided < TQuantile(0.95, inf) {
		t.Error("the factor is rounded down")
	}
	// two sound measurements differ by more in 0.27 percent
	apart := 0
	for range n {
		if math.Abs(0.003*r.NormFloat64()-0.004*r.NormFloat64()) > AgreeWithin(9e-6, 16e-6) {
			apart++
		}
	}
	near(t, "apart", float64(apart)/n, 0.0027, 0.0004)
}

// The release decision on one axis, micrometres: 0.1 mrad over 50 mm and a kink of 2.3 as the value. Computed here.
func TestReleaseDecision(t *testing.T) {
	const value, allowance = 0.1*50 + 2.3, 50
	for _, c := range []struct {
		clearance, sum float64
		want           Verdict
	}{{5, 23.413660876, Pass}, {30, 38.896898851, Pass}, {50, 55.009908858, NotProven}} {
		r := Combine(with(open, R("clearance", c.clearance)))
		near(t, "value + guard", value+r.Guard, c.sum, 2e-6)
		if got := Decide(value, r.Guard, AtMost, allowance); got != c.want {
			t.Errorf("clearance %v: %v, want %v", c.clearance, got, c.want)
		}
	}
	// what machine and fixture lines leave of half the allowance for the skew, mrad over 50 mm
	r := Combine(with(bare, R("squareness", 5.4)))
	near(t, "left for the skew", (25-r.Guard)/50, 0.291949402, 1e-7)
}
