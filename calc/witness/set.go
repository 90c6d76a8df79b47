// Package witness tells from touches of a part and of its fixture, before and after,
// whether and how the part has moved.
//
// Goals: every difference is part minus fixture, read in one mounting of the instrument,
// so that a refitted probe, a grown spindle or a moved offset cancels; the scatter is
// pooled over all that was repeated; one rigid motion (fit.SolveMotion) is looked at where
// it matters, at the listed features.
//
// Non-goals: it chooses no places, judges nothing and has no words for a person.
//
// Units: mm and rad, program coordinates in plan; heights are machine Z.
package witness

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
)

// Repeats is how often each witness is read in a baseline, and the fixture's rim in any set.
const Repeats = 2

// Spot is a witness of the part: what it is called, the axis it is read along and its place.
type Spot struct {
	Name string
	Axis fit.Axis
	At   fit.Point
}

// Set is one set as read. What was not read is missing: Rim and any of Reads may be nil.
type Set struct {
	Fixture fit.Point3  // the fixture's own witness: its centre in plan, the mean of its rim in Z
	U       [2]float64  // standard uncertainty of the centre along X and Y
	Rim     []float64   // touches of the rim
	Reads   [][]float64 // per spot
}

// Of is the fixture's own witness on an axis.
func (s Set) Of(a fit.Axis) float64 { return [3]float64{s.Fixture.X, s.Fixture.Y, s.Fixture.Z}[a] }

// Spread is the scatter of one touch, pooled over the rim and all witnesses that were repeated.
func (s Set) Spread() budget.Spread {
	parts := make([]budget.Spread, 0, 1+len(s.Reads))
	for _, xs := range append([][]float64{s.Rim}, s.Reads...) {
		parts = append(parts, budget.SpreadOf(xs))
	}
	return budget.Pool(parts...)
}

// Pairs are all pairs of touches of one place.
type Pairs struct {
	N       int     // how many there are
	Largest float64 // difference among them
	Spot    int     // where it is, -1 on the rim
}

// Pairs compares each touch of a place with the others.
func (s Set) Pairs() Pairs {
	p := Pairs{Spot: -1}
	for i, xs := range append([][]float64{s.Rim}, s.Reads...) {
		for k := range xs {
			for m := range k {
				p.N++
				if d := math.Abs(xs[k] - xs[m]); d > p.Largest {
					p.Largest, p.Spot = d, i-1
				}
			}
		}
	}
	return p
}

// FalseRepeat is the chance that one pair too far apart is found in a set of sound touches.
const FalseRepeat = 0.003

// RepeatLimit is how far the worst of n pairs may be apart by chance, for a scatter of one
// touch with its degrees of freedom: the more there are, the farther apart the worst is.
//
//	√2 · s · critical t of n tests together at FalseRepeat
//
// n is 1 or more.
func RepeatLimit(touch budget.Spread, n int) float64 {
	return math.Sqrt2 * touch.S * budget.CriticalT(FalseRepeat, n, touch.Dof)
}

// Baseline is what later sets are held against.
type Baseline struct {
	Spread budget.Spread
	Differ []float64 // part minus fixture at each spot
}

// Baseline is the set as a baseline; every spot has been read.
func (s Set) Baseline(spots []Spot) Baseline {
	b := Baseline{Spread: s.Spread()}
	for i, sp := range spots {
		b.Differ = append(b.Differ, Mean(s.Reads[i])-s.Of(sp.Axis))
	}
	return b
}

// Mean is about the first value, so that equal ones have exactly their own mean. One value or more.
func Mean(xs []float64) float64 {
	m := 0.0
	for _, x := range xs {
		m += (x - xs[0]) / float64(len(xs))
	}
	return xs[0] + m
}

// Moved is the rigid motion of the part on its fixture from the baseline to the set, about
// the part zero; of the heights alone when heights is set, which wants nothing but those.
//
//	d = (part - fixture) now - (part - fixture) then   Q = 1/Repeats + 1/n
//
// The fixture's own witness is common to all on an axis: both sets have it of the same
// kind, so that its variance is twice that of this one's centre, and 1/2 + 1/2 of a touch
// for the rim. The scatter is pooled over both sets and never below floor, which is that
// of the instrument. An error names what was not read.
func (b Baseline) Moved(spots []Spot, s Set, heights bool, floor float64) (fit.Motion, error) {
	if len(b.Differ) != len(spots) {
		return fit.Motion{}, fmt.Errorf("the baseline has %d witnesses and the job %d; read the baseline again", len(b.Differ), len(spots))
	}
	var ds []fit.Difference
	for i, w := range spots {
		if heights && w.Axis != fit.AxisZ {
			continue
		}
		if i >= len(s.Reads) || len(s.Reads[i]) == 0 {
			return fit.Motion{}, fmt.Errorf("witness %q was not read; read it", w.Name)
		}
		ds = append(ds, fit.Difference{Axis: w.Axis, At: w.At, D: Mean(s.Reads[i]) - s.Of(w.Axis) - b.Differ[i],
			Q: 1.0/Repeats + 1/float64(len(s.Reads[i]))})
	}
	scatter := budget.Pool(b.Spread, s.Spread()).AtLeast(floor)
	ref := [3]float64{2 * sq(s.U[0]/scatter.S), 2 * sq(s.U[1]/scatter.S), 1.0/Repeats + 1.0/Repeats}
	return fit.SolveMotion(ds, ref, scatter)
}

func sq(x float64) float64 { return x * x }

// Worst is the motion where it matters: the place and the axis (0 is X) with the largest
// |motion| + guard, that |motion| and its one-sided 95 % guard. Without places all is 0.
func Worst(m fit.Motion, at []frame.Vec) (i, axis int, value, guard float64) {
	best := math.Inf(-1)
	for n, q := range at {
		d, u := m.At(fit.Point{X: q.X, Y: q.Y})
		for a, x := range [2][2]float64{{d.X, u.X}, {d.Y, u.Y}} {
			if g := m.Guard(x[1]); math.Abs(x[0])+g > best {
				best, i, axis, value, guard = math.Abs(x[0])+g, n, a, math.Abs(x[0]), g
			}
		}
	}
	return i, axis, value, guard
}
