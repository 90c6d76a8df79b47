package chart

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-44s %14.7f %14.7f %10.2g", name, want, got, got-want)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

// NIST/SEMATECH e-Handbook, 6.3.2.2, individuals chart (verified copy): ten flow rates, printed mean 50.81, moving range 1.8778,
// limits 55.8041 and 45.8159.
func TestIndividualsNIST(t *testing.T) {
	c, err := ToIndividuals([]float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean, printed", c.Mean, 50.81, 1e-9)
	near(t, "moving range, printed", c.Range, 1.8778, 5e-5)
	near(t, "upper, printed", c.Upper, 55.8041, 5e-5)
	near(t, "lower, printed", c.Lower, 45.8159, 5e-5)
	if len(c.Outside) != 0 {
		t.Errorf("outside %v", c.Outside)
	}
}

// NIST/SEMATECH e-Handbook, 6.3.2.4, EWMA (verified copy): 20 points, target 50, sigma 2.0539, printed averages and upper limit
// 52.5884; the lower is printed 47.4115, which is cut off, not rounded.
func TestCreepNIST(t *testing.T) {
	c, err := ToCreep([]float64{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4,
		53.6, 52.1}, 50, 2.0539)
	if err != nil {
		t.Fatal(err)
	}
	for i, printed := range []float64{50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05,
		49.38, 49.92, 50.73, 51.23, 51.94, 51.99} {
		near(t, "average, printed", c.Values[i], printed, 0.0051)
	}
	near(t, "upper limit, printed", 50+c.Limit, 52.5884, 1e-4)
	near(t, "lower limit, printed cut off", 50-c.Limit, 47.4115, 1e-4)
	if c.Out != -1 {
		t.Errorf("called after point %d", c.Out+1)
	}
}

// Rest of a bore over 8 uses, mm (demonstration). The chart of single points is silent, the
// average calls after the 6th, the slope is real; computed here and by general-purpose libraries.
func TestBoreThatWears(t *testing.T) {
	use, rest := []float64{1, 2, 3, 4, 5, 6, 7, 8}, []float64{.4e-3, -.6e-3, .9e-3, 1.6e-3, 1.2e-3, 2.5e-3, 2.9e-3, 3.6e-3}
	c, err := ToIndividuals(rest)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "moving range", c.Range, 0.000857, 1e-6)
	near(t, "limit by 3/1.128", c.Upper, 0.0038421, 5e-8) // by the rounded factor 2.66: 0.003843
	near(t, "limit by 2.66", c.Mean+2.66*c.Range, 0.003843, 1e-6)
	if len(c.Outside) != 0 {
		t.Errorf("outside %v", c.Outside)
	}
	e, err := ToCreep(rest, 0, c.Sigma)
	if err != nil || e.Out != 5 {
		t.Errorf("average calls after point %d, %v", e.Out+1, err)
	}
	near(t, "its limit", e.Limit, 0.000958, 1e-6)
	tr, err := ToTrend(use, rest)
	if err != nil || !tr.Real {
		t.Fatalf("%+v %v", tr, err)
	}
	near(t, "slope", tr.Slope, 0.000527, 1e-6)
	near(t, "t", tr.T, 6.352, 1e-3)
	near(t, "dof", tr.Dof, 6, 0)
	near(t, "bound at use 16", tr.At(16)+tr.Guard(16), 0.00979, 1e-5)
	near(t, "bound at use 18", tr.At(18)+tr.Guard(18), 0.01113, 1e-5)
	if last, ok := tr.Until(9, 40, 0.010); !ok || last != 16 {
		t.Errorf("keeps 0.010 up to use %d %v, want 16: recut before use 17", last, ok)
	}
	if _, ok := tr.Until(30, 40, 0.010); ok {
		t.Error("kept at use 30")
	}
}

// Prior 0.008, parts 0.006, measuring 0.0012. Computed here and by a general-purpose library.
func TestBias(t *testing.T) {
	seen := []float64{0.0119, 0.0068, 0.0142}
	for n, want := range [][3]float64{{0.6309, 0.007508, 0.004860}, {0.7737, 0.007234, 0.003806}, {0.8368, 0.009177, 0.003232}} {
		b, err := ToBias(seen[:n+1], 0.008, 0.006, 0.0012)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "gain", b.Gain, want[0], 5e-5)
		near(t, "bias", b.B, want[1], 1e-6)
		near(t, "its u", b.U, want[2], 1e-6)
	}
	if b, err := ToBias([]float64{0.01}, 0.006, 0, 0.006); err != nil || math.Abs(b.Gain-0.5) > 1e-12 {
		t.Errorf("parts all alike: %+v %v", b, err)
	}
	b, _ := ToBias([]float64{0.01}, 0.006, 0.006, 0)
	near(t, "half of the first part where scatters are equal (Grubbs)", b.Gain, 0.5, 1e-12)
}

// The estimate is the one that is least wrong: of all shares of the mean none does better on
// biases and parts drawn from the scatters stated (exact, by variances).
func TestBiasIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(0.001, 0.02)
		tau, sp, um, n := f.Draw(t, "tau"), f.Draw(t, "sp"), f.Draw(t, "um"), rapid.IntRange(1, 12).Draw(t, "n")
		b, err := ToBias(make([]float64, n), tau, sp, um)
		if err != nil {
			t.Fatal(err)
		}
		left := func(g float64) float64 { return (1-g)*(1-g)*tau*tau + g*g*(sp*sp+um*um)/float64(n) }
		if math.Abs(left(b.Gain)-b.U*b.U) > 1e-15 {
			t.Fatalf("variance left %g, stated %g", left(b.Gain), b.U*b.U)
		}
		if g := rapid.Float64Range(0, 1).Draw(t, "g"); left(g) < b.U*b.U-1e-15 {
			t.Fatalf("share %g leaves less than %g", g, b.Gain)
		}
	})
}

// One-sided tolerance factors, 90 % of pieces with 95 % confidence: published tables (from memory) 3.407 of 5, 2.355 of 10; of 3
// 6.155 computed (older tables print 6.158). Of 2 exactly, and 99 %/95 % of 10 3.981 (Natrella, Handbook 91, table A-7, from memory).
func TestToleranceFactor(t *testing.T) {
	for _, c := range []struct {
		n     int
		share float64
		want  float64
	}{{3, 0.90, 6.155}, {5, 0.90, 3.407}, {10, 0.90, 2.355}, {10, 0.99, 3.981}, {10, 0.95, 2.911}, {20, 0.90, 1.926}, {2, 0.90, 20.581}} {
		k, err := ToleranceFactor(c.n, c.share, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "k", k, c.want, 6e-4)
	}
	for _, c := range []struct {
		n    int
		s, c float64
	}{{1, .9, .95}, {5, 1, .95}, {5, .5, .95}, {5, .9, 1}, {5, .9, .5}} {
		if _, err := ToleranceFactor(c.n, c.s, c.c); err == nil {
			t.Errorf("%+v was taken", c)
		}
	}
}

func TestRefuses(t *testing.T) {
	var few *TooFewError
	if _, err := ToIndividuals([]float64{1, 2, 3, 4}); !errors.As(err, &few) || few.Got != 4 || few.Need != Enough {
		t.Errorf("%v", err)
	}
	if _, err := ToTrend([]float64{1, 2, 3, 4}, []float64{1, 2, 3, 4}); !errors.As(err, &few) {
		t.Errorf("%v", err)
	}
	for name, f := range map[string]func() error{
		"nan":            func() error { _, err := ToIndividuals([]float64{1, 2, math.NaN(), 4, 5}); return err },
		"sigma 0":        func() error { _, err := ToCreep([]float64{1}, 0, 0); return err },
		"sigma infinite": func() error { _, err := ToCreep([]float64{1}, 0, math.Inf(1)); return err },
		"target nan":     func() error { _, err := ToCreep([]float64{1}, math.NaN(), 1); return err },
		"no points":      func() error { _, err := ToCreep(nil, 0, 1); return err },
		"one use":        func() error { _, err := ToTrend([]float64{3, 3, 3, 3, 3}, []float64{1, 2, 3, 4, 5}); return err },
		"lengths":        func() error { _, err := ToTrend([]float64{1, 2}, []float64{1, 2, 3, 4, 5}); return err },
		"no bias":        func() error { _, err := ToBias(nil, 1, 1, 1); return err },
		"prior 0":        func() error { _, err := ToBias([]float64{1}, 0, 1, 1); return err },
		"no scatter":     func() error { _, err := ToBias([]float64{1}, 1, 0, 0); return err },
		"below 0":        func() error { _, err := ToBias([]float64{1}, 1, 1, -1); return err },
		"parts below 0":  func() error { _, err := ToBias([]float64{1}, 1, -1, 3); return err },
		"infinite":       func() error { _, err := ToBias([]float64{1}, 1, math.Inf(1), 1); return err },
	} {
		if f() == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

// A run shifted and stretched is judged the same; one point thrown far out is named.
func TestChartProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.SliceOfN(rapid.Float64Range(-1, 1), 5, 30).Draw(t, "xs")
		a, b := rapid.Float64Range(0.1, 10).Draw(t, "a"), rapid.Float64Range(-5, 5).Draw(t, "b")
		ys, n := make([]float64, len(xs)), make([]float64, len(xs))
		for i, x := range xs {
			ys[i], n[i] = a*x+b, float64(i)
		}
		c, err := ToIndividuals(xs)
		if err != nil {
			t.Fatal(err)
		}
		d, _ := ToIndividuals(ys)
		if math.Abs(d.Upper-(a*c.Upper+b)) > 1e-9 || math.Abs(d.Lower-(a*c.Lower+b)) > 1e-9 {
			t.Fatalf("%+v %+v", c, d)
		}
		p, _ := ToTrend(n, xs)
		q, _ := ToTrend(n, ys)
		if math.Abs(q.Slope-a*p.Slope) > 1e-9 || p.S > 1e-6 && math.Abs(q.T-p.T) > 1e-6*(1+math.Abs(p.T)) {
			t.Fatalf("%+v %+v", p, q)
		}
		if c.Sigma > 1e-6 {
			e, _ := ToCreep(xs, c.Mean, c.Sigma)
			f, _ := ToCreep(ys, d.Mean, d.Sigma)
			if math.Abs(f.Limit-a*e.Limit) > 1e-9 {
				t.Fatalf("%g %g", e.Limit, f.Limit)
			}
		}
	})
	quiet := []float64{0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 40, 0, 1}
	if c, _ := ToIndividuals(quiet); !slices.Equal(c.Outside, []int{12}) || c.Holds(c.Upper+1e-9) || c.Holds(c.Lower-1e-9) ||
		!c.Holds(c.Upper) || !c.Holds(c.Lower) {
		t.Errorf("%+v", c)
	}
	line, _ := ToTrend([]float64{0, 1, 2, 3, 4}, []float64{0, -2, -4, -6, -8})
	if !line.Real || line.T > -1e6 {
		t.Errorf("a line without scatter: %+v", line)
	}
	if flat, _ := ToTrend([]float64{0, 1, 2, 3, 4}, []float64{3, 3, 3, 3, 3}); flat.Real || flat.T != 0 {
		t.Errorf("a level line drifts: %+v", flat)
	}
}

// An error names the reading by its number from 1.
func TestErrorsName(t *testing.T) {
	if _, err := ToIndividuals([]float64{1, math.NaN()}); err == nil || !strings.Contains(err.Error(), "point 2 ") {
		t.Error(err)
	}
}
