package checks

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/pickup"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// mean is the direction by all full runs of one go, with its guard. Up to the third walk each run stood alone. The mean is
// judged with the guard of one look at each run: a skew at its limit so passes in 12 of 100 goes of four runs (computed in
// budget's test of looks). It is not the last word on it: what passes here counts with its doubt at the offset and at the release.
func (q squaring) mean(v fold.View, s pickup.Runs, h kit.Heading) (mean kit.Heading, guard float64) {
	mean = h
	if v.Walks(4) {
		mean.Heading = s.Mean(h.Heading, q.p.Job.Machine.Straightness)
	}
	return mean, budget.OneSided * mean.U
}

// verdict is what a full run comes to with those before it.
func (q squaring) verdict(v fold.View, s pickup.Runs, h kit.Heading) fold.Verdict {
	m, g := q.mean(v, s, h)
	return judge.Most(q.limit(v), math.Abs(m.Theta), g).Verdict
}

// since leaves the rounds of this go at it: up to one that passed, after which the dial came
// out. What lay between is no tap, and its jog test holds for another mounting of the dial. The runs are those that
// stand open among them.
func (q squaring) since(v fold.View) (fold.View, pickup.Runs) {
	from, open := 0, pickup.Runs{}
	for k, r := range v.Earlier {
		h, ok := q.b.Read(v.In(r, v.Earlier[:k]), true)
		if !ok {
			continue
		}
		open.Add(h.Heading)
		switch verdict := q.verdict(v, open, h); {
		case verdict == fold.Pass, waives(r, "square.skew"):
			from, open = k+1, pickup.Runs{}
		case verdict == fold.Fail:
			open = pickup.Runs{}
		}
	}
	v.Earlier = v.Earlier[from:]
	return v, open
}
