package growth

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
)

// MicrometerU is the standard uncertainty of one outer width by micrometer, mm: 0.003 as a
// half-width. Common practice, from memory.
const MicrometerU = 0.003 / 1.7320508075688772

// ZeroU is the standard uncertainty of the zero of a micrometer or thickness gauge up to 25 mm, mm: half of the permissible
// error of 0.004 (DIN 863-1; from memory), as a rectangle. It is one for all that are read with it, and no mean takes it out.
const ZeroU = 0.002 / 1.7320508075688772

// MostGrowth is the most that a part is believed to have grown between two readings of one
// width, as a fraction: beyond it one of them is of another place, or mistyped.
const MostGrowth = 0.02

// Width is one outer width of the part, measured when side 1 came out and again just before
// it goes in, mm, each with its standard uncertainty.
type Width struct {
	Then, Now   float64
	UThen, UNow float64
	DofThen     float64 // 0: taken as known
}

// Again is the growth by two readings of one width: heat, moisture and all, in one go. It
// replaces the lines of both.
//
//	value = now/then - 1,   u = sqrt(uThen² + uNow²)/then
func (w Width) Again() (Growth, error) {
	if err := finite("width at side 1", w.Then, "width now", w.Now, "uncertainty", w.UThen, "uncertainty", w.UNow); err != nil {
		return Growth{}, err
	}
	if !(w.Then > 0) || !(w.Now > 0) || w.UThen < 0 || w.UNow < 0 {
		return Growth{}, fmt.Errorf("width %g then and %g now: both must be above 0; measure again", w.Then, w.Now)
	}
	q := w.Now / w.Then
	if math.Abs(q-1) > MostGrowth {
		return Growth{}, fmt.Errorf("width now %g is %.1f %% off the %g of side 1; measure the same faces, look for a chip and a slip", w.Now,
			100*(q-1), w.Then)
	}
	return Growth{Value: q - 1, Lines: []budget.Line{budget.N("width measured again", math.Hypot(w.UThen, w.UNow)/w.Then, w.DofThen).From(
		"two micrometer readings")}}, nil
}

// ScrewsWarm is how much warmer than the room a machine's screws may run, K, as a half-width. From memory.
const ScrewsWarm = 3.0

// InScrews is the standard uncertainty of a width by micrometer where it is taken off a place that the machine's screws made: a
// micrometer's mm are true at 20 °C, those of the screws are as long as the screws are warm. What they run above the room, and
// whether micrometer and scales agree off 20 °C, is not read; each is a rectangle.
//
//	u = width α √(ScrewsWarm² + (t - 20)²)/√3
//
// Not read, t is within UnreadHalf of 20.
func InScrews(width, alphaMachine float64, t Temp) float64 {
	off := UnreadHalf
	if t.Read {
		off = t.C - 20
	}
	return math.Abs(width*alphaMachine) * math.Hypot(ScrewsWarm, off) / math.Sqrt(3)
}

// Slide is the least play on both sides together with which a part slides into its pocket
// by hand, mm. Common practice.
const Slide = 0.02

// Room is what is left between a part and its pocket, mm, and whether it goes in.
type Room struct {
	Play    float64 // pocket minus part, over both sides
	GoesIn  bool    // with Slide to spare, as measured
	Pressed bool    // there is less than nothing: it would have to be pressed
}

// Fits compares a width now with the pocket's, which has grown by its own growth since it
// was measured. A part that does not go in is never pressed: wait, or scrape the free wall.
func Fits(width, pocket float64, pocketGrowth float64) Room {
	r := Room{Play: pocket*(1+pocketGrowth) - width}
	r.GoesIn, r.Pressed = r.Play >= Slide, r.Play < 0
	return r
}
