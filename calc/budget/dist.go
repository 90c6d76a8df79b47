package budget

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// TQuantile returns the one-sided quantile of Student's t: a two-sided 95 % factor is TQuantile(0.975, dof).
// dof need not be whole; +Inf is the normal distribution. 0 < p < 1.
func TQuantile(p, dof float64) float64 {
	if !(p > 0 && p < 1) || !(dof > 0) {
		panic("budget: a t quantile wants 0 < p < 1 and dof > 0")
	}
	if dof >= normalDof {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: dof}.Quantile(p)
}

// CriticalT returns the two-sided critical t for several points tested together, each at
// alpha/points (Bonferroni), so that a quiet set is called real at most alpha of the time.
func CriticalT(alpha float64, points int, dof float64) float64 {
	if points < 1 {
		panic("budget: a critical t wants at least one point")
	}
	return TQuantile(1-alpha/float64(2*points), dof)
}

// Chi2Quantile returns the quantile of the chi-square distribution, 0 < p < 1, dof > 0 and finite.
func Chi2Quantile(p, dof float64) float64 {
	return distuv.ChiSquared{K: dof}.Quantile(p)
}

// FQuantile returns the quantile of the F distribution with d1 (above) and d2 (below) degrees of freedom;
// d2 may be +Inf, the variance below then being known.
func FQuantile(p, d1, d2 float64) float64 {
	if d2 >= normalDof {
		return Chi2Quantile(p, d1) / d1
	}
	return distuv.F{D1: d1, D2: d2}.Quantile(p)
}

// Phi returns the distribution function of the standard normal.
func Phi(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }
