package bench

import "math"

// CutPart is the part as this world cuts it from here on, true values, mm: what a walk is worth shows in it, not in verdicts.
type CutPart struct {
	Register float64 // the worst mismatch of the two sides at a listed feature, on one axis
	Thick    float64 // the worst error of its thickness over middle and corners, signed: above 0 it is too thick
	Out      float64 // runout of the finishing cutter: each wall comes out thinner by half of it
	Screws   int     // that hold nothing
	Clamps   int     // in the cutter's way
	Turned   bool    // end for end, or turned over about the other axis
}

// Cut is the part as it would be cut now.
func (w *World) Cut() CutPart {
	c := CutPart{Out: w.part.runs, Screws: w.hand.soft, Clamps: w.hand.straps, Turned: w.part.turned || w.part.wrong}
	for _, e := range w.TrueError() {
		c.Register = max(c.Register, math.Abs(e.X), math.Abs(e.Y))
	}
	c.Register += w.hand.snug // it creeps under the first cut
	high := w.stands() - w.part.rise - w.grows(1) + w.hand.raise
	for _, at := range []xy{w.size.times(0.5), {}, {w.size.x, 0}, w.size, {0, w.size.y}} {
		v := high - w.chipLift(at) - w.part.lean.at(at.sub(w.size.times(0.5)))
		if math.Abs(v) > math.Abs(c.Thick) {
			c.Thick = v
		}
	}
	return c
}

// grows is how much longer the spindle is, at a share of its first half hour, than when it touched the fixture.
func (w *World) grows(share float64) float64 {
	return share * math.Abs(w.lot.within("spindle", w.Effects.SpindleGrowth))
}
