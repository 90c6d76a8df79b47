package fit

import "math"

// What a head out of tram, and a machine out of square, do to a part. Tilts are small
// ratios as a sweep gives them (mm per mm); lengths in mm; results carry the sign of the
// tilt except where a depth is meant.

// StepOver returns the step between neighbouring passes across the tilt:
//
//	step = stepover · tilt
//
// Derived; common practice.
func StepOver(tilt, stepover float64) float64 { return stepover * tilt }

// Dish returns the depth of the hollow a tilted cutter leaves along the feed:
//
//	depth = sin(atan tilt)·(Rc - √(Rc² - w²/4))
//
// radius Rc of the cutter, w the width cut. A width of the whole diameter or more gives
// the full depth sin·Rc; the sign of the tilt does not matter. Derived.
func Dish(tilt, radius, width float64) float64 {
	t := math.Abs(tilt)
	return t / math.Sqrt(1+t*t) * (radius - math.Sqrt(math.Max(0, radius*radius-width*width/4)))
}

// WallLean returns how far a wall of height h leans over: tilt · h.
func WallLean(tilt, h float64) float64 { return tilt * h }

// Kink returns the kink at the parting line between two walls of height h cut from both
// sides: a tilt along the flip axis doubles, 2·tilt·h; a tilt across it cancels, since
// turning about X leaves x and reverses z. Derived.
func Kink(tiltAlongFlipAxis, h float64) float64 { return 2 * tiltAlongFlipAxis * h }

// OutOfSquare returns the X mismatch between the sides at a place y away from the middle
// line when X and Y are out of square by eps (X error per Y):
//
//	2 · eps · (y - middle)
//
// It doubles after a flip about either axis and a fixture cut on the same machine does
// not cure it. Derived.
func OutOfSquare(eps, y, middle float64) float64 { return 2 * eps * (y - middle) }
