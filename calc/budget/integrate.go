package budget

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// student is Student's t with what its integrals need, computed once.
type student struct {
	nu   float64
	norm float64 // density at 0
}

// Above so many degrees of freedom t is the normal distribution to 1e-7 of its quantile.
const normalDof = 1e6

func newStudent(nu float64) student {
	if !(nu < normalDof) {
		return student{math.Inf(1), 1 / math.Sqrt(2*math.Pi)}
	}
	if math.Abs(nu-2) < 1e-5 {
		nu = 2 // the integrals divide by ν - 2 and have their own form there; a quantile moves by less than 1e-5 of itself
	}
	if nu > seriesDof {
		// Γ(n+½)/Γ(n) = √n (1 - 1/8n + 1/128n² + 5/1024n³ - ...) with n = ν/2; the difference of two
		// large logarithms would lose digits here.
		n := 1 / nu
		return student{nu, (1 - n/4*(1-n/8*(1+5*n/4))) / math.Sqrt(2*math.Pi)}
	}
	g, _ := math.Lgamma((nu + 1) / 2)
	h, _ := math.Lgamma(nu / 2)
	return student{nu, math.Exp(g-h) / math.Sqrt(nu*math.Pi)}
}

func (t student) normal() bool { return math.IsInf(t.nu, 1) }

// at returns the distribution function and the density at x.
func (t student) at(x float64) (cdf, pdf float64) {
	if t.normal() {
		return 0.5 * math.Erfc(-x/math.Sqrt2), t.norm * math.Exp(-x*x/2)
	}
	pdf = t.norm * math.Exp(-(t.nu+1)/2*math.Log1p(x*x/t.nu))
	tail := 0.5
	switch {
	case math.Abs(x)*pdf < 1e-18 && t.nu > 3 && x != 0:
		tail = 0 // the tail of t is less than (ν+x²)/(ν-1) f/x
	case t.nu > seriesDof:
		tail = t.series(math.Abs(x))
	case x != 0:
		tail = 0.5 * mathext.RegIncBeta(t.nu/2, 0.5, t.nu/(t.nu+x*x))
	}
	if x > 0 {
		return 1 - tail, pdf
	}
	return tail, pdf
}

// Above so many degrees of freedom the series below is good to 1e-11 and ten times as fast as the beta function.
const seriesDof = 1000

// series returns the tail of t beyond x >= 0 by Fisher's expansion in 1/ν (Metron 5, 1925; Abramowitz and Stegun, 26.7;
// from memory, checked against gonum in the tests).
func (t student) series(x float64) float64 {
	z := x * x
	n := 1 / t.nu
	c := (z + 1) / 4
	c2 := (((3*z-7)*z-5)*z - 3) / 96
	c3 := (((((z-11)*z+14)*z+6)*z-3)*z - 15) / 384
	phi := math.Exp(-z/2) / math.Sqrt(2*math.Pi)
	return 0.5*math.Erfc(x/math.Sqrt2) + phi*x*n*(c+n*(c2+n*c3))
}

// integrals returns the distribution function and its first and second integrals, from 0 to x:
//
//	F1(x) = x F - m1               m1 = E[T; 0 < T < x]  = (ν f(0) - (ν + x²) f)/(ν - 1)
//	F2(x) = (x² F - 2x m1 + m2)/2  m2 = E[T²; 0 < T < x] = (ν (F - 1/2) - x (ν + x²) f)/(ν - 2)
//
// with f the density (integration by parts of the t density; for ν → ∞ they become the normal
// ones, for ν = 1 and 2 logarithms). Taken from 0 and not from -∞ they exist for any ν > 0.
func (t student) integrals(x float64) (f0, f1, f2 float64) {
	f, d := t.at(x)
	m1, m2 := t.norm-d, f-0.5-x*d
	if !t.normal() {
		l := math.Log1p(x * x / t.nu)
		if t.nu == 1 {
			m1 = t.norm * l / 2
		} else {
			m1 = -t.nu * t.norm * math.Expm1(-(t.nu-1)/2*l) / (t.nu - 1)
		}
		if t.nu == 2 {
			m2 = math.Asinh(x/math.Sqrt2) - x/math.Sqrt(2+x*x)
		} else {
			m2 = (t.nu*(f-0.5) - x*(t.nu+x*x)*d) / (t.nu - 2)
		}
	}
	f1 = x*f - m1
	return f, f1, (x*x*f - 2*x*m1 + m2) / 2
}

// spread returns the distribution function and the density of T + A + B at y, rectangles of half-widths a >= b >= 0.
func (t student) spread(y, a, b float64) (cdf, pdf float64) {
	switch {
	case a == 0:
		return t.at(y)
	case b == 0:
		hf, h1, _ := t.integrals(y + a)
		lf, l1, _ := t.integrals(y - a)
		return (h1 - l1) / (2 * a), (hf - lf) / (2 * a)
	}
	_, p1, p2 := t.integrals(y + a + b)
	_, q1, q2 := t.integrals(y + (a - b))
	_, r1, r2 := t.integrals(y - (a - b))
	_, s1, s2 := t.integrals(y - a - b)
	w := 4 * a * b
	return (p2 - q2 - r2 + s2) / w, (p1 - q1 - r1 + s1) / w
}
