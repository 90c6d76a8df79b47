// Package growth says how much a fixture or a part has grown since the day it was measured:
// by heat, by moisture, or by measuring it again, which beats both.
//
// Goals: what was read gives a signed correction with what is left in doubt; what was not
// read gives no correction and a wide line marked as assumed, never a line that takes one
// day for another. Positive is growth.
//
// Non-goals: it knows no job, step or material table: numbers come in with their ranges.
// It adds no lines (see budget) and moves no offsets (see frame).
//
// Units: mm, kelvin and degrees Celsius, percent of relative humidity and of moisture
// content, hours. A growth is a fraction: mm per mm.
package growth

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
)

// Growth is a fraction by which a length has changed, and what is in doubt of it.
type Growth struct {
	Value float64       // signed; 0 where nothing was read
	Lines []budget.Line // of the fraction; Times(lever) makes them lengths
}

// At is the error that growth leaves at a distance from where the thing is held, mm with
// the sign of distance, and its lines there.
func (g Growth) At(distance float64) (value float64, lines []budget.Line) {
	for _, l := range g.Lines {
		lines = append(lines, l.Times(distance))
	}
	return g.Value * distance, lines
}

// Coef is a coefficient of growth with its range: per kelvin (23.6e-6), per percent of
// moisture content (0.00365) or of humidity (0.00004).
type Coef struct{ Low, Nominal, High float64 }

// valid is an error unless it is finite, 0 or more and in rising order.
func (c Coef) valid(name string) error {
	if err := finite(name, c.Low, name, c.Nominal, name, c.High); err != nil {
		return err
	}
	if c.Low < 0 || c.Nominal < c.Low || c.High < c.Nominal {
		return fmt.Errorf("%s %g, %g, %g is no rising range of 0 or more; correct it", name, c.Low, c.Nominal, c.High)
	}
	return nil
}

// finite is an error unless all numbers are.
func finite(pairs ...any) error {
	for i := 0; i+1 < len(pairs); i += 2 {
		if v := pairs[i+1].(float64); math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%s is %g: it must be a finite number; enter it again", pairs[i], v)
		}
	}
	return nil
}
