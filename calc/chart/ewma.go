package chart

import (
	"fmt"
	"math"
)

// Lambda is the weight of the newest point. Source: NIST/SEMATECH e-Handbook, 6.3.2.4.
const Lambda = 0.3

// Creep is the exponentially weighted moving average of a run: it sees a slow drift
// which no single point shows.
type Creep struct {
	Values []float64 // after each point
	Limit  float64   // of |value - target|
	Out    int       // the first point, from 0, after which the value is beyond it; -1: none
}

// ToCreep runs the average from its target.
//
//	value_i = λ x_i + (1-λ) value_(i-1), value_0 = target
//	limit = 3 sigma √(λ/(2-λ))
//
// The limit is that of a long run. During the first points the true one is smaller, so that it
// calls too late rather than too early. Sigma is the scatter of single points, above 0.
// Source: NIST/SEMATECH e-Handbook, 6.3.2.4.
func ToCreep(xs []float64, target, sigma float64) (Creep, error) {
	if err := run(xs, 1); err != nil {
		return Creep{}, err
	}
	if !(sigma > 0) || math.IsInf(sigma, 0) || math.IsNaN(target) || math.IsInf(target, 0) {
		return Creep{}, fmt.Errorf("scatter %g about target %g gives no limit; the scatter must be above 0", sigma, target)
	}
	c := Creep{Values: make([]float64, len(xs)), Limit: 3 * sigma * math.Sqrt(Lambda/(2-Lambda)), Out: -1}
	v := target
	for i, x := range xs {
		v = Lambda*x + (1-Lambda)*v
		c.Values[i] = v
		if c.Out < 0 && math.Abs(v-target) > c.Limit {
			c.Out = i
		}
	}
	return c, nil
}
