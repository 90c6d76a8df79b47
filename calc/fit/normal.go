package fit

import "math"

// mat3 is a symmetric 3×3 matrix.
type mat3 [3][3]float64

// inverse inverts a positive definite matrix by Cholesky's method after scaling its
// diagonal to 1. ok is false when it is singular to working precision.
func (m mat3) inverse() (inv mat3, ok bool) {
	var d [3]float64
	for i := range d {
		if !(m[i][i] > nothing) {
			return mat3{}, false
		}
		d[i] = 1 / math.Sqrt(m[i][i])
	}
	var l mat3
	for i := range 3 {
		for j := range i + 1 {
			v := m[i][j] * d[i] * d[j]
			for k := range j {
				v -= l[i][k] * l[j][k]
			}
			if i != j {
				l[i][j] = v / l[j][j]
				continue
			}
			if v < 1e-12 {
				return mat3{}, false
			}
			l[i][i] = math.Sqrt(v)
		}
	}
	var w mat3 // inverse of l
	for i := range 3 {
		w[i][i] = 1 / l[i][i]
		for j := range i {
			v := 0.0
			for k := j; k < i; k++ {
				v -= l[i][k] * w[k][j]
			}
			w[i][j] = v / l[i][i]
		}
	}
	for i := range 3 {
		for j := range 3 {
			for k := max(i, j); k < 3; k++ {
				inv[i][j] += w[k][i] * w[k][j]
			}
			inv[i][j] *= d[i] * d[j]
		}
	}
	return inv, true
}

func (m mat3) times(v [3]float64) (out [3]float64) {
	for i := range out {
		out[i] = float64(m[i][0]*v[0]) + float64(m[i][1]*v[1]) + float64(m[i][2]*v[2])
	}
	return out
}

// quad returns vᵀ·m·v.
func (m mat3) quad(v [3]float64) float64 {
	w := m.times(v)
	return v[0]*w[0] + v[1]*w[1] + v[2]*w[2]
}

// lsq solves weighted rows by normal equations. Rows must be of comparable size: callers
// centre them.
func lsq(rows [][3]float64, y, w []float64) (x [3]float64, cof mat3, res []float64, ok bool) {
	var n mat3
	var g [3]float64
	for k, r := range rows {
		for i := range 3 {
			g[i] += float64(w[k] * r[i] * y[k])
			for j := range 3 {
				n[i][j] += float64(w[k] * r[i] * r[j])
			}
		}
	}
	if cof, ok = n.inverse(); !ok {
		return x, mat3{}, nil, false
	}
	x = cof.times(g)
	res = make([]float64, len(y))
	for k, r := range rows {
		res[k] = y[k] - float64(r[0]*x[0]) - float64(r[1]*x[1]) - float64(r[2]*x[2])
	}
	return x, cof, res, true
}
