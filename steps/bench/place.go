package bench

import "math"

// stand is where the spindle stands when the readout shows m; shown is the other
// way. The axes are out of square by an X error per Y.
func (w *World) stand(m xy) xy {
	return xy{m.x + float64(w.square*(m.y-w.middle.y)), m.y}.add(w.leads(m)).add(w.drifts(w.spent()))
}
func (w *World) shown(p xy) xy {
	p = p.sub(w.leads(p)).sub(w.drifts(w.spent())) // waves are long: where the readout shows p is near enough
	return xy{p.x - float64(w.square*(p.y-w.middle.y)), p.y}
}

// onFixture is where a place of the card stands. The fixture was cut on this
// machine: it has its squareness in it.
func (w *World) onFixture(c xy) xy {
	c.x += float64(w.square * c.y)
	c = w.made("fixture made at", 20, xy{}, c) // the person says it stands near to where it was made
	return w.fixture.of(c.times(w.growth))
}

// walls are the part's contact lines in its own coordinates: where it touches in x and in y.
func (w *World) walls() (x, y float64, gap xy) {
	x, y = w.size.x/2, w.size.y/2
	if w.setup.Floating {
		return x, y, xy{}
	}
	c := w.card.Pocket.Clearance
	for _, a := range w.setup.Against {
		switch a {
		case "left":
			x, gap.x = 0, -c
		case "right":
			x, gap.x = w.size.x, c
		case "toward":
			y, gap.y = 0, -c
		case "away":
			y, gap.y = w.size.y, c
		}
	}
	return x, y, gap
}

// onPart is where a place of the part stands, its own coordinates as it was
// cut. It touches each datum wall in that wall's middle (pockets are relieved in their corners).
func (w *World) onPart(p xy) xy {
	cx, cy, gap := w.walls()
	zero := xy{w.card.AsMade.PartZero.X, w.card.AsMade.PartZero.Y}.add(gap).add(w.off)
	fx := w.onFixture(zero.add(xy{cx, w.size.y / 2})).turned(-w.fixture.turn)
	fy := w.onFixture(zero.add(xy{w.size.x / 2, cy})).turned(-w.fixture.turn)
	if w.part.turned {
		p = w.size.sub(p)
	}
	if w.bed != nil {
		mid := w.bed.part(w.size.times(0.5))
		return w.bed.part(p).sub(mid).turned(w.part.turn).add(mid).add(w.part.shift.turned(w.fixture.turn))
	}
	// in the fixture's direction: from the contact in x, and from the contact in y
	q := xy{fx.x + p.x - cx, fy.y + p.y - cy}
	mid := xy{fx.x + w.size.x/2 - cx, fy.y + w.size.y/2 - cy}
	q = q.sub(mid).turned(w.part.turn + w.askew).add(mid).add(w.part.shift)
	return q.turned(w.fixture.turn)
}

// feature is where side 1 cut what should be at p, in the part's coordinates:
// against the datum edges by pickup and cutter, grown from the walls, and
// out of square about the middle, turned over.
func (w *World) feature(p xy) xy {
	if w.bed != nil {
		return w.bed.cut(p)
	}
	cx, cy, _ := w.walls()
	q := w.made("side one cut at", 80, xy{cx, cy}, p).add(w.part.feature).add(w.aside())
	q.x += float64(w.part.strain.x * (p.x - cx))
	q.y += float64(w.part.strain.y * (p.y - cy))
	q.x -= float64(w.square * (p.y - w.size.y/2))
	return q
}

// wrongPlace is where a part the wrong way over has the feature.
func (w *World) wrongPlace(p xy) xy {
	if !w.part.wrong {
		return p
	}
	return w.size.sub(p) // the two flips differ by half a turn
}

// partTop is the height of the part's top at a place of it.
func (w *World) partTop(p xy) float64 {
	c := w.card.AsMade.PartZero
	thick := w.plan.Job.Part.Size[2] + w.plan.Job.Part.Skin[1]
	if t, ok := w.plan.Job.Part.Given["thickness"]; ok {
		thick = t.Value
	}
	if w.part.left > 0 {
		thick = w.part.left
	}
	onCard := p.add(xy{c.X, c.Y})
	mid := p.sub(w.size.times(0.5))
	z := w.floor.at(onCard) + thick + w.part.rise + w.part.tilt.at(mid) + w.part.lean.at(mid)
	z += w.part.bow * (1 - min(1, 2*mid.long()/w.size.long()))
	return z + w.chipLift(p)
}

// chipLift is what a chip under a corner does: the part rests on it, on the
// corner across, and on one of the two between: a pure tilt.
func (w *World) chipLift(p xy) float64 {
	if w.part.chip == 0 {
		return 0
	}
	v := p.y / w.size.y
	if w.part.corner >= 2 {
		v = 1 - v
	}
	return w.part.chip * (1 - v)
}

// edgeEnd is a station on the fixture's edge, card coordinates.
func (w *World) edgeEnd(s float64) xy {
	e := w.card.AsMade.Edge
	dir := xy{1, 0}
	if e.Side == "left" || e.Side == "right" {
		dir = xy{0, 1}
	}
	return xy{e.From.X, e.From.Y}.add(dir.turned(math.Atan(w.edgeZero)).times(s))
}
