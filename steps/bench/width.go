package bench

import (
	"fliptrue/steps/fold"
)

// widthAgain is the part's outer width as a micrometer shows it just before the part goes in: as the cutter of side 1
// left both of its sides, grown since. ok is false for another ask.
func (w *World) widthAgain(q fold.What) (v float64, ok bool) {
	if q.By != "micrometer" || q.Of != "part" || w.raw != nil {
		return 0, false
	}
	cutter := w.lot.pair("cutter", w.Effects.Cutter)
	// What the features stand farther from a wall at 0 the outline is wider; from a wall at the other end it is narrower.
	cx, cy, _ := w.walls()
	if w.onPegs() != nil { // it lies by its holes: what its far face stands farther from them the outline is wider
		cx, cy = 0, 0
	}
	noise := w.gauss(w.Effects.Noise)
	switch q.Dir {
	case "again-x":
		return (w.size.x+2*from(cx)*cutter.x)*(1+w.part.strain.x) + noise, true
	case "again-y":
		return (w.size.y+2*from(cy)*cutter.y)*(1+w.part.strain.y) + noise, true
	}
	return 0, false
}

// from is +1 for a wall at 0, else -1.
func from(wall float64) float64 {
	if wall == 0 {
		return 1
	}
	return -1
}
