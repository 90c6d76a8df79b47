package budget

import "math"

// Spread is a standard deviation of one reading with its degrees of freedom. The zero value is "nothing known".
type Spread struct{ S, Dof float64 }

// MeanOf is about the first value, so that equal ones have exactly their own mean. One value or more.
func MeanOf(xs []float64) float64 {
	m := 0.0
	for _, x := range xs {
		m += (x - xs[0]) / float64(len(xs))
	}
	return xs[0] + m
}

// SpreadOf returns the standard deviation of repeated readings; fewer than two give nothing known.
func SpreadOf(xs []float64) Spread {
	if len(xs) < 2 {
		return Spread{}
	}
	mean := 0.0
	for _, x := range xs {
		mean += x
	}
	mean /= float64(len(xs))
	ss := 0.0
	for _, x := range xs {
		ss += float64((x - mean) * (x - mean))
	}
	dof := float64(len(xs) - 1)
	return Spread{math.Sqrt(ss / dof), dof}
}

// Pool returns the root mean square of standard deviations weighted by their degrees of freedom, and the sum of those
// (the pooled estimate of JCGM 100:2008, H.3.6 and 4.2.4). One with infinite dof overrules the rest.
func Pool(parts ...Spread) Spread {
	var out Spread
	for _, p := range parts {
		if math.IsInf(p.Dof, 1) {
			return p
		}
		if p.Dof > 0 {
			out.S += p.Dof * p.S * p.S
			out.Dof += p.Dof
		}
	}
	if out.Dof > 0 {
		out.S = math.Sqrt(out.S / out.Dof)
	}
	return out
}

// AtLeast returns the spread with S raised to a floor, such as the resolution's.
func (p Spread) AtLeast(s float64) Spread {
	p.S = math.Max(p.S, s)
	return p
}

// Worse says whether today's spread is larger than the pooled one beyond chance: an F test at alpha, one-sided.
// With no degrees of freedom on either side nothing can be said: false.
func Worse(today, pooled Spread, alpha float64) bool {
	if !(today.Dof > 0) || !(pooled.Dof > 0) || !(today.S > pooled.S) {
		return false
	}
	if pooled.S == 0 {
		return true
	}
	r := today.S / pooled.S
	return r*r > FQuantile(1-alpha, today.Dof, pooled.Dof)
}

// Repeat returns the spread to work with: the pooled one, of which today's is a check at 1 %; today's alone, with its
// own few degrees of freedom, when it is larger beyond chance (second result true) or nothing is pooled yet.
func Repeat(today, pooled Spread) (Spread, bool) {
	if !(pooled.Dof > 0) {
		return today, false
	}
	if Worse(today, pooled, 0.01) {
		return today, true
	}
	return pooled, false
}
