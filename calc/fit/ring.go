package fit

import (
	"fmt"
	"math"
)

// Touches are four spindle positions at trigger inside a hole: the way the probe moved
// names each, mm. The X pair must lie on the chord through the Y centre and the other way
// round: probe X, move to the middle, probe Y, probe X again.
type Touches struct{ XPlus, XMinus, YPlus, YMinus float64 }

// Center returns the midpoints.
func (t Touches) Center() Point { return Point{(t.XPlus + t.XMinus) / 2, (t.YPlus + t.YMinus) / 2} }

// RingMistake is a calibration that cannot be right, with the likely cause.
type RingMistake int

const (
	SwappedHits     RingMistake = iota // a + hit below its - hit
	SizeIsRadius                       // the ring's radius was typed for its diameter
	SizeTooLarge                       // the effective radius exceeds the ball's
	SizeImplausible                    // the effective radius exceeds 3 times the ball's
	BallTooSmall                       // the effective radius is not above 0
)

// RingError is a RingMistake with its numbers.
type RingError struct {
	Mistake RingMistake
	Axis    string  // "X" or "Y"
	Radius  float64 // effective radius as computed, mm
	Ball    float64 // ball radius as given, mm
	Size    float64 // ring diameter as given, mm
	Span    float64
}

func (e *RingError) Error() string {
	head := fmt.Sprintf("ring %.4f, %s span %.4f, effective radius %.4f, ball radius %.4f: ", e.Size, e.Axis, e.Span, e.Radius, e.Ball)
	switch e.Mistake {
	case SwappedHits:
		return head + "the + hit lies below the - hit; they were swapped: type them again"
	case SizeIsRadius:
		return head + "the ring size looks like a radius; type its diameter"
	case SizeTooLarge:
		return head + "a ball cannot trigger outside itself; check ring size and ball size"
	case SizeImplausible:
		return head + "more than 3 times the ball; check ring size and the hits for a wrong key"
	default:
		return head + "no radius is left; check ring size and the hits for a wrong key"
	}
}

// Ring is a ball calibrated in a ring of known size.
type Ring struct {
	Center Point
	Ball              // effective radii
	Travel [2]float64 // ball radius minus effective radius along X and Y: the pre-travel
	Lobed  bool       // radii differ by more than 0.005: keep them per direction
}

// LobedBeyond is the difference of radii from which they are kept apart, mm. Common
// practice.
const LobedBeyond = 0.005

// ToRing calibrates a ball.
//
//	r_x = (D - (X+ - X-))/2, r_y likewise   center = midpoints   pre-travel = ball/2 - r
//
// size is the ring's diameter, ball the ball's, mm. A result that cannot be is a
// RingError naming the likely mistake.
func ToRing(size, ball float64, t Touches) (Ring, error) {
	if err := finite("ring reading", 0, size, ball, t.XPlus, t.XMinus, t.YPlus, t.YMinus); err != nil {
		return Ring{}, err
	}
	r := Ring{Center: t.Center(), Ball: Ball{RX: (size - (t.XPlus - t.XMinus)) / 2, RY: (size - (t.YPlus - t.YMinus)) / 2}}
	half := ball / 2
	for _, a := range []struct {
		axis    string
		span, r float64
	}{{"X", t.XPlus - t.XMinus, r.RX}, {"Y", t.YPlus - t.YMinus, r.RY}} {
		e := &RingError{Axis: a.axis, Radius: a.r, Ball: half, Size: size, Span: a.span}
		// with the diameter in place of the radius, would the ball come out?
		twice := (2*size - a.span) / 2
		switch {
		case a.span < 0:
			e.Mistake = SwappedHits
		case a.r <= 0 && twice > 0 && twice <= half*1.001:
			e.Mistake = SizeIsRadius
		case a.r <= 0:
			e.Mistake = BallTooSmall
		case a.r > 3*half:
			e.Mistake = SizeImplausible
		case a.r > half:
			e.Mistake = SizeTooLarge
		default:
			continue
		}
		return Ring{}, e
	}
	r.Travel = [2]float64{half - r.RX, half - r.RY}
	r.Lobed = math.Abs(r.RX-r.RY) > LobedBeyond
	return r, nil
}

// EccentricityFromTurn returns the eccentricity at spindle 0° and the true centre from
// the centres probed at 0° and with the spindle turned by 180°.
//
//	e = (c0 - c180)/2   true = (c0 + c180)/2
func EccentricityFromTurn(c0, c180 Point) (e, center Point) {
	return Point{(c0.X - c180.X) / 2, (c0.Y - c180.Y) / 2}, Point{(c0.X + c180.X) / 2, (c0.Y + c180.Y) / 2}
}
