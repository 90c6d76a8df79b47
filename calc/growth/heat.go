package growth

import (
	"math"

	"fliptrue/calc/budget"
)

// Half-widths of a difference of temperature between two days, K. Common practice, from memory.
const (
	ReadHalf   = 1.0  // both days read by a thermometer
	UnreadHalf = 10.0 // either was not: winter and summer of one shop
)

// Temp is a temperature, C in degrees Celsius. Not read, it says nothing.
type Temp struct {
	C    float64
	Read bool
}

// Warmer is how much warmer a thing is now than then, K. Being in one room for hours says
// that two things are as warm as each other now, never that one is as warm as on another day.
type Warmer struct {
	DT, Half float64
	Read     bool
}

// Since compares two days.
func Since(then, now Temp) Warmer {
	if !then.Read || !now.Read {
		return Warmer{Half: UnreadHalf}
	}
	return Warmer{DT: now.C - then.C, Half: ReadHalf, Read: true}
}

// Heat is the growth of a thing of expansion alpha, per kelvin, against the machine's scales, which grow by alphaMachine
// (0 if they were recalibrated at the present temperature):
//
//	value = (alpha - alphaMachine) dT
//
// Its lines are the half-width of dT and the range of alpha times dT. Name says what has grown.
func (w Warmer) Heat(name string, alpha Coef, alphaMachine float64) (Growth, error) {
	if err := finite("difference of temperature", w.DT, "its half-width", w.Half, "expansion", alpha.Low, "expansion", alpha.Nominal,
		"expansion", alpha.High, "expansion of the machine", alphaMachine); err != nil {
		return Growth{}, err
	}
	most := math.Max(math.Abs(alpha.High-alphaMachine), math.Max(math.Abs(alpha.Low-alphaMachine), math.Abs(alpha.Nominal-alphaMachine)))
	day := budget.R(name, most*w.Half).From("difference of temperature as read, 1 °C (1.8 °F)")
	if !w.Read {
		return Growth{Lines: []budget.Line{budget.R(name, most*w.Half).From(
			"10 °C (18 °F) between the days: no thermometer was read").AsAssumed()}}, nil
	}
	g := Growth{Value: (alpha.Nominal - alphaMachine) * w.DT, Lines: []budget.Line{day}}
	if wide := math.Max(alpha.High-alpha.Nominal, alpha.Nominal-alpha.Low); wide > 0 && w.DT != 0 {
		g.Lines = append(g.Lines, budget.R(name+", expansion", wide*math.Abs(w.DT)).From("range of the material's expansion"))
	}
	return g, nil
}
