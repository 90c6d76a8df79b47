package pickup

import "math"

// Runs are readings of one direction, one after the other with nothing moved between them.
type Runs struct {
	sum float64 // of their directions, rad
	n   int
}

// apart is by how many standard uncertainties of a difference two runs of the same thing may differ: one pair in 370 does by chance.
const apart = 3

// Add takes a run. One that says another thing than the mean of those before it shows that the fixture was moved: they are no
// longer its like and are dropped.
func (s *Runs) Add(h Heading) {
	if s.n > 0 && math.Abs(h.Theta-s.sum/float64(s.n)) > apart*math.Sqrt2*h.U {
		s.sum, s.n = 0, 0
	}
	s.sum, s.n = s.sum+h.Theta, s.n+1
}

// Mean is the direction by all runs, each as uncertain as h, the last one; lever and rise are that one's. What the axis wanders
// (straightness, a half-width, mm) is the same at each run, so it is not averaged:
//
//	u² = (u(h)² - a²)/n + a²,  a = straightness/√3/|lever|, at most u(h)
//
// Without runs it is h.
func (s Runs) Mean(h Heading, straightness float64) Heading {
	if s.n == 0 {
		return h
	}
	axis := 0.0
	if h.Lever != 0 {
		axis = math.Min(h.U, HalfU(straightness)/math.Abs(h.Lever))
	}
	h.Theta = s.sum / float64(s.n)
	h.U = math.Hypot(math.Sqrt(h.U*h.U-axis*axis)/math.Sqrt(float64(s.n)), axis)
	return h
}
