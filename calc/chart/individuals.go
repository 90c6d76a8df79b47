package chart

// Individuals is a chart of single points with limits from their moving range.
type Individuals struct {
	Mean, Range  float64 // Range: mean moving range
	Sigma        float64 // Range/D2
	Lower, Upper float64 // mean ± 3 Sigma
	Outside      []int   // points beyond them, from 0
}

// ToIndividuals sets the limits by all points given.
//
//	limits = mean ± 3 MR/1.128, MR the mean of |x_i - x_(i-1)|
//
// Fewer than Enough points are a TooFewError. Source: NIST/SEMATECH e-Handbook, 6.3.2.2.
func ToIndividuals(xs []float64) (Individuals, error) {
	if err := run(xs, Enough); err != nil {
		return Individuals{}, err
	}
	c := Individuals{Mean: mean(xs), Range: movingRange(xs)}
	c.Sigma = c.Range / D2
	c.Lower, c.Upper = c.Mean-3*c.Sigma, c.Mean+3*c.Sigma
	for i, x := range xs {
		if !c.Holds(x) {
			c.Outside = append(c.Outside, i)
		}
	}
	return c, nil
}

// Holds says whether a later point lies within the limits.
func (c Individuals) Holds(x float64) bool { return x >= c.Lower && x <= c.Upper }
