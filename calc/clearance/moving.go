package clearance

import "math"

// moving is one search for a clamp's place, and the best found so far.
type moving struct {
	c      Clamp
	bars   []constraint
	ground Ground
	best   Point
	far    float64 // of the best, +Inf before the first
}

// moveTouch is how far a distance may be below 0 and still count as a touch, mm.
const moveTouch = -1e-9

// stand is how far within the ground the tip's pad stands, moved by t.
func (w *moving) stand(t Point) float64 {
	return w.ground.Footing(Point{w.c.Tip.X + t.X, w.c.Tip.Y + t.Y}, w.c.Pad)
}

// room is what is left to the nearest thing, moved by t.
func (w *moving) room(t Point) float64 {
	r := math.Inf(1)
	for i := range w.bars {
		r = math.Min(r, w.bars[i].room(t))
	}
	return r
}

// try keeps a place that is good and nearer than the best.
func (w *moving) try(t Point) {
	if l := math.Hypot(t.X, t.Y); l < w.far && w.stand(t) >= moveTouch && w.room(t) >= moveTouch {
		w.best, w.far = t, l
	}
}

// whole is the square of all moves that put the tip within the box about its support.
func (w *moving) whole(support []Outline) cell {
	b := support[0].box
	for _, o := range support[1:] {
		b.MinX, b.MinY = math.Min(b.MinX, o.box.MinX), math.Min(b.MinY, o.box.MinY)
		b.MaxX, b.MaxY = math.Max(b.MaxX, o.box.MaxX), math.Max(b.MaxY, o.box.MaxY)
	}
	half := math.Max(b.MaxX-b.MinX, b.MaxY-b.MinY)/2 + moveStep
	return newCell(Point{(b.MinX+b.MaxX)/2 - w.c.Tip.X, (b.MinY+b.MaxY)/2 - w.c.Tip.Y}, half, allOf(len(w.bars)))
}

// look tries a square's own places. It is to be divided unless all of it is bad, or all good and its nearest place tried, or it is
// too small to matter; live are the constraints that are not met everywhere in it.
func (w *moving) look(e cell) (live []int32, divide bool) {
	reach := e.half * math.Sqrt2
	on := w.stand(e.c)
	if on < moveTouch-reach {
		return nil, false
	}
	good := on >= moveTouch
	for _, i := range e.live {
		r := w.bars[i].room(e.c)
		if r < moveTouch-reach {
			return nil, false
		}
		if r < reach {
			live = append(live, i)
		}
		good = good && r >= moveTouch
	}
	if good {
		w.try(e.c)
		w.try(e.nearest())
	}
	return live, (len(live) > 0 || on < reach) && e.half >= moveStep/2
}
