package bench

import (
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// driven is how high a tool's tip stands at a height that the control was told, above machine zero and
// the gauge line: it moves by the length that it has of the tool.
func (w *World) driven(n string, height float64) float64 {
	zero, keyed := w.hand.keyed["z"]
	if !keyed || w.mach.Delivers == "g92" || w.mach.Delivers == "readout" { // set where it was touched
		c := w.card.AsMade.PartZero
		zero = w.floor.at(xy{c.X, c.Y}.add(w.size.times(0.5)))
		if w.hand.word == "finished top" {
			zero += w.plan.Job.Part.Size[2]
		}
	}
	return zero + height + w.table(n) - w.length(n)
}

// table is a tool's length as the control has it.
func (w *World) table(n string) float64 {
	if l, known := w.hand.table[n]; known {
		return l
	}
	return gaugeLength(n)
}

// skimmed is what is read of the first cut: the pass that made it, its face, or the face over the rim.
func (w *World) skimmed(a fold.Ask) (v, step float64, ok bool) {
	of, at, _ := strings.Cut(a.What.Of, "@")
	if of == "program/pass" && a.Window != nil {
		v = roundTo(a.Window.Want, 0.01)
		if a.What.Dir == "z" {
			w.hand.pass = v
		}
		return v, 0.001, true
	}
	if of == "rim" && a.What.Dir == "zero" { // where the dial in the head stands at zero
		z, err := w.height(of, at)
		return roundTo(z+w.probe+w.gauss(w.Effects.Noise), w.Effects.Readout), w.Effects.Readout, err == nil
	}
	n, cut := strings.CutPrefix(of, "skimmed/")
	if !cut {
		return 0, 0, false
	}
	face := w.driven(n, w.hand.pass+w.hand.skimmed) - w.grows(0.5)
	if a.What.By == "depth gauge" {
		rim, err := w.height("rim", at)
		step := 0.01
		if w.plan.Job.Unit == unit.Imperial {
			step = 0.0127 // divisions of half a thousandth
		}
		return roundTo(face-rim+w.gauss(0.002), step), step, err == nil
	}
	return roundTo(face+w.probe+w.gauss(w.Effects.Noise), w.Effects.Readout), w.Effects.Readout, true
}
