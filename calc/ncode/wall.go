package ncode

import (
	"math"

	"fliptrue/calc/clearance"
)

// wall is a straight line that an obstacle lies behind wholly, as seen from the nearest place
// of the path so far: what keeps away from the line keeps away from the obstacle.
type wall struct {
	corners []clearance.Point // of the obstacle
	x, y    float64           // its normal, toward the path; both 0 where there is none
	at      float64           // x*X + y*Y on the line
}

// face turns the wall toward a place.
func (w *wall) face(x, y float64) {
	best := math.Inf(1)
	w.x, w.y = 0, 0
	a := w.corners[len(w.corners)-1]
	for _, b := range w.corners {
		ex, ey, px, py := b.X-a.X, b.Y-a.Y, x-a.X, y-a.Y
		t := 0.0
		if l := ex*ex + ey*ey; l > 0 {
			t = min(max((px*ex+py*ey)/l, 0), 1)
		}
		if dx, dy := px-t*ex, py-t*ey; math.Hypot(dx, dy) < best {
			best, w.x, w.y = math.Hypot(dx, dy), dx, dy
		}
		a = b
	}
	if !(best > rounding) {
		w.x, w.y = 0, 0 // it stands in it
		return
	}
	w.x, w.y, w.at = w.x/best, w.y/best, math.Inf(-1)
	for _, c := range w.corners {
		w.at = max(w.at, w.x*c.X+w.y*c.Y)
	}
}

// behindBox tells whether the line lies that far behind a box.
func (w *wall) behindBox(lo, hi *[3]float64, room float64) bool {
	x, y := lo[0], lo[1]
	if w.x < 0 {
		x = hi[0]
	}
	if w.y < 0 {
		y = hi[1]
	}
	return (w.x != 0 || w.y != 0) && w.x*x+w.y*y-w.at >= room+rounding
}

// behindLine tells the same of a straight move.
func (w *wall) behindLine(a, b *[3]float64, room float64) bool {
	least := w.at + room + rounding
	return (w.x != 0 || w.y != 0) && w.x*a[0]+w.y*a[1] >= least && w.x*b[0]+w.y*b[1] >= least
}
