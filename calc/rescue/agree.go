package rescue

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/lsq"
)

// Compared are two sources of one motion: features already cut, and the reference set.
type Compared struct {
	Chi2  float64 // of the difference, 3 dof
	Agree bool    // within chance at 1 %: the features rule, no step in side 2, register stays as released
	// Where they do not agree the faces were cut after the part had moved. Then going on where
	// side 2 left off and keeping register to side 1 want different offsets.
	Step  float64 // the most that the two differ by over the places given: the step at re-entry if register is kept, the mismatch if not
	Place int     // where
}

// Compare compares two motions at places still to be cut.
//
//	χ² = d (C_a + C_b)⁻¹ dᵀ, d of shift X, Y and turn
//
// A covariance that is singular is an error.
func Compare(a, b Moved, places []frame.Vec) (Compared, error) {
	d := [3]float64{a.Motion.Shift.X - b.Motion.Shift.X, a.Motion.Shift.Y - b.Motion.Shift.Y, float64(a.Motion.Turn - b.Motion.Turn)}
	// Sums of covariances as a scaled system: s·z = d, χ² = d·z; the turn at 100 mm so that numbers are alike.
	const lever = 100
	scale := [3]float64{1, 1, lever}
	rows, y := make([][]float64, 3), make([]float64, 3)
	for i := range 3 {
		rows[i] = make([]float64, 3)
		y[i] = d[i] * scale[i]
		for k := range 3 {
			rows[i][k] = (a.Cov[i][k] + b.Cov[i][k]) * scale[i] * scale[k]
		}
	}
	z, err := lsq.Solve(rows, y, nil)
	if err != nil {
		return Compared{}, fmt.Errorf("two motions cannot be compared: something in them is exactly known; give both as found (%w)", err)
	}
	var c Compared
	for i := range 3 {
		c.Chi2 += y[i] * z.X[i]
	}
	c.Agree = c.Chi2 <= budget.Chi2Quantile(1-budget.AgreeAlpha, 3)
	for i, p := range places {
		e := a.Motion.Move(p).Sub(b.Motion.Move(p))
		if m := math.Max(math.Abs(e.X), math.Abs(e.Y)); m > c.Step {
			c.Step, c.Place = m, i
		}
	}
	return c, nil
}
