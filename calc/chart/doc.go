// Package chart says whether a run of one quantity over parts or uses is quiet, has a cause
// behind it, or drifts, and until when it will do.
//
// Goals: the charts of the trade with their published factors; below Enough points nothing
// is said; a bias estimate that does not chase the scatter of parts.
//
// Non-goals: it knows no quantity, no part and no job, and it corrects nothing.
//
// Units are the caller's, one for a run. Points are in the order in which they were taken.
package chart

import (
	"fmt"
	"math"
)

// Enough is the least number of points of which a chart says anything. Common practice.
const Enough = 5

// D2 is the mean moving range of two normal points over their standard deviation, 2/√π
// to the digits of the published tables (NIST/SEMATECH e-Handbook, 6.3.2.2, verified copy).
const D2 = 1.128

// TooFewError is a run too short to say anything.
type TooFewError struct{ Got, Need int }

func (e *TooFewError) Error() string {
	return fmt.Sprintf("%d points are too few to say, %d are needed; go on and note each", e.Got, e.Need)
}

// run is an error unless there are enough points, all finite.
func run(xs []float64, need int) error {
	for i, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("point %d is %g: it must be a finite number; enter it again", i+1, x)
		}
	}
	if len(xs) < need {
		return &TooFewError{Got: len(xs), Need: need}
	}
	return nil
}

func mean(xs []float64) float64 {
	s := 0.0
	for _, x := range xs {
		s += x
	}
	return s / float64(len(xs))
}

// movingRange is the mean of |x_i - x_(i-1)|.
func movingRange(xs []float64) float64 {
	s := 0.0
	for i := 1; i < len(xs); i++ {
		s += math.Abs(xs[i] - xs[i-1])
	}
	return s / float64(len(xs)-1)
}
