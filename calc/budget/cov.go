package budget

import "math"

// At carries a covariance through a Jacobian: J C Jᵀ (JCGM 102:2011, 6.2). jac has one row for each
// result and as many columns as cov has rows; cov is square and symmetric. Shapes that do not fit panic.
func At(jac, cov [][]float64) [][]float64 {
	out := square(len(jac))
	for r := range jac {
		if len(jac[r]) != len(cov) {
			panic("budget: jacobian and covariance do not fit")
		}
		for s := range jac {
			for i := range cov {
				for k := range cov {
					out[r][s] += float64(float64(jac[r][i]*cov[i][k]) * jac[s][k])
				}
			}
		}
	}
	return out
}

// Sum adds covariances of independent facts about the same vector.
func Sum(covs ...[][]float64) [][]float64 {
	if len(covs) == 0 {
		return nil
	}
	out := square(len(covs[0]))
	for _, c := range covs {
		if len(c) != len(out) {
			panic("budget: covariances of different size")
		}
		for i := range c {
			for k := range c {
				out[i][k] += c[i][k]
			}
		}
	}
	return out
}

// Beside puts covariances of independent facts on the diagonal of one larger.
func Beside(covs ...[][]float64) [][]float64 {
	n := 0
	for _, c := range covs {
		n += len(c)
	}
	out := square(n)
	at := 0
	for _, c := range covs {
		for i := range c {
			copy(out[at+i][at:], c[i])
		}
		at += len(c)
	}
	return out
}

// Axis returns component i of a vector with covariance as a normal line.
func Axis(name string, cov [][]float64, i int, dof float64) Line {
	return N(name, math.Sqrt(cov[i][i]), dof)
}

func square(n int) [][]float64 {
	flat := make([]float64, n*n)
	out := make([][]float64, n)
	for i := range out {
		out[i] = flat[i*n : (i+1)*n : (i+1)*n]
	}
	return out
}
