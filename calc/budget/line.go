// Package budget combines what is not known about a length into one standard uncertainty, an
// interval and a guard, and decides by them.
//
// Goals: the method of JCGM 100 (the GUM) with the two places mended where the flat 2u is wrong on
// a small shop's numbers: few degrees of freedom, and a rectangle in charge. The largest
// line is always named: it is the only advice a person at the machine can act on.
//
// Non-goals: it knows no axis, feature or step; it does not model correlation between lines. Facts that
// correlate are brought to the feature as a vector with covariance first (At) and enter as one line.
//
// Values are in any one unit, mm throughout the program.
package budget

import (
	"math"
)

// Shape is the distribution a line stands for.
type Shape int

const (
	Normal      Shape = iota // Value is a standard uncertainty
	Rectangular              // Value is a half-width: anywhere inside is equally likely, outside impossible
	Triangular               // Value is a half-width: the sum of two equal rectangles of half of it
)

// Line is one entry of a budget.
type Line struct {
	Name    string
	Shape   Shape
	Value   float64 // standard uncertainty or half-width by Shape, 0 or more
	Dof     float64 // degrees of freedom of Value; +Inf or 0 (not stated) when it is taken as known
	Coef    float64 // sensitivity: result per unit of Value; its sign does not matter
	Assumed bool    // a default that neither job nor card gave: shown as such
	Source  string
}

// N returns a normal line with standard uncertainty u and coefficient 1. dof as in Line.
func N(name string, u, dof float64) Line {
	return Line{Name: name, Value: u, Dof: dof, Coef: 1}
}

// R returns a rectangular line with half-width a and coefficient 1.
func R(name string, a float64) Line {
	return Line{Name: name, Shape: Rectangular, Value: a, Dof: math.Inf(1), Coef: 1}
}

// Times returns the line with its coefficient multiplied by c.
func (l Line) Times(c float64) Line {
	l.Coef *= c
	return l
}

// From returns the line with its source.
func (l Line) From(source string) Line {
	l.Source = source
	return l
}

// AsAssumed returns the line marked as a default that nobody gave.
func (l Line) AsAssumed() Line {
	l.Assumed = true
	return l
}

// Std returns the line's contribution to the standard uncertainty of the result:
// |Coef| times Value, Value/√3 or Value/√6 (JCGM 100, 4.3.7 and 4.3.9).
// A line that can't be used (negative or not finite) contributes +Inf: nothing can be proven with it.
func (l Line) Std() float64 {
	a := l.half()
	switch l.Shape {
	case Normal:
		return a
	case Rectangular:
		return a / math.Sqrt(3)
	case Triangular:
		return a / math.Sqrt(6)
	}
	panic("budget: no such shape")
}

// half is |Coef|*Value, +Inf if that is no usable number.
func (l Line) half() float64 {
	a := math.Abs(l.Coef) * l.Value
	if !(l.Value >= 0) || math.IsNaN(a) {
		return math.Inf(1)
	}
	return a
}

func (l Line) dof() float64 {
	if l.Dof > 0 {
		return l.Dof
	}
	return math.Inf(1)
}
