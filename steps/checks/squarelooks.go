package checks

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/pickup"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// runs are the full runs of one go at it, nothing tapped between them. The mean of all of them is judged, with the guard of
// one look: a skew at its limit so passes in 12 of 100 goes of four runs (computed, normal). It is not the last word on it: what passes
// here counts with its doubt at the offset and at the release.
type runs struct {
	sum float64 // of their directions, rad
	n   int
}

// add takes a run. One that says another thing than those before it shows that the fixture was tapped: they are no longer its like.
func (s *runs) add(h kit.Heading) {
	if s.n > 0 && math.Abs(h.Theta-s.sum/float64(s.n)) > 3*math.Sqrt2*h.U {
		s.sum, s.n = 0, 0
	}
	s.sum, s.n = s.sum+h.Theta, s.n+1
}

// mean is the direction by all runs so far, with its standard uncertainty and guard. What the axis wanders is the same at
// each run, so it is not averaged.
func (q squaring) mean(v fold.View, s runs, h kit.Heading) (mean kit.Heading, guard float64) {
	mean = h
	if v.Walks(4) && s.n > 0 {
		axis := 0.0
		if h.Lever != 0 {
			axis = math.Min(h.U, pickup.HalfU(q.p.Job.Machine.Straightness)/math.Abs(h.Lever))
		}
		mean.Theta = s.sum / float64(s.n)
		mean.U = math.Hypot(math.Sqrt(h.U*h.U-axis*axis)/math.Sqrt(float64(s.n)), axis)
	}
	return mean, budget.OneSided * mean.U
}

// verdict is what a full run comes to with those before it.
func (q squaring) verdict(v fold.View, s runs, h kit.Heading) fold.Verdict {
	m, g := q.mean(v, s, h)
	return judge.Most(q.limit(v), math.Abs(m.Theta), g).Verdict
}

// since leaves the rounds of this go at it: up to one that passed, after which the dial came
// out. What lay between is no tap, and its jog test holds for another mounting of the dial. The runs are those that
// stand open among them.
func (q squaring) since(v fold.View) (fold.View, runs) {
	from, open := 0, runs{}
	for k, r := range v.Earlier {
		h, ok := q.b.Read(v.In(r, v.Earlier[:k]), true)
		if !ok {
			continue
		}
		open.add(h)
		switch verdict := q.verdict(v, open, h); {
		case verdict == fold.Pass, waives(r, "square.skew"):
			from, open = k+1, runs{}
		case verdict == fold.Fail:
			open = runs{}
		}
	}
	v.Earlier = v.Earlier[from:]
	return v, open
}
