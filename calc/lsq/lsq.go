// Package lsq solves linear least squares of a few unknowns, with what the readings
// themselves say: covariance, residuals, and the reading that does not belong.
//
// Goals: unknowns that the readings cannot tell apart are an error that names the column,
// never a wild number; the covariance is the textbook one.
//
// Non-goals: no shape has a name here; see fit for circles, lines and planes.
//
// Units are the caller's: a column times its unknown is in the unit of the readings.
package lsq

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Alike is the sine of the angle between a column and the space of those before it below
// which they are one: readings of places give columns that are either far above or exactly 0.
const Alike = 1e-7

// Unchecked is the share of itself that a reading leaves to the others below which nothing checks it.
const Unchecked = 1e-9

// UndeterminedError is an unknown that the readings cannot tell apart from those before it.
type UndeterminedError struct {
	Column int // from 0
	Rows   int
}

func (e *UndeterminedError) Error() string {
	return fmt.Sprintf("%d readings do not tell unknown %d apart from those before it; read at other places", e.Rows, e.Column+1)
}

// Solution is what n readings say of k unknowns.
type Solution struct {
	X         []float64   // k
	Cofactor  [][]float64 // k × k; the covariance of X if the standard uncertainties given are right
	Residuals []float64   // n, reading minus model, in the unit of the readings
	Leverage  []float64   // n, 0 to 1; 1: nothing checks that reading
	Standard  []float64   // n, residual/(u √(1 - leverage)): of unit scatter if u is right; 0 where nothing checks it
	Dof       int         // n - k
	Chi2      float64     // Σ(residual/u)²
}

// Solve minimises Σ((y_i - rows_i·x)/u_i)² over x.
//
// rows is n × k, y of length n; u are standard uncertainties of the readings, all above 0,
// or nil for 1 each. Cofactor = (AᵀA)⁻¹ and leverage = a_i (AᵀA)⁻¹ a_iᵀ with A = rows/u. By QR
// of columns scaled to length 1. Errors: shapes that do not fit, numbers that are not finite,
// fewer readings than unknowns, UndeterminedError.
func Solve(rows [][]float64, y, u []float64) (Solution, error) {
	a, b, scale, err := weighted(rows, y, u)
	if err != nil {
		return Solution{}, err
	}
	n, k := a.Dims()
	var qr mat.QR
	qr.Factorize(a)
	var r mat.Dense
	qr.RTo(&r)
	for j := range k {
		if !(math.Abs(r.At(j, j)) > Alike) {
			return Solution{}, &UndeterminedError{Column: j, Rows: n}
		}
	}
	var z mat.VecDense
	if err := qr.SolveVecTo(&z, false, mat.NewVecDense(n, b)); err != nil {
		return Solution{}, fmt.Errorf("%d readings of %d unknowns: %w", n, k, err)
	}
	inv := upperInverse(&r, k)
	s := Solution{X: make([]float64, k), Cofactor: square(k), Residuals: make([]float64, n), Leverage: make([]float64, n),
		Standard: make([]float64, n), Dof: n - k}
	for i := range k {
		s.X[i] = z.AtVec(i) / scale[i]
		for j := range k {
			for m := range k {
				s.Cofactor[i][j] += inv[i][m] * inv[j][m] / (scale[i] * scale[j])
			}
		}
	}
	for i := range n {
		model := 0.0
		for j, v := range rows[i] {
			model += v * s.X[j]
		}
		s.Residuals[i] = y[i] - model
		e := b[i]
		for m := range k {
			e -= a.At(i, m) * z.AtVec(m)
			t := 0.0
			for j := range k {
				t += a.At(i, j) * inv[j][m]
			}
			s.Leverage[i] += t * t
		}
		s.Chi2 += e * e
		if free := 1 - s.Leverage[i]; free > Unchecked {
			s.Standard[i] = e / math.Sqrt(free)
		}
	}
	return s, nil
}

// S is the scatter that the readings show, in units of what was given: sqrt(Chi2/Dof), 0
// without a reading to spare.
func (s Solution) S() float64 {
	if s.Dof < 1 {
		return 0
	}
	return math.Sqrt(s.Chi2 / float64(s.Dof))
}

// Var is the variance of the combination row·x, for the uncertainties given.
func (s Solution) Var(row []float64) float64 {
	v := 0.0
	for i, a := range row {
		for j, b := range row {
			v += a * b * s.Cofactor[i][j]
		}
	}
	return v
}

// Odd are the readings that the others contradict most (largest |Standard|): several where
// an error of one looks like an error of another, so that they cannot be told apart. Off says by how
// much. None without a reading to spare.
func (s Solution) Odd() []int {
	if s.Dof < 1 {
		return nil
	}
	most := 0.0
	for _, t := range s.Standard {
		most = math.Max(most, math.Abs(t))
	}
	var odd []int
	for i, t := range s.Standard {
		if s.Leverage[i] < 1-Unchecked && math.Abs(t) >= most*(1-1e-6) {
			odd = append(odd, i)
		}
	}
	return odd
}

// Off is a reading minus what all the others say of it, e/(1 - h); 0 where nothing else does.
func (s Solution) Off(i int) float64 {
	if free := 1 - s.Leverage[i]; free > Unchecked {
		return s.Residuals[i] / free
	}
	return 0
}

func square(k int) [][]float64 {
	m := make([][]float64, k)
	for i := range m {
		m[i] = make([]float64, k)
	}
	return m
}

// weighted is rows and readings over their uncertainties, columns scaled to length 1.
func weighted(rows [][]float64, y, u []float64) (*mat.Dense, []float64, []float64, error) {
	n := len(rows)
	if n == 0 || len(rows[0]) == 0 || len(y) != n || u != nil && len(u) != n {
		return nil, nil, nil, fmt.Errorf("%d rows, %d readings and %d uncertainties do not fit; give one of each for a reading",
			n, len(y), len(u))
	}
	k := len(rows[0])
	if n < k {
		return nil, nil, nil, &UndeterminedError{Column: n, Rows: n}
	}
	a, b, scale := mat.NewDense(n, k, nil), make([]float64, n), make([]float64, k)
	for i, row := range rows {
		w := 1.0
		if u != nil {
			w = u[i]
		}
		if len(row) != k || !(w > 0) || math.IsInf(w, 0) || bad(y[i]) {
			return nil, nil, nil, fmt.Errorf("reading %d (%g, uncertainty %g) cannot be used; it must be finite, its uncertainty above 0",
				i+1, y[i], w)
		}
		b[i] = y[i] / w
		for j, v := range row {
			if bad(v) {
				return nil, nil, nil, fmt.Errorf("place of reading %d is not finite (%g); enter it again", i+1, v)
			}
			a.Set(i, j, v/w)
			scale[j] += v / w * v / w
		}
	}
	for j := range scale {
		if scale[j] = math.Sqrt(scale[j]); scale[j] == 0 {
			return nil, nil, nil, &UndeterminedError{Column: j, Rows: n}
		}
		for i := range n {
			a.Set(i, j, a.At(i, j)/scale[j])
		}
	}
	return a, b, scale, nil
}

// upperInverse is the inverse of the upper triangle of r, by back substitution.
func upperInverse(r mat.Matrix, k int) [][]float64 {
	inv := square(k)
	for j := range k {
		for i := j; i >= 0; i-- {
			t := 0.0
			if i == j {
				t = 1
			}
			for m := i + 1; m <= j; m++ {
				t -= r.At(i, m) * inv[m][j]
			}
			inv[i][j] = t / r.At(i, i)
		}
	}
	return inv
}

func bad(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }
