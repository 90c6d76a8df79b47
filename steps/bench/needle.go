package bench

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// rises turns the dial over where its needle falls as the edge presses the stylus in.
func (d *dial) rises(e *jobs.Edge) {
	if e == nil {
		return
	}
	d.sense = math.Abs(d.sense)
	if e.Side == "front" || e.Side == "left" {
		d.sense = -d.sense
	}
}

// trueUp is a fixture tapped by the needle alone until it shows so much more at the second place than at the
// first, to a graduation. Who taps sees at once when it goes the wrong way.
func (w *World) trueUp(at string, to float64) error {
	var s [2]float64
	if _, err := fmt.Sscanf(strings.ReplaceAll(at, ",", " "), "%g %g", &s[0], &s[1]); err != nil {
		return fmt.Errorf("bench: the edge is read at two places, not at %q", at)
	}
	e := w.card.AsMade.Edge
	end, dirs := "right", [2]string{"away", "toward"}
	if e.Side == "left" || e.Side == "right" {
		end, dirs = "away", [2]string{"right", "left"}
	}
	for range 8 {
		zero := w.dialRead("edge", w.edgeSurface(s[0]))
		w.dial.station = s[1]
		off := w.dialRead("edge", w.edgeSurface(s[1])) - zero - to
		if math.Abs(off) <= max(w.Effects.DialRound, 1e-6) {
			return nil
		}
		a := fold.Act{Dir: dirs[0], Amount: -off * w.dial.sense}
		if a.Amount < 0 {
			a.Dir, a.Amount = dirs[1], -a.Amount
		}
		if err := w.tap(a, end); err != nil {
			return err
		}
	}
	return nil
}
