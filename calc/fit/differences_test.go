package fit

import (
	"fmt"

	"fliptrue/calc/budget"
)

// Witness is one place on the part read before and after, n repeats each, one axis, mm.
// At is in the coordinates in which the motion is wanted.
type Witness struct {
	Axis          Axis
	At            Point
	Before, After []float64
}

// Reference is the fixture's own witness, read in the same two probe mountings. It is
// taken off every difference, so that a refitted probe, a grown spindle and a moved
// offset cancel.
type Reference struct {
	Before, After Point3
	// Q is the variance of (After - Before) per axis for unit scatter, both sets
	// together: 2/4 + 2/4 for a bore centre of 4 even hits a set, 1/n1 + 1/n2 for a face
	// or a rim touched n1 and n2 times.
	Q [3]float64
}

// Differences pools the scatter of all witnesses and forms their shifts.
//
//	d = (part - fixture)_after - (part - fixture)_before, of means
//	s² = Σ over witnesses and sets Σ(x - x̄)²/Σ(n - 1)
//
// A witness without a reading in either set is an error naming it.
func Differences(ws []Witness, ref Reference) ([]Difference, budget.Spread, error) {
	ds := make([]Difference, len(ws))
	var parts []budget.Spread
	b, a := [3]float64{ref.Before.X, ref.Before.Y, ref.Before.Z}, [3]float64{ref.After.X, ref.After.Y, ref.After.Z}
	for i, w := range ws {
		if w.Axis < AxisX || w.Axis > AxisZ {
			panic("fit: no such axis")
		}
		if len(w.Before) == 0 || len(w.After) == 0 {
			return nil, budget.Spread{}, fmt.Errorf("witness %d has %d readings before and %d after; read it in both sets", i+1, len(w.Before),
				len(w.After))
		}
		for _, v := range append(append([]float64{w.At.X, w.At.Y}, w.Before...), w.After...) {
			if err := finite("witness", i, v, b[w.Axis], a[w.Axis]); err != nil {
				return nil, budget.Spread{}, err
			}
		}
		n1, n2 := float64(len(w.Before)), float64(len(w.After))
		ds[i] = Difference{Axis: w.Axis, At: w.At, Q: 1/n1 + 1/n2,
			D: (mean(w.After) - a[w.Axis]) - (mean(w.Before) - b[w.Axis])}
		parts = append(parts, budget.SpreadOf(w.Before), budget.SpreadOf(w.After))
	}
	return ds, budget.Pool(parts...), nil
}

func mean(vs []float64) float64 {
	// about the first, so that equal readings have exactly their own mean
	s := 0.0
	for _, v := range vs {
		s += v - vs[0]
	}
	return vs[0] + s/float64(len(vs))
}

// ToMotion reads one rigid motion out of witnesses: Differences, then SolveMotion with
// the pooled scatter raised to the probe's own. With no repeats at all the probe's stands
// alone.
func ToMotion(ws []Witness, ref Reference, probe budget.Spread) (Motion, error) {
	ds, s, err := Differences(ws, ref)
	if err != nil {
		return Motion{}, err
	}
	if !(s.Dof > 0) {
		s = probe
	}
	return SolveMotion(ds, ref.Q, s.AtLeast(probe.S))
}
