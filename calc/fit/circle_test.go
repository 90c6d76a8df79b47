package fit

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (off by %.3g, allowed %.3g)", what, got, want, got-want, tol)
	}
}

var ggs = []Point{{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}}

// Gander, Golub, Strebel, BIT 34 (1994): data set and six digits of the geometric row verified copy,
// further digits computed here with 50-digit arithmetic. The other rows are what a wrong method would give.
func TestCircleGanderGolubStrebel(t *testing.T) {
	c, err := ToCircle(ggs)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "x", c.Center.X, 4.7397824109060740, 1e-12)
	near(t, "y", c.Center.Y, 2.9835326992924752, 1e-12)
	near(t, "R", c.Radius, 4.7142260377921097, 1e-12)
	near(t, "rms", c.RMS, 0.45232714528750396, 1e-12)
	for i, want := range []float64{0.773759208049, -0.63924350588, 0.308985820445, -0.10547424064, -0.00088388160, -0.33714340035} {
		near(t, "residual", c.Residuals[i], want, 5e-11)
	}
	for _, wrong := range []struct {
		name string
		r    float64
	}{{"unit-norm algebraic", 3.0370}, {"Pratt", 4.911302}, {"Taubin", 4.879213}, {"hyper", 4.827575}, {"linear on x²+y²", 4.108761522345}} {
		if math.Abs(c.Radius-wrong.r) < 0.05 {
			t.Errorf("radius %.6f is that of the %s fit", c.Radius, wrong.name)
		}
	}
}
