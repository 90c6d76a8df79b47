package inspect

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/given"
)

// Mate is a lip in a recess, one axis, mm.
type Mate struct {
	Recess, Lip  [2]float64 // least and most of the width
	Mismatch     float64    // measured, of either sign: taken off
	MismatchHalf float64    // not measured: half-width
	Growth       float64    // half-width of what the two may grow apart in a gap
	Film         float64    // of finish in a gap, both faces together: taken off
}

// Gap is what is left on the narrower side.
type Gap struct {
	Worst  float64 // everything against it
	Middle float64 // sizes in the middles of their ranges
	Std    float64
	By95   float64 // Middle less the one-sided 95 % guard of what is not known
	Slides bool    // Worst > 0
	Likely bool    // By95 > 0
}

// Gap reckons each side's gap.
//
//	worst = (recess least - lip most)/2 - |mismatch| - mismatchHalf - growth - film
//
// The 95 % is budget.Combine's over the ranges as rectangles. Errors: a range upside down.
func (m Mate) Gap() (Gap, error) {
	if err := given.Finite("recess", m.Recess[0]+m.Recess[1], "lip", m.Lip[0]+m.Lip[1], "mismatch", m.Mismatch, "film", m.Film); err != nil {
		return Gap{}, err
	}
	if m.Recess[1] < m.Recess[0] || m.Lip[1] < m.Lip[0] || !(m.MismatchHalf >= 0) || !(m.Growth >= 0) || m.Film < 0 {
		return Gap{}, fmt.Errorf("recess %v and lip %v must rise, mismatch, growth and film be 0 or more; correct them", m.Recess, m.Lip)
	}
	known := math.Abs(m.Mismatch) + m.Film
	g := Gap{Worst: (m.Recess[0]-m.Lip[1])/2 - known - m.MismatchHalf - m.Growth,
		Middle: (m.Recess[0]+m.Recess[1]-m.Lip[0]-m.Lip[1])/4 - known}
	r := budget.Combine([]budget.Line{budget.R("recess", (m.Recess[1]-m.Recess[0])/4), budget.R("lip", (m.Lip[1]-m.Lip[0])/4),
		budget.R("mismatch", m.MismatchHalf), budget.R("growth", m.Growth)})
	g.Std, g.By95 = r.Std, g.Middle-r.Guard
	g.Slides, g.Likely = g.Worst > 0, g.By95 > 0
	return g, nil
}

// Sanding is a finish: what a whole sequence of grits takes off a face, measured on an
// offcut, and the most of a step that may be sanded away.
type Sanding struct{ Takes, Scatter, Most float64 }

// Most of a step that is sanded away by hand, mm. Common practice.
const (
	SandWood   = 0.05
	SandPolish = 0.02 // acrylic that is to be polished
)

// Takes is what a sequence of grits takes of a face and how far one place is from another: the mean of the places of an
// offcut and half of their range, at least the micrometer's 0.002. A place that grew is an error: it was measured wet.
func Takes(places []float64) (mean, scatter float64, err error) {
	if len(places) == 0 {
		return 0, 0, fmt.Errorf("no place of the offcut was measured; mark three and measure them")
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, x := range places {
		if err := given.Finite("what was taken", x); err != nil {
			return 0, 0, err
		}
		if x < 0 {
			return 0, 0, fmt.Errorf("the offcut is wider by %.3f after sanding; let it dry and measure it the next day", -2*x)
		}
		mean, lo, hi = mean+x/float64(len(places)), math.Min(lo, x), math.Max(hi, x)
	}
	return mean, math.Max((hi-lo)/2, offcutU), nil
}

// offcutU is the least scatter that a micrometer shows, mm.
const offcutU = 0.002

// Clears says whether a step on a face over a wall can be sanded away: the step is at most
// Most, and what is left of the wall at least least.
//
//	wall - max(|step|, takes) - scatter >= least
func (s Sanding) Clears(step, wall, least float64) (left float64, can bool, err error) {
	if err := given.Finite("step", step, "wall", wall, "least wall", least, "sanding", s.Takes, "scatter", s.Scatter); err != nil {
		return 0, false, err
	}
	left = wall - math.Max(math.Abs(step), s.Takes) - math.Abs(s.Scatter)
	return left, math.Abs(step) <= s.Most && left >= least, nil
}
