package budget

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// The closed forms and the quadrature are two ways to one number; they share only the t distribution.
func TestSpreadTwoWays(t *testing.T) {
	for _, nu := range []float64{1, 1.0001, 1.6, 2, 2.00002, 2.0001, 2.5, 3, 4.7, 10, 33.3, 400, 2e4, inf} {
		s := newStudent(nu)
		for _, ab := range [][2]float64{{1, 0}, {1, 1}, {3, 0.5}, {20, 7}, {1, 0.01}, {200, 3}} {
			for _, y := range []float64{0, 0.1, 1, 2.2, 7, 19, 27, 200} {
				c, d := s.spread(y, ab[0], ab[1])
				c2, d2 := s.spreadSlow(y, ab[0], ab[1])
				near(t, "cdf", c, c2, 2e-8)
				near(t, "pdf", d, d2, 2e-7)
				if t.Failed() {
					t.Fatalf("at nu %v, rectangles %v, y %v", nu, ab, y)
				}
			}
		}
	}
}

// spreadSlow is spread by Gauss-Legendre quadrature: the trapezoid's density times F and f,
// over pieces that end where the trapezoid bends and around y, where F rises.
func (t student) spreadSlow(y, a, b float64) (cdf, pdf float64) {
	cuts := [...]float64{-a - b, b - a, a - b, a + b, y - 150, y - 30, y - 10, y - 4, y - 1, y, y + 1, y + 4, y + 10, y + 30, y + 150}
	for i := 1; i < len(cuts); i++ {
		for k := i; k > 0 && cuts[k] < cuts[k-1]; k-- {
			cuts[k], cuts[k-1] = cuts[k-1], cuts[k]
		}
	}
	for i := 1; i < len(cuts); i++ {
		lo, hi := max(cuts[i-1], -a-b), min(cuts[i], a+b)
		if !(hi > lo) {
			continue
		}
		c, h := (lo+hi)/2, (hi-lo)/2
		for j, x := range legendreX {
			for _, r := range [2]float64{c - h*x, c + h*x} {
				w := 1 / (2 * a)
				if over := math.Abs(r) - (a - b); over > 0 && b > 0 {
					w = (2*b - over) / (4 * a * b)
				}
				f, d := t.at(y - r)
				cdf += h * legendreW[j] * w * f
				pdf += h * legendreW[j] * w * d
			}
		}
	}
	return cdf, pdf
}

// Gauss-Legendre nodes and weights, 10 points (Abramowitz and Stegun, table 25.4; from memory, checked below
// by integrating powers exactly).
var (
	legendreX = [5]float64{0.1488743389816312, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717}
	legendreW = [5]float64{0.2955242247147529, 0.2692667193099963, 0.2190863625159820, 0.1494513491505806, 0.0666713443086881}
)

// Ten Gauss-Legendre points integrate powers up to 19 exactly.
func TestLegendre(t *testing.T) {
	for n := 0; n < 20; n += 2 {
		sum := 0.0
		for i, x := range legendreX {
			sum += 2 * legendreW[i] * math.Pow(x, float64(n))
		}
		near(t, "even power", sum, 2/float64(n+1), 1e-14)
	}
}

// Fisher's series against gonum's incomplete beta function, whose own digits run out at large degrees of freedom; and the
// density's factor there against the gamma function.
func TestSeries(t *testing.T) {
	for _, nu := range []float64{1000.5, 4321, 3e4, 9e5} {
		tol := 2e-11
		if nu > 1e5 {
			tol = 1e-9
		}
		s := newStudent(nu)
		for x := 0.0; x < 9; x += 0.13 {
			near(t, "tail", s.series(x), distuv.StudentsT{Sigma: 1, Nu: nu}.Survival(x), tol)
		}
		near(t, "density at 0", s.norm, distuv.StudentsT{Sigma: 1, Nu: nu}.Prob(0), 1e-14*nu)
	}
	// at the change of method the two meet
	near(t, "factor", newStudent(seriesDof).norm, newStudent(math.Nextafter(seriesDof, inf)).norm, 1e-12)
	for x := -5.0; x < 5; x += 0.7 {
		a, _ := newStudent(seriesDof).at(x)
		b, _ := newStudent(math.Nextafter(seriesDof, inf)).at(x)
		near(t, "distribution", a, b, 2e-11)
	}
}

// Tails of 900 000 dof computed here in 30-digit arithmetic.
func TestSeriesDigits(t *testing.T) {
	s := newStudent(9e5)
	near(t, "tail at 0.78", s.series(0.78), 0.217695540147088446, 1e-15)
	near(t, "tail at 0.91", s.series(0.91), 0.181411376742815619, 1e-15)
}
