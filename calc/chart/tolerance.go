package chart

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// ToleranceFactor is the one-sided tolerance factor k of a normal quantity: with the given
// confidence mean - k s of n pieces lies below the given share of all of them.
//
//	k = t'/√n, t' the quantile of the non-central t of n-1 dof and shift z(share)·√n
//	P(T <= t') = ∫ Φ(t' √(w/ν) - shift) χ²_ν(w) dw
//
// Tables for 90 % and 95 %: 3.407 of 5, 2.355 of 10 (NIST/SEMATECH e-Handbook, 7.2.6.3; from memory).
func ToleranceFactor(n int, share, confidence float64) (float64, error) {
	if n < 2 || !(share > 0.5 && share < 1) || !(confidence > 0.5 && confidence < 1) {
		return 0, fmt.Errorf("%d pieces, share %g, confidence %g give no tolerance factor; take 2 or more, and shares between one half and 1",
			n, share, confidence)
	}
	nu, root := float64(n-1), math.Sqrt(float64(n))
	shift := budget.TQuantile(share, math.Inf(1)) * root
	chi := distuv.ChiSquared{K: nu}
	below := func(t float64) float64 { // over v = √w: no pole at 0 for one dof
		most := math.Sqrt(nu) + 12
		return quad.Fixed(func(v float64) float64 {
			return budget.Phi(t*v/math.Sqrt(nu)-shift) * chi.Prob(v*v) * 2 * v
		}, 0, most, 400, nil, 0)
	}
	lo, hi := 0.0, 2*shift
	for below(hi) < confidence {
		hi *= 2
	}
	for range 60 {
		if mid := (lo + hi) / 2; below(mid) < confidence {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi / root, nil
}
