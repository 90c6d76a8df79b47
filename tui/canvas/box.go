package canvas

import "math"

// Point is a place in millimetres.
type Point struct{ X, Y float64 }

// Box is a window on the plan, in millimetres.
type Box struct{ MinX, MinY, MaxX, MaxY float64 }

// Around is the smallest box about the points; ok is false for none and for a
// coordinate that is no finite number (that point is left out).
func Around(ps ...Point) (b Box, ok bool) {
	for _, p := range ps {
		if !finite(p) {
			continue
		}
		if !ok {
			b, ok = Box{p.X, p.Y, p.X, p.Y}, true
			continue
		}
		b = Box{min(b.MinX, p.X), min(b.MinY, p.Y), max(b.MaxX, p.X), max(b.MaxY, p.Y)}
	}
	return b, ok
}

// Grow widens the box by a margin on every side.
func (b Box) Grow(mm float64) Box {
	return Box{b.MinX - mm, b.MinY - mm, b.MaxX + mm, b.MaxY + mm}
}

func finite(p Point) bool {
	return !math.IsNaN(p.X) && !math.IsNaN(p.Y) && !math.IsInf(p.X, 0) && !math.IsInf(p.Y, 0)
}
