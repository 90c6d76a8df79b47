// Package register says where side 2 will be cut against side 1: the offset that the
// fixture asks for, the error that is known at each feature, and a budget of all that is
// not known there.
//
// Goals: one formula for each idea, over frame and budget; an error is "where the part's
// feature stands minus where the tool will cut"; every line of a budget says what it
// rests on, and is marked where neither job nor card gave it.
//
// Non-goals: the package reads no fact and no card, judges nothing (see budget.Decide) and
// knows no step. What is known is handed in as numbers.
//
// Units: mm, rad, K. Program coordinates of side 2 for features, machine coordinates for
// the fixture. X and Y are taken each for itself, never as a radius; index 0 is X.
package register

import (
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/growth"
)

// Feature is a place of the part that has to be in register, side-2 program coordinates, mm.
type Feature struct {
	Name string
	At   frame.Vec
}

// Known is what is known of the register at one feature, X and Y each for itself, mm.
type Known struct {
	Feature
	Error   [2]float64 // known and signed
	Kink    [2]float64 // further known mismatch of unknown sign: lean of the spindle after the flip
	U       [2]float64 // half-width of the 95 % interval
	Guard   [2]float64 // one-sided 95 %
	Lines   [2][]budget.Line
	Largest [2]string // the line with the largest share of the variance
	Share   [2]float64
}

// Setup is all that the register rests on. Without In only machine and fixture count.
type Setup struct {
	Offset  Offset
	Machine Machine
	Heat    Heat
	Part    Part
	In      bool    // the part is in its pocket
	Shift   *Shift  // its motion since the baseline, nil while it is not measured
	Drift   float64 // the largest difference that a recheck found within its limits
	Lean    Lean
	Cut     *Cut          // the register itself as a witness cut showed it: replaces all else but growth and squareness
	Close   *Close        // what later walks know more of; nil: reckoned as the first two walks did
	Damp    growth.Growth // of the fixture by humidity since the day it was made; counts where one bore was read
}

// Shift is a measured motion of the part on its fixture, about the part zero.
type Shift struct {
	Motion frame.Motion
	Cov    [3][3]float64 // of its X, Y (mm²) and turn
	Dof    float64
	// Side is how far its lean since then takes sideways what lies the part's thickness over or under the faces
	// that the motion was read at, and SideU its standard uncertainty, mm; the sign depends on which of them.
	Side, SideU [2]float64
}

// At returns what is known at a feature: the error of the placement, the shift and the
// error of the outline that side 1 left add up with their signs.
func (s Setup) At(f Feature) Known {
	k := Known{Feature: f}
	e := s.Offset.Fixture.Error(s.Offset.Place, f.At)
	switch {
	case s.Cut != nil:
		e = s.Cut.known(s, f.At)
	case s.In:
		e = e.Add(s.damped())
		if s.Shift != nil {
			e = e.Add(s.Shift.Motion.Move(f.At))
		}
		e = e.Add(s.Part.Outline())
		if s.Part.On != nil {
			by, _ := s.Part.On.move(f.At)
			e = e.Add(by)
		}
		if s.Close != nil {
			e = e.Add(s.Close.known(s.Machine, s.Part, f.At))
		}
	}
	k.Error = [2]float64{e.X, e.Y}
	for axis := range k.Lines {
		if s.In {
			k.Kink[axis] = s.Lean.Kink(s.Part.Size[2], axis)
			if s.Shift != nil && s.Cut == nil {
				k.Kink[axis] += math.Abs(s.Shift.Side[axis])
			}
		}
		ls := s.lines(f.At, axis)
		r := budget.Combine(ls)
		k.Lines[axis], k.U[axis], k.Guard[axis] = ls, r.U, r.Guard
		k.Largest[axis], k.Share[axis] = r.Largest.Name, r.Share
	}
	return k
}

// All returns what is known at each feature.
func (s Setup) All(fs []Feature) []Known {
	out := make([]Known, len(fs))
	for i, f := range fs {
		out[i] = s.At(f)
	}
	return out
}

// lines are the whole budget at q on one axis.
func (s Setup) lines(q frame.Vec, axis int) []budget.Line {
	if s.Cut != nil {
		return s.Cut.lines(s, q, axis)
	}
	ls := s.Offset.lines(s.Machine, s.Heat, q, axis)
	if s.Close != nil && s.Close.Lobing > 0 {
		ls = append(ls, budget.R("probe's lobes", s.Close.Lobing).From("three lobes, of which this count of hits takes a share").AsAssumed())
	}
	if along, middle := s.outOfSquare(); axis == along && !s.walled() {
		ls = append(ls, s.Machine.square(axisOf(q, 1-along), middle))
	}
	if !s.In {
		return ls
	}
	ls = append(append(ls, s.damp(axis)...), s.Part.lines(s.Machine, q, axis)...)
	if s.Close != nil {
		ls = append(ls, s.Close.lines(s.Offset, s.Machine, s.Part, q, axis)...)
	}
	if s.Shift != nil {
		c := s.Shift.Motion.CovAt(q, s.Shift.Cov)
		ls = append(ls, budget.N("shift test", math.Sqrt(c[axis][axis]), s.Shift.Dof).From("witness readings"))
		if u := s.Shift.SideU[axis]; u > 0 {
			ls = append(ls, budget.N("lean at the swap", u, s.Shift.Dof).From("heights of the witness readings"))
		}
	}
	if s.Drift > 0 {
		ls = append(ls, budget.R("found at a recheck", s.Drift).From("difference found"))
	}
	return ls
}

// outOfSquare is the axis along which X and Y out of square lead places astray, and the line from which on: the
// part's middle line, the third of three stops, or the line of what the part lies on, which both sides have in common.
func (s Setup) outOfSquare() (axis int, middle float64) {
	if st := s.Part.Stops; st != nil {
		return st.Along, st.From
	}
	if on := s.Part.On; on != nil {
		return on.Along, axisOf(on.At, 1-on.Along)
	}
	return 0, s.Part.Size[1] / 2
}

// Worst returns the feature and axis with the largest |error| + kink + guard, with that
// |error| + kink as the value to judge and its guard. Without features the value is 0.
func Worst(ks []Known) (i, axis int, value, guard float64) {
	best := math.Inf(-1)
	for n, k := range ks {
		for a := range k.Error {
			v := math.Abs(k.Error[a]) + k.Kink[a]
			if s := v + k.Guard[a]; s > best {
				best, i, axis, value, guard = s, n, a, v, k.Guard[a]
			}
		}
	}
	return i, axis, value, guard
}

// LargestGuard returns the largest guard over features and axes, 0 without features.
func LargestGuard(ks []Known) float64 {
	g := 0.0
	for _, k := range ks {
		g = math.Max(g, math.Max(k.Guard[0], k.Guard[1]))
	}
	return g
}

// Corners are the features of a part that lists none: its own corners.
func Corners(size frame.Vec) []Feature {
	return []Feature{{"near left corner", frame.Vec{}}, {"near right corner", frame.Vec{X: size.X}},
		{"far right corner", size}, {"far left corner", frame.Vec{Y: size.Y}}}
}

// Reach is the distance of the farthest of those places from the part zero, mm; when all
// lie in it, that of the part's far corner.
func Reach(at []frame.Vec, size frame.Vec) float64 {
	r := 0.0
	for _, q := range at {
		r = math.Max(r, q.Len())
	}
	if r == 0 {
		r = size.Len()
	}
	return r
}
