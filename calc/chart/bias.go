package chart

import (
	"fmt"
	"math"
)

// Bias is what a fixture puts into every part, told apart from what differs from part to part.
type Bias struct {
	N    int
	Mean float64
	Gain float64 // share of the mean that is believed
	B    float64 // Gain · Mean
	U    float64 // standard uncertainty of B
}

// ToBias estimates a bias from the mismatches of n parts made since it was last changed.
//
//	gain = n τ²/(n τ² + σ²)   b = gain · mean   u = √(τ² σ²/(n τ² + σ²))
//
// prior τ is the standard deviation of biases before anything was measured, between σ_p that
// of parts about their bias, measured u_m that of one measurement; σ² = σ_p² + u_m². With τ = σ the
// first part counts half: Grubbs' rule (from memory), and to correct by all of it would double the
// variance (Deming's funnel, rule 2). The normal posterior mean; derived.
func ToBias(xs []float64, prior, between, measured float64) (Bias, error) {
	if err := run(xs, 1); err != nil {
		return Bias{}, err
	}
	if !(prior > 0) || !(between >= 0) || !(measured >= 0) || !(between+measured > 0) || math.IsInf(prior+between+measured, 0) {
		return Bias{}, fmt.Errorf("scatters %g of biases, %g of parts, %g of measuring weigh nothing; give the first and one other above 0",
			prior, between, measured)
	}
	n, tau2, s2 := float64(len(xs)), prior*prior, between*between+measured*measured
	b := Bias{N: len(xs), Mean: mean(xs), Gain: n * tau2 / (n*tau2 + s2), U: math.Sqrt(tau2 * s2 / (n*tau2 + s2))}
	b.B = b.Gain * b.Mean
	return b, nil
}
