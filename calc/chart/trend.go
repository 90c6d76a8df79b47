package chart

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/lsq"
)

// DriftAlpha is how often a run without a slope is said to have one.
const DriftAlpha = 0.05

const lastBits = 1e-12

// Trend is a straight line through a run.
type Trend struct {
	Slope, USlope float64
	Height        float64 // at n = 0
	S             float64 // scatter about the line
	Dof           float64
	T             float64 // Slope/USlope; ±Inf where the points lie on a line with a slope
	Real          bool    // |T| is beyond Student's t, two-sided at DriftAlpha
	fit           lsq.Solution
}

// ToTrend fits x = height + slope·n by least squares, n the number of the use or part, of
// the same length as xs. It takes Enough points; of one n only, an lsq.UndeterminedError.
// Source: Student's t, NIST TN 1297, table B.1; NIST/SEMATECH e-Handbook, 4.4.
func ToTrend(n, xs []float64) (Trend, error) {
	if err := run(xs, Enough); err != nil {
		return Trend{}, err
	}
	rows := make([][]float64, len(n))
	for i, v := range n {
		rows[i] = []float64{1, v}
	}
	s, err := lsq.Solve(rows, xs, nil)
	if err != nil {
		return Trend{}, err
	}
	t := Trend{Height: s.X[0], Slope: s.X[1], S: s.S(), Dof: float64(s.Dof), fit: s}
	t.USlope = t.S * math.Sqrt(s.Cofactor[1][1])
	size, span := 0.0, 0.0
	for i, x := range xs {
		size, span = math.Max(size, math.Abs(x)), math.Max(span, math.Abs(n[i]-n[0]))
	}
	switch {
	case math.Abs(t.Slope)*span <= lastBits*size: // equal points: what is left is rounding
	case t.USlope > 0:
		t.T = t.Slope / t.USlope
	case t.Slope != 0:
		t.T = math.Inf(int(math.Copysign(1, t.Slope)))
	}
	t.Real = math.Abs(t.T) > budget.TQuantile(1-DriftAlpha/2, t.Dof)
	return t, nil
}

// At is the line's height at n.
func (t Trend) At(n float64) float64 { return t.Height + t.Slope*n }

// Guard is the one-sided 95 % allowance of a single point to come at n.
//
//	t(95 %, dof) · s √(1 + var at n)
func (t Trend) Guard(n float64) float64 {
	return budget.TQuantile(0.95, t.Dof) * t.S * math.Sqrt(1+t.fit.Var([]float64{1, n}))
}

// Until is the last whole n from `from` on, at most `most`, at which the bound |At| + Guard
// still keeps a limit; false when it does not even at from.
func (t Trend) Until(from, most int, limit float64) (int, bool) {
	last, ok := 0, false
	for n := from; n <= most; n++ {
		if math.Abs(t.At(float64(n)))+t.Guard(float64(n)) > limit {
			break
		}
		last, ok = n, true
	}
	return last, ok
}
