package budget

import "math"

// sum is the distribution of un*T + A + B: T of Student's t with nu degrees of freedom (+Inf: normal), A and B
// rectangles of half-widths a >= b >= 0. It is symmetric about 0.
type sum struct{ un, nu, a, b float64 }

// quantile returns the one-sided quantile at p, 0.5 < p < 1.
//
// With F the distribution of T, F1 and F2 its first and second integrals, the distribution of the
// sum is the second difference of F2 over the corners of the trapezoid, its density that of F1:
//
//	P(y) = [F2(y+a+b) - F2(y+a-b) - F2(y-a+b) + F2(y-a-b)] / 4ab    (in units of un)
//
// All are closed forms (integrate.go), so the root is found by Newton steps inside a bracket.
func (s sum) quantile(p float64) float64 {
	if s.b < 1e-3*(s.a+s.un) {
		// Narrower than the second difference can resolve; only its variance matters, by less than 1e-6.
		s.un, s.b = math.Sqrt(s.un*s.un+s.b*s.b/3), 0
	}
	if s.un < 1e-7*s.a {
		s.un, s.nu = 1e-7*s.a, math.Inf(1) // rectangles alone: round their corners by nothing that shows
	}
	t := newStudent(s.nu)
	a, b := s.a/s.un, s.b/s.un
	lo, hi := 0.0, math.Inf(1)
	y := start(t, p, a, b)
	for range 200 {
		switch {
		case y > lo && y < hi:
		case math.IsInf(hi, 1):
			y = 2*lo + 1
		default:
			y = (lo + hi) / 2
		}
		c, d := t.spread(y, a, b)
		if c < p {
			lo = y
		} else {
			hi = y
		}
		step := (p - c) / d
		// Newton squares the error: a step of 1e-6 leaves 1e-12.
		if math.Abs(step) <= 1e-6*y || hi-lo <= 1e-12*y {
			return min(max(y+step, lo), hi) * s.un
		}
		y += step
	}
	return y * s.un
}

// start guesses a quantile from the spread of the normal-plus-rectangles sum.
func start(t student, p, a, b float64) float64 {
	if !t.normal() {
		// The normal answer is cheap and near.
		n := newStudent(math.Inf(1))
		y := start(n, p, a, b)
		for range 3 {
			c, d := n.spread(y, a, b)
			y += (p - c) / d
		}
		return y
	}
	k := OneSided
	if p > 0.96 {
		k = 1.96
	}
	if a == 0 {
		return k
	}
	v := 1 + (a*a+b*b)/3
	// A flatter sum has a smaller k; the share of the largest rectangle tells how flat.
	f := a * a / (3 * v)
	return math.Sqrt(v) * (k - f*f*(k-1.2)*0.6)
}
