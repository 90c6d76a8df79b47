package budget

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// even are the standard uncertainties of the mean of 1 to n like looks.
func even(n int) (u []float64) {
	for k := range n {
		u = append(u, 1/math.Sqrt(float64(k+1)))
	}
	return u
}

// Jennison and Turnbull, Group Sequential Methods with Applications to Clinical Trials (2000), table 2.1, two-sided 0.10 (from
// memory): a test of two sides at 0.10 has on each side what one of one side has at 0.05, but for what crosses both.
func TestLooksAgainstPublishedConstants(t *testing.T) {
	for n, want := range map[int]float64{2: 1.875, 3: 1.992, 4: 2.067, 5: 2.122} {
		if got := Looks(0.05, even(n)...); math.Abs(got-want) > 0.001 {
			t.Errorf("%d looks: %.4f, printed %.3f", n, got, want)
		}
	}
}

// A second look by drawing readings: what the guard of one look lets pass when it is looked again, and what the factors let pass.
func TestLooksUntilItPasses(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 23))
	const walks = 200000
	for _, c := range []struct {
		name   string
		looks  int
		factor float64
		common float64 // variance that all looks share, of that of one
		want   float64
	}{
		{"three looks, each at 1.645", 3, OneSided, 0, 0.102},
		{"four looks, each at 1.645", 4, OneSided, 0, passes(informed(even(4)), OneSided)}, // 12 of 100: see the runs of an edge
		{"three looks", 3, Looks(0.05, even(3)...), 0, 0.05},
		{"four looks in the second go", 4, Looks(LookShare(1), even(4)...), 0, 0.008},
		{"four looks against one baseline", 4, Looks(0.05, math.Sqrt(2), math.Sqrt(1.5), math.Sqrt(4./3), math.Sqrt(1.25)), 1, 0.05},
	} {
		passed := 0
		for range walks {
			base, sum := r.NormFloat64()*math.Sqrt(c.common), 0.0
			for k := range c.looks {
				sum += r.NormFloat64()
				n := float64(k + 1)
				if Decide(10+base+sum/n, c.factor*math.Sqrt(c.common+1/n), AtMost, 10) == Pass {
					passed++
					break
				}
			}
		}
		got := float64(passed) / walks
		if math.Abs(got-c.want) > 4*math.Sqrt(c.want/walks)+0.0006 {
			t.Errorf("%s: %.4f pass at the limit, want %.4f", c.name, got, c.want)
		}
	}
}

// One look, or looks that add nothing, are the plain quantile; looks that have next to nothing in common are as if each stood alone.
func TestLooksAtTheirEnds(t *testing.T) {
	one := TQuantile(0.95, math.Inf(1))
	for _, u := range [][]float64{{3}, {2, 2}, {1, 1, 1, 1}} {
		if f := Looks(0.05, u...); math.Abs(f-one) > 1e-6 {
			t.Errorf("%v: %v, want %v", u, f, one)
		}
	}
	apart := Looks(0.05, 1e6, 1e3, 1)
	if want := TQuantile(math.Pow(0.95, 1./3), math.Inf(1)); math.Abs(apart-want) > 1e-3 {
		t.Errorf("of no common reading %v, want %v", apart, want)
	}
	if g := LookGuard(one, 2, 10); math.Abs(g-2*TQuantile(0.95, 10)) > 1e-9 {
		t.Errorf("guard at 10 degrees of freedom %v", g)
	}
}

// Over any number of goes no more than 5 % pass at the limit.
func TestLookShares(t *testing.T) {
	sum := 0.0
	for k := range 40 {
		sum += LookShare(k)
	}
	if math.Abs(sum-0.05) > 1e-12 || LookShare(-1) != LookShare(0) {
		t.Errorf("all goes together %v", sum)
	}
}

// The factor grows with the number of looks, lies between those of one look and of looks with nothing in common, and does not know the unit.
func TestLooksProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0.001, 0.2).Draw(t, "share")
		u := []float64{rapid.Float64Range(0.1, 10).Draw(t, "first")}
		for range rapid.IntRange(1, 3).Draw(t, "more") {
			u = append(u, u[len(u)-1]*rapid.Float64Range(0.3, 1).Draw(t, "ratio"))
		}
		f, fewer := Looks(share, u...), Looks(share, u[:len(u)-1]...)
		lo, hi := TQuantile(1-share, math.Inf(1)), TQuantile(1-share/float64(len(u)), math.Inf(1))
		scaled := make([]float64, len(u))
		for i := range u {
			scaled[i] = 25.4 * u[i]
		}
		if f < lo-1e-6 || f > hi+1e-6 {
			t.Fatalf("%v at %v: not within %v and %v", f, u, lo, hi)
		}
		if f < fewer-1e-6 {
			t.Fatalf("%v of more looks, %v of fewer", f, fewer)
		}
		if g := Looks(share, scaled...); math.Abs(g-f) > 1e-6 {
			t.Fatalf("%v in another unit %v", f, g)
		}
		if p := passes(informed(u), f); math.Abs(p-share) > 1e-5 {
			t.Fatalf("%v pass, want %v", p, share)
		}
	})
}
