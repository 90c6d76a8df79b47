package witness

import (
	"math"

	"fliptrue/calc/fit"
)

// Rise is what the heights say together.
type Rise int

const (
	Still      Rise = iota // nothing beyond the scatter
	Rose                   // everywhere: something came under it
	Sank                   // everywhere: it was never seated
	RoseAt                 // somewhere: something came under it there
	SankInPart             // it settled on one side
)

// RiseOf reads the height witnesses of a motion: only what is real beyond the scatter
// counts. at is the highest one, counted among the heights alone, for RoseAt.
func RiseOf(m fit.Motion) (r Rise, at int) {
	n, up, down, most := 0, 0, 0, 0.0
	for _, s := range m.Shifts {
		if s.Axis != fit.AxisZ {
			continue
		}
		switch {
		case s.Real && s.D > 0:
			up++
			if s.D > most {
				most, at = s.D, n
			}
		case s.Real && s.D < 0:
			down++
		}
		n++
	}
	switch {
	case n == 0 || up == 0 && down == 0:
		return Still, 0
	case up == n:
		return Rose, at
	case down == n:
		return Sank, 0
	case up > 0:
		return RoseAt, at
	}
	return SankInPart, 0
}

// Lifted is the height witness that has changed most, a zero one without heights.
func Lifted(m fit.Motion) (most fit.Shifted) {
	for _, s := range m.Shifts {
		if s.Axis == fit.AxisZ && math.Abs(s.D) > math.Abs(most.D) {
			most = s
		}
	}
	return most
}

// Crept is what one dial on the part said, zeroed before the first: the largest movement
// from one reading to the next, the farthest it ever stood from zero, and where it stands.
func Crept(readings []float64) (step, most, last float64) {
	for _, x := range readings {
		step, most = math.Max(step, math.Abs(x-last)), math.Max(most, math.Abs(x))
		last = x
	}
	return step, most, last
}

// DialU is the standard uncertainty of the difference of two readings of a dial: each is a
// rectangle of one graduation.
func DialU(graduation float64) float64 { return graduation / math.Sqrt(12) * math.Sqrt2 }
