package feed

import (
	"fmt"
	"math"

	"fliptrue/calc/given"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// RubChip is the chip below which an edge of a small cutter rubs instead of cutting, mm. Common practice.
const RubChip = 0.012

// BreakSF is required of the force that breaks the cutter. Common practice.
const BreakSF = 2.0

// Machine is what the spindle and the axes can do.
type Machine struct {
	RPM  [2]float64 // least and most
	Feed float64    // most, mm/min
}

// Job is what is to be cut. Cut gives diameter, teeth, widths, force of the material and its
// factors; its Fz is what is looked for and not used.
type Job struct {
	Row     Row
	Cut     hold.Cut
	Runout  float64    // total, of the cutter as it turns, mm; 0: not measured
	Break   unit.Force // that breaks the cutter (hold.Reach, hold.Cutter); 0: not known
	Machine Machine
}

// Side says what a side of the window comes from.
type Side int

const (
	ByRow     Side = iota // the material's row
	ByRub                 // the edge would rub
	ByRunout              // one tooth would do the work of two
	ByBreak               // the cutter would break
	BySpindle             // the spindle goes no further
	ByAxes                // the axes go no faster
)

// Window is the range of spindle speed and of feed for each tooth, both ends with what they come
// from, and the range of feed at a speed by Feeds.
type Window struct {
	RPM     [2]float64
	RPMBy   [2]Side
	Fz      [2]float64
	FzBy    [2]Side
	Thins   float64 // chip over feed for each tooth, 1 from half the diameter on
	Open    bool    // there is something between both ends of both
	NoBreak bool    // Break was not given: what the cutter bears is not in it
	teeth   float64
	feed    float64
}

// Window finds it.
//
//	rpm = 1000 v/(π d)      chip = fz · 2 √(q (1-q)), q = ae/d below 1/2, else fz
//	fz least = the largest of row, RubChip over the thinning, twice the runout
//	fz most  = the least of row and the feed at which cf F · BreakSF is what breaks the cutter
//
// Chips of the row are taken in proportion to the diameter. Climbing, sharp. Errors: a row or a
// cut that can't be computed.
func (j Job) Window() (Window, error) {
	if err := j.Row.Valid(); err != nil {
		return Window{}, err
	}
	if err := given.Above("least speed of the spindle", j.Machine.RPM[0], "most speed of the spindle", j.Machine.RPM[1], "most feed",
		j.Machine.Feed); err != nil {
		return Window{}, err
	}
	if !(j.Runout >= 0) || !(j.Break >= 0) || j.Machine.RPM[1] < j.Machine.RPM[0] {
		return Window{}, fmt.Errorf("runout %g, breaking force %g and spindle %v must be 0 or more and rise; correct them",
			j.Runout, float64(j.Break), j.Machine.RPM)
	}
	c := j.Cut
	c.Fz = unit.Length(j.Row.Chip[0])
	if err := c.Valid(); err != nil {
		return Window{}, err
	}
	w := Window{Thins: 1, NoBreak: j.Break == 0, teeth: float64(c.Teeth), feed: j.Machine.Feed}
	if q := float64(c.Ae / c.Dia); q < 0.5 {
		w.Thins = 2 * math.Sqrt(q*(1-q))
	}
	turn := math.Pi * float64(c.Dia) / 1000
	w.RPM[0], w.RPMBy[0] = j.Row.Speed[0]/turn, ByRow
	w.RPM[1], w.RPMBy[1] = j.Row.Speed[1]/turn, ByRow
	if j.Machine.RPM[0] > w.RPM[0] {
		w.RPM[0], w.RPMBy[0] = j.Machine.RPM[0], BySpindle
	}
	if j.Machine.RPM[1] < w.RPM[1] {
		w.RPM[1], w.RPMBy[1] = j.Machine.RPM[1], BySpindle
	}
	size := float64(c.Dia) / j.Row.Dia
	w.Fz[0], w.FzBy[0] = j.Row.Chip[0]*size/w.Thins, ByRow
	if rub := RubChip / w.Thins; rub > w.Fz[0] {
		w.Fz[0], w.FzBy[0] = rub, ByRub
	}
	if two := 2 * j.Runout; two > w.Fz[0] { // hold.Runout: half of the chip load at most
		w.Fz[0], w.FzBy[0] = two, ByRunout
	}
	w.Fz[1], w.FzBy[1] = j.Row.Chip[1]*size/w.Thins, ByRow
	if err := j.breaks(&w); err != nil {
		return Window{}, err
	}
	if axes := w.feed / (w.teeth * w.RPM[0]); axes < w.Fz[1] {
		w.Fz[1], w.FzBy[1] = axes, ByAxes
	}
	w.Open = w.RPM[0] <= w.RPM[1] && w.Fz[0] <= w.Fz[1]
	return w, nil
}

// breaks lowers the most of the feed to what the cutter bears.
func (j Job) breaks(w *Window) error {
	if j.Break == 0 {
		return nil
	}
	force := func(fz float64) (float64, error) {
		c := j.Cut
		c.Fz = unit.Length(fz)
		l, err := c.Load()
		return c.Corner * float64(l.Fh), err
	}
	f, err := force(w.Fz[1])
	if err != nil || f*BreakSF <= float64(j.Break) {
		return err
	}
	lo, hi := 0.0, w.Fz[1]
	for range 60 {
		mid := (lo + hi) / 2
		if f, err = force(mid); err != nil {
			return err
		}
		if f*BreakSF <= float64(j.Break) {
			lo = mid
		} else {
			hi = mid
		}
	}
	w.Fz[1], w.FzBy[1] = lo, ByBreak
	return nil
}

// Feeds is the range of feed at a speed of the spindle, mm/min; the axes cap it.
func (w Window) Feeds(rpm float64) (least, most float64) {
	return w.Fz[0] * w.teeth * rpm, math.Min(w.Fz[1]*w.teeth*rpm, w.feed)
}
