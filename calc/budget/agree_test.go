package budget

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Direction by edge and by two bores, mrad: 0.500 ± 0.060 and 0.420 ± 0.015.
func TestWeighTwo(t *testing.T) {
	m, err := Weigh([]Estimate{{"edge", 0.500, 0.060, 0}, {"bores", 0.420, 0.015, 0}})
	if err != nil {
		t.Fatal(err)
	}
	// By hand: weights 277.8 and 4444.4.
	if math.Abs(m.V-(277.777778*0.5+4444.444444*0.42)/4722.222222) > 1e-9 || math.Abs(m.U-1/math.Sqrt(4722.222222)) > 1e-9 || !m.Agree || m.Better != 1 {
		t.Errorf("%+v", m)
	}
	m, _ = Weigh([]Estimate{{"edge", 0.500, 0.010, 0}, {"bores", 0.420, 0.015, 0}}) // 0.080 apart, u 0.018: 4.4 times
	if m.Agree {
		t.Errorf("4.4 times their uncertainty apart, and agree: %+v", m)
	}
	m, _ = Weigh([]Estimate{{"edge", 0.500, 0.010, 2}, {"bores", 0.420, 0.015, 2}}) // few readings prove less
	if !m.Agree {
		t.Errorf("two dof each: %+v", m)
	}
	if m, err = Weigh([]Estimate{{"one", 3, 0.5, 0}}); err != nil || m.V != 3 || m.U != 0.5 || !m.Agree {
		t.Errorf("%+v %v", m, err)
	}
	for _, bad := range [][]Estimate{nil, {{"a", 1, 0, 0}}, {{"a", math.NaN(), 1, 0}}, {{"a", 1, math.Inf(1), 0}}} {
		if _, err := Weigh(bad); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

// The mean is where the weighted sum of squares is least, never less sure than the best
// of them, and the one put off is named.
func TestWeighProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "n")
		es := make([]Estimate, n)
		for i := range es {
			es[i] = Estimate{V: rapid.Float64Range(-1, 1).Draw(t, "v"), U: rapid.Float64Range(0.01, 1).Draw(t, "u")}
		}
		m, err := Weigh(es)
		if err != nil {
			t.Fatal(err)
		}
		sum := func(x float64) (s float64) {
			for _, e := range es {
				s += (x - e.V) * (x - e.V) / e.U / e.U
			}
			return s
		}
		if math.Abs(sum(m.V)-m.Chi2) > 1e-9*(1+m.Chi2) || sum(m.V+1e-3) < m.Chi2-1e-12 || sum(m.V-1e-3) < m.Chi2-1e-12 {
			t.Fatalf("not the least sum of squares: %+v", m)
		}
		if m.U > es[m.Better].U {
			t.Fatalf("mean less sure than the best: %+v", m)
		}
		// Curvature of that sum: 1/u².
		if h := 1e-3; math.Abs((sum(m.V+h)+sum(m.V-h)-2*sum(m.V))/h/h/2*m.U*m.U-1) > 1e-5 {
			t.Fatalf("u %g does not belong to it", m.U)
		}
		es[n-1].V += 100
		if m, _ = Weigh(es); m.Agree || n > 2 && m.Off != n-1 {
			t.Fatalf("one put off by 100 is not named: %+v", m)
		}
	})
}

// Estimates that are of one quantity are said not to agree one time in a hundred.
func TestWeighLevel(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 9))
	for n := 2; n <= 4; n++ {
		const sets = 20000
		no := 0
		for range sets {
			es := make([]Estimate, n)
			for i := range es {
				u := 0.5 + rng.Float64()
				es[i] = Estimate{V: u * rng.NormFloat64(), U: u}
			}
			if m, _ := Weigh(es); !m.Agree {
				no++
			}
		}
		if share := float64(no) / sets; math.Abs(share-AgreeAlpha) > 0.0025 { // 3.5 times its own scatter
			t.Errorf("%d estimates: said not to agree in %.2f %%", n, 100*share)
		}
	}
}
