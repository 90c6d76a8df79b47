package budget

import (
	"fmt"
	"math"
)

// Estimate is one measured value of a quantity with its standard uncertainty.
type Estimate struct {
	Name string
	V, U float64
	Dof  float64 // 0: taken as known
}

// Mean is the weighted mean of estimates of one quantity.
type Mean struct {
	V, U    float64
	Weights []float64 // 1/u², in the order given, sum 1
	Chi2    float64   // sum of (v - mean)²/u²
	Agree   bool      // they are of one quantity, at AgreeAlpha
	Off     int       // the estimate farthest from the mean of the others, in its own and their u
	Better  int       // the estimate of the least u
}

// AgreeAlpha is how often estimates that agree are said not to.
const AgreeAlpha = 0.01

// Weigh returns the weighted mean of independent estimates, weights 1/u², u = 1/sqrt(sum 1/u²), and
// whether they agree: chi² against its quantile with one degree of freedom less than
// there are (the consistency check of Cox, Metrologia 39 (2002) 589, procedure A; from memory). Where one
// has few degrees of freedom the test of two is by Student's t of the combined ones instead.
//
// Estimates that do not agree have no mean to use: one is of another thing, or its u is wrong.
func Weigh(es []Estimate) (Mean, error) {
	if len(es) == 0 {
		return Mean{}, fmt.Errorf("no estimate to weigh; give at least one")
	}
	m := Mean{Weights: make([]float64, len(es))}
	total := 0.0
	for i, e := range es {
		if !(e.U > 0) || math.IsInf(e.U, 1) || math.IsNaN(e.V) || math.IsInf(e.V, 0) {
			return Mean{}, fmt.Errorf("%s %g with uncertainty %g can't be weighed; give a finite value and an uncertainty above 0", e.Name, e.V, e.U)
		}
		m.Weights[i] = 1 / e.U / e.U
		total += m.Weights[i]
		if e.U < es[m.Better].U {
			m.Better = i
		}
	}
	for i, e := range es {
		m.Weights[i] /= total
		m.V += m.Weights[i] * e.V
	}
	m.U = 1 / math.Sqrt(total)
	worst := -1.0
	for i, e := range es {
		d := (e.V - m.V) / e.U
		m.Chi2 += d * d
		if w := m.Weights[i]; w < 1 { // against the others: mean without i, u² = u_i² + u_others²
			if o := math.Abs(d) / math.Sqrt(1-w); o > worst {
				worst, m.Off = o, i
			}
		}
	}
	m.Agree = m.Chi2 <= agreeLimit(es)
	return m, nil
}

// agreeLimit is the largest chi² of estimates that agree.
func agreeLimit(es []Estimate) float64 {
	n := len(es)
	if n < 2 {
		return math.Inf(1)
	}
	if n == 2 {
		lines := []Line{N("", es[0].U, es[0].Dof), N("", es[1].U, es[1].Dof)}
		t := TQuantile(1-AgreeAlpha/2, Combine(lines).Dof)
		return t * t
	}
	return Chi2Quantile(1-AgreeAlpha, float64(n-1))
}
