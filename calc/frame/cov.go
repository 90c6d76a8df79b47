package frame

import "math"

// Cov2 is the covariance of a position in plan, mm².
type Cov2 [2][2]float64

// Cov4 is the covariance of a pickup, in the order bore X, bore Y (mm), skew (rad), scale (ratio).
type Cov4 [4][4]float64

// Independent returns the covariance of a bore and a skew found by different means (bore by
// probe, skew by indicator): standard uncertainties of bore X and Y in mm, skew in rad, scale as a ratio.
func Independent(x, y, theta, q float64) Cov4 {
	return Cov4{{x * x}, {0, y * y}, {0, 0, theta * theta}, {0, 0, 0, q * q}}
}

// U returns the standard uncertainties in X and in Y, mm.
func (c Cov2) U() Vec { return Vec{math.Sqrt(c[0][0]), math.Sqrt(c[1][1])} }

// carry returns J C Jᵀ for the two rows of a Jacobian, exactly symmetric.
func carry(jx, jy []float64, cov func(i, k int) float64) Cov2 {
	form := func(a, b []float64) float64 {
		sum := 0.0
		for i := range a {
			for k := range b {
				sum += float64(float64(a[i]*cov(i, k)) * b[k])
			}
		}
		return sum
	}
	xy := form(jx, jy)
	return Cov2{{form(jx, jx), xy}, {xy, form(jy, jy)}}
}
