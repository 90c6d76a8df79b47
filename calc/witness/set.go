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

// Spot is a witness of the part: what it is called, the axis it is read along and its place.
type Spot struct {
	Name string
	Axis fit.Axis
	At   fit.Point
}

// Which are the witnesses that a motion is read from.
type Which int

const (
	All     Which = iota
	Heights       // those of the top alone: the fixture's rim is all that they want
	Plan          // those of the sides alone: the top may be cut away by then
)

// Has says whether witnesses along that axis are read.
func (w Which) Has(a fit.Axis) bool {
	return w == All || (w == Heights) == (a == fit.AxisZ)
}

// Set is one set as read. What was not read is missing: Rim and any of Reads may be nil.
type Set struct {
	Fixture fit.Point3    // the fixture's own witness: its centre in plan, the mean of its rim in Z
	U       [2]float64    // standard uncertainty of the centre along X and Y
	Rim     []float64     // touches of the rim
	Reads   [][]float64   // per spot
	Dial    budget.Spread // of one reading of dials on posts that stand on the fixture: Reads are part minus fixture then
}

// Of is the fixture's own witness on an axis.
func (s Set) Of(a fit.Axis) float64 { return [3]float64{s.Fixture.X, s.Fixture.Y, s.Fixture.Z}[a] }

// Differ is how far the part stands from its fixture at a spot that was read, along its axis.
func (s Set) Differ(spot int, a fit.Axis) float64 { return budget.MeanOf(s.Reads[spot]) - s.Of(a) }

// dialled says that dials on posts were read.
func (s Set) dialled() bool { return s.Dial.S > 0 }

// Spread is the scatter of one touch, pooled over the rim and all witnesses that were repeated; of dials their own.
func (s Set) Spread() budget.Spread {
	if s.dialled() {
		return s.Dial
	}
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
	Repeats int // how often each witness was read, and the fixture's rim is in any set
	Spread  budget.Spread
	Differ  []float64 // part minus fixture at each spot
}

// Baseline is the set as a baseline, each read so often; every spot has been read.
func (s Set) Baseline(spots []Spot, repeats int) Baseline {
	b := Baseline{Repeats: repeats, Spread: s.Spread()}
	for i, sp := range spots {
		b.Differ = append(b.Differ, s.Differ(i, sp.Axis))
	}
	return b
}

// Moved is the rigid motion of the part on its fixture from the baseline to the set, about
// the part zero, from the witnesses that which names.
//
//	d = (part - fixture) now - (part - fixture) then   Q = 1/Repeats + 1/n
//
// The fixture's own witness is common to all on an axis: both sets have it of the same
// kind, so that its variance is twice that of this one's centre, and twice 1/Repeats of a touch
// for the rim; posts stand on the fixture itself and have none. The scatter is pooled over both
// sets and never below own, which is the instrument's; own stands alone where nothing was read
// twice. An error names what was not read.
func (b Baseline) Moved(spots []Spot, s Set, which Which, own budget.Spread) (fit.Motion, error) {
	if len(b.Differ) != len(spots) {
		return fit.Motion{}, fmt.Errorf("the baseline has %d witnesses and the job %d; read the baseline again", len(b.Differ), len(spots))
	}
	once := 1 / float64(b.Repeats)
	var ds []fit.Difference
	for i, w := range spots {
		if !which.Has(w.Axis) {
			continue
		}
		if i >= len(s.Reads) || len(s.Reads[i]) == 0 {
			return fit.Motion{}, fmt.Errorf("witness %q was not read; read it", w.Name)
		}
		ds = append(ds, fit.Difference{Axis: w.Axis, At: w.At, D: s.Differ(i, w.Axis) - b.Differ[i],
			Q: once + 1/float64(len(s.Reads[i]))})
	}
	if s.dialled() {
		return fit.SolveMotion(ds, [3]float64{}, s.Dial)
	}
	scatter := budget.Pool(b.Spread, s.Spread())
	if scatter.Dof == 0 {
		scatter.Dof = own.Dof
	}
	scatter = scatter.AtLeast(own.S)
	ref := [3]float64{2 * sq(s.U[0]/scatter.S), 2 * sq(s.U[1]/scatter.S), 2 * once}
	return fit.SolveMotion(ds, ref, scatter)
}

func sq(x float64) float64 { return x * x }

// Worst is the motion where it matters: the place and the axis (0 is X) with the largest
// |motion| + guard, that |motion| and its one-sided 95 % guard. So high over the faces that it was
// read at, what leans goes sideways as well, and which way is not known. Without places all is 0.
func Worst(m fit.Motion, at []frame.Vec, height float64) (i, axis int, value, guard float64) {
	best := math.Inf(-1)
	side, us := fit.Rise{X: m.TiltX, Y: m.TiltY, Cov: m.LiftCov}.Sideways(height)
	for n, q := range at {
		d, u := m.At(fit.Point{X: q.X, Y: q.Y})
		for a, x := range [2][4]float64{{d.X, u.X, side.X, us.X}, {d.Y, u.Y, side.Y, us.Y}} {
			d, g := math.Abs(x[0])+math.Abs(x[2]), m.Guard(math.Hypot(x[1], x[3]))
			if d+g > best {
				best, i, axis, value, guard = d+g, n, a, d, g
			}
		}
	}
	return i, axis, value, guard
}
