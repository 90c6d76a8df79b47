package outside

import (
	"fmt"

	"fliptrue/steps/fold"
)

// onPost is a dial on a post that is clamped to the fixture, its tip on a face of the part: it rises when the part comes
// toward it, against the way in which the tip looks at the part.
func (w *World) onPost(a fold.Ask, face string, x, y float64) (string, error) {
	p, ok := w.under(face, x, y)
	if !ok {
		return "", fmt.Errorf("field %s: this world has no face %q for a dial on a post", a.Field, face)
	}
	looks := map[string]Vec{"x+": {X: 1}, "x-": {X: -1}, "y+": {Y: 1}, "y-": {Y: -1}, "z-": {Z: -1}}[a.What.Dir]
	came := w.seat.Then(w.swap).Of(p).minus(w.zeroed.Of(p))
	return length(w.dial(-came.dot(looks))), nil
}

// under is the place of the part under a tip, in its own program's coordinates.
func (w *World) under(face string, x, y float64) (Vec, bool) {
	l, b, z := w.job.Part.Size[0], w.job.Part.Size[1], w.job.Fixture.AsMade.Floor.Depth+2
	at, ok := map[string]Vec{"part-left": {0, x, z}, "part-right": {l, x, z}, "part-front": {x, 0, z}, "part-rear": {x, b, z},
		"part-top": {x, y, w.thick}}[face]
	return w.solid(at), ok
}
