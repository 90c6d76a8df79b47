package main

import (
	"math"
	"slices"

	"fliptrue/calc/budget"
	"fliptrue/steps"
	"fliptrue/steps/bench"
)

// interval is one stated interval and the error it should hold.
type interval struct {
	feature string
	axis    int
	err, u  float64
	largest string
	share   float64
	rect    bool // the largest line is a rectangle
	lines   []budget.Line
}

// intervalsOf are those that a walk ended with.
func intervalsOf(res *bench.Result) (out []interval) {
	for _, f := range steps.Register(res.Walk.State()) {
		e := res.TrueError[f.Name]
		for axis, v := range []float64{e.X, e.Y} {
			i := interval{feature: f.Name, axis: axis, err: v - f.Error[axis], u: f.U[axis], largest: f.Largest[axis],
				share: f.Share[axis], lines: f.Lines[axis]}
			for _, l := range i.lines {
				if l.Name == i.largest {
					i.rect = l.Shape == budget.Rectangular
				}
			}
			out = append(out, i)
		}
	}
	return out
}

// tally counts how often intervals held.
type tally struct {
	n, in, ruled int     // intervals, of which held; of which one rectangle has over half the variance
	u, err       float64 // sums of U and of |error|
}

func (t *tally) add(err, u float64, ruled bool) {
	t.n++
	if math.Abs(err) <= u {
		t.in++
	}
	if ruled {
		t.ruled++
	}
	t.u += u
	t.err += math.Abs(err)
}

func (t tally) share() float64 { return float64(t.in) / float64(max(t.n, 1)) }

// doubt is three standard deviations of a share of 0.95 over so many walks, in per cent: the intervals of one walk
// hang together, so a walk counts as two.
func doubt(walks int) float64 { return 100 * 3 * math.Sqrt(0.95*0.05/float64(max(2*walks, 1))) }

// quantile is the value below which that share lies.
func quantile(xs []float64, share float64) float64 {
	if len(xs) == 0 {
		return 0
	}
	xs = slices.Sorted(slices.Values(xs))
	return xs[min(int(share*float64(len(xs))), len(xs)-1)]
}
