package fit

import (
	"math"
	"testing"
)

// Student's 95 % quantile for 10 degrees of freedom is printed as 1.812 (any table; from memory). A look's factor 1.875 leaves
// 3.0396 % of the normal, and Student's quantile that leaves as much at 10 is 2.11243: his density integrated by Simpson's rule,
// apart from this program.
func TestGuardOfALook(t *testing.T) {
	near(t, "the only look", Motion{Dof: 10}.Guard(0.002), 1.8125*0.002, 1e-6)
	near(t, "one of two, well known", Motion{Dof: math.Inf(1), Look: 1.875}.Guard(0.002), 1.875*0.002, 1e-7)
	near(t, "one of two, of few readings", Motion{Dof: 10, Look: 1.875}.Guard(0.002), 2.11243*0.002, 1e-7)
}
