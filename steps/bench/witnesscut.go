package bench

import (
	"strings"

	"fliptrue/steps/fold"
)

// stepSize is how far the finisher's steps come out too large or too small at most, each side, mm: deflection and a cutter
// that is not its nominal size.
const stepSize = 0.008

// witnessed is a touch of a witness cut in work coordinates: side 1's face stands where the part is, the step where the
// tool went. Both are reckoned from where they would be without any error, which is what the person is told to expect.
func (w *World) witnessed(a fold.Ask) (v, step float64, ok bool) {
	kind, at, cut := strings.Cut(a.What.Of, "@")
	name, of := strings.CutPrefix(kind, "cut-step/")
	if side, face := strings.CutPrefix(kind, "cut-face/"); face {
		name, of = side, false
	} else if !of {
		return 0, 0, false
	}
	if !cut || a.Window == nil {
		return 0, 0, false
	}
	size := w.plan.Job.Part.Size
	on, err := place(at)
	if err != nil {
		return 0, 0, false
	}
	along := on.x
	q, sign := xy{along, size[1]}, 1.0
	switch name {
	case "right":
		q = xy{size[0], along}
	case "left":
		q, sign = xy{0, along}, -1
	case "toward":
		q, sign = xy{along, 0}, -1
	}
	r := w.ball.rx // in step and face alike
	v = q.x + sign*r
	if a.What.Axis == "y" {
		v = q.y + sign*r
	}
	if of {
		v += sign * (w.hand.skin + w.lot.within("size of the steps", stepSize))
	} else if e := w.errorAt(q); a.What.Axis == "x" {
		v += e.x
	} else {
		v += e.y
	}
	return roundTo(v+w.gauss(w.Effects.Noise), w.Effects.Readout), w.Effects.Readout, true
}
