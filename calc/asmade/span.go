package asmade

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
)

// SpanMost is how far the spacing of two bores may be off its program at the temperature of
// the day, mm. Common practice.
const SpanMost = 0.010

// Span is the way from bore 1 to bore 2 as made: what tells scale and direction at each
// remount. The probe's eccentricity and its ball are in both bores and drop out.
type Span struct {
	V          frame.Vec  // along the machine's axes
	Apart      float64    // its length
	Cov        frame.Cov2 // of V
	U          float64    // standard uncertainty of Apart
	UDirection float64    // of its direction, rad
	Off        float64    // Apart less programmed
	Verdict    budget.Verdict
}

// Spans takes two bores probed in place in one mounting of the probe; centres count with the same u
// along both axes. Bores in one place are an error.
func Spans(b1, b2 Bore) (Span, error) {
	s := Span{V: b2.At.Sub(b1.At)}
	s.Apart = s.V.Len()
	programmed := b2.Programmed.Sub(b1.Programmed).Len()
	if !(s.Apart > 0) || !(programmed > 0) || math.IsInf(s.Apart, 0) {
		return Span{}, fmt.Errorf("bores %.3f apart, programmed %.3f: they must be in two places; probe bore 2 again", s.Apart, programmed)
	}
	s.U = math.Hypot(b1.UCentre, b2.UCentre)
	s.UDirection = s.U / s.Apart
	s.Cov = frame.Cov2{{s.U * s.U, 0}, {0, s.U * s.U}}
	s.Off = s.Apart - programmed
	s.Verdict = budget.Decide(math.Abs(s.Off), budget.OneSided*s.U, budget.AtMost, SpanMost)
	return s, nil
}
