package fit

import "fmt"

// Why says in which way input cannot carry the shape asked of it.
type Why int

const (
	TooFew     Why = iota // fewer distinct readings than unknowns
	Coincident            // readings that must differ are equal
	Collinear             // all on one line
	Flat                  // a circle whose curvature cannot be told from zero
	Parallel              // two directions that must cross do not
	Unresolved            // the search for the best fit did not settle
)

// DegenerateError is input that cannot carry the shape. I and J name a pair of
// readings, counted from 1, where a pair is to blame; both are 0 otherwise.
type DegenerateError struct {
	What string // "circle", "line", ...
	Why  Why
	Need int // distinct readings needed, for TooFew
	Got  int // distinct readings found, for TooFew
	I, J int

	// For Flat: the fitted radius, its standard uncertainty (0 without redundancy),
	// the sagitta of the arc and the rms residual.
	Radius, U, Sagitta, RMS float64
}

func (e *DegenerateError) Error() string {
	pair := ""
	if e.I > 0 && e.J > 0 {
		pair = fmt.Sprintf(": readings %d and %d", e.I, e.J)
	}
	switch e.Why {
	case TooFew:
		if pair != "" {
			pair += " are the same place; take one of them again somewhere else"
		} else {
			pair = "; take more readings"
		}
		return fmt.Sprintf("%s needs %d different readings, got %d%s", e.What, e.Need, e.Got, pair)
	case Coincident:
		return fmt.Sprintf("%s cannot be fitted%s stand at the same place; move one of them", e.What, pair)
	case Collinear:
		return fmt.Sprintf("%s cannot be fitted%s and all between them lie on one straight line; spread the readings", e.What, pair)
	case Flat:
		return fmt.Sprintf("%s cannot be told from a straight line: radius %.6g with uncertainty %.2g, sagitta %.2g against residuals of %.2g; "+
			"take readings over a longer arc",
			e.What, e.Radius, e.U, e.Sagitta, e.RMS)
	case Parallel:
		return fmt.Sprintf("%s cannot be fitted: the two directions do not cross squarely enough; check which face each reading is on", e.What)
	default:
		return fmt.Sprintf("%s did not settle; check the readings for a wrong number", e.What)
	}
}

// ValueError is a reading that is no usable number (not finite, or beyond 1e15).
type ValueError struct {
	What  string
	Index int // counted from 1
	Value float64
}

func (e *ValueError) Error() string {
	return fmt.Sprintf("%s %d is %v, which is no usable number; type it again", e.What, e.Index, e.Value)
}

// distinct counts different points up to need and returns the first equal pair,
// counted from 1, if it had to skip any before reaching need.
func distinct(ps []Point, need int) (n, i, j int) {
	seen := make([]int, 0, need)
next:
	for k, p := range ps {
		for _, s := range seen {
			if ps[s] == p {
				if i == 0 {
					i, j = s+1, k+1
				}
				continue next
			}
		}
		if seen = append(seen, k); len(seen) == need {
			break
		}
	}
	return len(seen), i, j
}
