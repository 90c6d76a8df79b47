package ncode

import "math"

// rim is how near to the edge of a cutter a place may lie and not count: paths of one wall
// at two levels differ by the tolerance of their posts.
const rim = 0.02

// carry is the depth that may be cut at a width, or straight down; negative where it is not known.
type carry func(width float64, down bool) float64

// capacity is what may be cut with one tool at one feed and speed.
type capacity struct {
	at   carry
	full [2]float64 // at full width, and straight down

	tool        int // all this is of
	feed, speed float64
}

func (c *capacity) whole(down bool) float64 {
	if down {
		return c.full[1]
	}
	return c.full[0]
}

// steep is the slope past which a move counts as straight down.
const steep = 1.0

// press lowers the map along the course of a cutter and returns what it takes. A place is
// looked at once: the step there is its height less that of the cutter when it comes in,
// or at the end of the move where that stands over it.
func (r *relief) press(p *course, s *shape, c *capacity) (b bite) {
	cut := r.reach(*s)
	w := &r.now
	*w = sweep{ground: r, s: cut, low: min(p.za, p.zb), r2: cut.r * cut.r, in: (cut.r - rim) * (cut.r - rim), places: places{p: p, r: cut.r}}
	b.down = math.Abs(p.zb-p.za) > steep*p.length
	full, most := -1.0, 0.0
	if c != nil {
		full = c.whole(b.down)
	}
	falls := p.zb < p.za && !b.down
	if falls || full >= 0 {
		if most = r.tallest(p, cut.r) - w.low; most <= near {
			r.last, r.shape = [3]float64{p.bx, p.by, p.zb}, cut
			return b
		}
	}
	w.detail, w.least = math.Inf(1), full/10
	if full >= 0 && !b.down && most > full {
		w.detail = w.least
	}
	r.bites = r.bites[:0]
	w.make()
	r.last, r.shape = [3]float64{p.bx, p.by, p.zb}, cut
	b.step, b.front = w.step, w.front
	if b.step <= 0 {
		return b
	}
	if falls {
		b.step = max(b.step, min(b.step+r.gap(p, &cut), most))
	}
	switch {
	case full < 0:
	case b.down || b.step <= full || len(r.bites) == 0:
		b.load, b.width, b.holds = over(b.step, full), 2*s.r, full
	default:
		b.load, b.width = r.layers(&b, w, 2*s.r, c.at)
		if b.load > 0 {
			b.holds = b.step / b.load
		}
	}
	return b
}

// sweep is one look at the map.
type sweep struct {
	places
	ground      *relief
	s           shape
	kind        way
	low         float64
	r2, in      float64 // radius squared, and that of what counts
	least       float64 // what is cut no deeper counts as cut in full width
	detail      float64 // every place that is cut deeper is wanted
	shallow     bool    // there were others
	most        float64 // of the tile that is looked at
	scale       float64 // of the table of rises
	ball        bool    // going straight
	slope, sine float64

	inner, clear float64 // of a touch
	raw          bool
	dry          bool // a chain is looked at, and not cut

	step, front float64
	spot        [2]float64
}

// way is how the places of a sweep are looked at.
type way uint8

const (
	slopes  way = iota // a flat cutter whose height changes
	levels             // a flat cutter going straight at one height: most of what is cut
	rings              // the same on an arc
	rounds             // a cutter with a round corner
	gentle             // a flat cutter on a slope of microns
	touches            // nothing is cut
	chains             // levels one after another, of which it is known that they are not deep
)

// make goes over the places and cuts them.
func (w *sweep) make() {
	p, s, r := w.p, &w.s, w.ground
	goes := r.shape == *s && r.last == [3]float64{p.ax, p.ay, p.za} // on from where it stands
	switch {
	case s.corner > 0:
		w.kind, w.scale = rounds, r.rises(s)
		if w.ball = s.corner == s.r && !p.arc && p.length > 0; w.ball {
			w.slope = (p.zb - p.za) / p.length
			w.sine = w.slope / math.Sqrt(1+w.slope*w.slope)
		}
		if goes && !p.arc && p.length > 0 {
			// Further behind, the tool left nothing that it takes now.
			if back := max(p.za-p.zb, 0)/p.length*s.r + p.length + r.cell(); back < s.r {
				w.behind = back
			}
		}
	case p.za == p.zb && p.arc:
		w.kind, w.but = rings, goes
	case p.za == p.zb:
		w.kind, w.but = levels, goes
	default:
		w.but = goes && p.za < p.zb
		// So gentle that it does not matter where under the cutter a place is, nor where in its tile.
		if d := math.Abs(p.zb-p.za) * (s.r + tileSize*(r.dx+r.dy)); !p.arc && d <= fine*p.length {
			w.kind, w.slope = gentle, (p.zb-p.za)/p.length
			w.sine = math.Abs(w.slope) * s.r
		}
	}
	// Beyond both ends a straight move reaches by the sagitta of its length, at its middle.
	w.short = goes && !p.arc && p.length > 0 && p.length*p.length < 8*s.r*rim/2 &&
		(w.but || s.corner > 0 && p.za-p.zb < 0.2*p.length)
	r.higher(w, w.low+near)
}

// look looks at a run of places in a row, the first of them i, and returns how many were of use.
func (w *sweep) look(y float64, i int, hs []float32) (hits int) {
	switch w.kind {
	case levels:
		return w.levels(y, i, hs)
	case rings:
		return w.rings(y, i, hs)
	case rounds:
		return w.rounds(y, i, hs)
	case gentle:
		return w.gentle(y, i, hs)
	case touches:
		return w.touches(y, i, hs)
	case chains:
		return w.chains(hs)
	}
	return w.slopes(y, i, hs)
}

// count notes what is cut at one place: d deep, d2 from the axis squared when nearest.
func (w *sweep) count(x, y, d, d2 float64, front bool) {
	if d2 > w.in || d <= near {
		return
	}
	if d > w.step {
		w.step, w.spot = d, [2]float64{x, y}
	}
	if front && d > w.front {
		w.front = d
	}
	if d <= w.detail {
		w.shallow = true
	} else {
		w.ground.bites = append(w.ground.bites, nibble{float32(d), float32(w.p.across(x, y))})
	}
}

// levels is a flat cutter going straight at one height: most of what is cut.
func (w *sweep) levels(y float64, i int, hs []float32) (hits int) {
	low := float32(w.low)
	lim := low + near
	for k, h := range hs {
		if h <= lim {
			continue
		}
		hs[k] = low
		hits++
		if d := float64(h) - w.low; d > w.step || d > w.detail {
			x := w.ground.x0 + float64(i+k)*w.ground.dx
			_, d2 := w.p.nearest(x, y)
			w.count(x, y, d, d2, true)
		} else {
			w.shallow = true
		}
	}
	return hits
}

// rings is a flat cutter on an arc at one height.
func (w *sweep) rings(y float64, i int, hs []float32) (hits int) {
	low := float32(w.low)
	lim := low + near
	for k, h := range hs {
		if h <= lim {
			continue
		}
		x := w.ground.x0 + float64(i+k)*w.ground.dx
		if !w.p.within(x, y, w.s.r) {
			continue
		}
		hs[k] = low
		hits++
		if d := float64(h) - w.low; d > w.step || d > w.detail {
			_, d2 := w.p.nearest(x, y)
			w.count(x, y, d, d2, true)
		} else {
			w.shallow = true
		}
	}
	return hits
}

// slopes is a flat cutter whose height changes.
func (w *sweep) slopes(y float64, i int, hs []float32) (hits int) {
	p := w.p
	lim, falls := float32(w.low)+near, p.zb < p.za
	for k, h := range hs {
		if h <= lim {
			continue
		}
		x := w.ground.x0 + float64(i+k)*w.ground.dx
		a2, b2 := p.ends(x, y)
		z, entry, front, d2 := p.zb, p.zb, a2 > w.r2, b2
		switch {
		case p.length == 0:
			z, entry, front = w.low, w.low, false
		case falls && b2 <= w.r2:
		case !falls && a2 <= w.r2:
			z, entry, d2 = p.za, p.za, a2
		default:
			st := p.stay(x, y, w.s.r)
			if !st.ok {
				continue
			}
			z, entry, front = p.passes(&st, falls)
			if d := float64(h) - entry; d > w.step || d > w.detail {
				_, d2 = p.nearest(x, y)
			}
		}
		if float64(h) <= z {
			continue
		}
		hs[k] = float32(z)
		hits++
		w.count(x, y, float64(h)-entry, d2, front)
	}
	return hits
}

// gentle is slopes where the height under the whole cutter is nearly one: the lower end of
// what it may be there for the step, the upper for what is left.
func (w *sweep) gentle(y float64, i int, hs []float32) (hits int) {
	p := w.p
	x := w.ground.x0 + float64(i)*w.ground.dx
	s, span := (x-p.ax)*p.ux+(y-p.ay)*p.uy, float64(len(hs)-1)*w.ground.dx*p.ux
	low, high := w.heights(min(s, s+span), max(s, s+span))
	lim, left := float32(low)+near, float32(high)
	if deep := w.most - low; deep <= w.step && deep <= w.detail { // no deeper than what was counted
		for k, h := range hs {
			if h > left {
				hs[k] = left
				hits++
			}
		}
		w.shallow = w.shallow || hits > 0
		return hits
	}
	most := lim
	for _, h := range hs {
		if h > most {
			most = h
		}
	}
	if most == lim {
		return 0
	}
	if d := float64(most) - low; d <= w.step && d <= w.detail {
		w.shallow = true
	} else {
		for k, h := range hs {
			if d := float64(h) - low; d > w.step || d > w.detail {
				x := w.ground.x0 + float64(i+k)*w.ground.dx
				_, d2 := p.nearest(x, y)
				w.count(x, y, d, d2, true)
			} else if h > lim {
				w.shallow = true
			}
		}
	}
	for k, h := range hs {
		if h > left {
			hs[k] = left
			hits++
		}
	}
	return hits
}

// passes is how low a flat cutter on a slope leaves a place that it comes to and goes from,
// and how low it is when its side comes there; front is false where it stood over it before.
func (p *course) passes(st *stay, falls bool) (z, entry float64, front bool) {
	if !falls {
		z = p.z(st.in)
		return z, z, st.in > 0
	}
	entry, z = p.z(st.in), p.z(st.out)
	if st.in2 <= 1 {
		entry, z = p.z(st.in2), p.zb // it comes round once more
	}
	return z, entry, st.in > 0
}

// rounds is a cutter with a round corner.
func (w *sweep) rounds(y float64, i int, hs []float32) (hits int) {
	p := w.p
	lim := float32(w.low) + near
	dy, ey := y-p.ay, y-p.by
	dy2, ey2 := dy*dy, ey*ey
	sy, qy := dy*p.uy, dy*p.ux
	rise, scale, r2 := &w.ground.rise, w.scale, w.r2
	x := w.ground.x0 + float64(i)*w.ground.dx
	for k, h := range hs {
		if k > 0 {
			x += w.ground.dx
		}
		if h <= lim {
			continue
		}
		var d2 float64
		dx := x - p.ax
		if p.arc {
			_, d2 = p.nearest(x, y)
		} else if s := dx*p.ux + sy; s <= 0 {
			d2 = dx*dx + dy2
		} else if s >= p.length {
			ex := x - p.bx
			d2 = ex*ex + ey2
		} else {
			q := qy - dx*p.uy
			d2 = q * q
		}
		if d2 > r2 || h <= lim+rise[int(d2*scale)&(2*riseSteps-1)]+fine {
			continue
		}
		var z float64
		if w.ball {
			z = w.under(dx*p.ux+sy, qy-dx*p.uy)
		} else {
			z = p.lowest(x, y, &w.s)
		}
		d := float64(h) - z
		if d <= fine {
			continue
		}
		hs[k] = float32(z)
		hits++
		if d > w.step || d > w.detail {
			w.count(x, y, d, d2, true)
		} else {
			w.shallow = true
		}
	}
	return hits
}

// fine is how little a round cutter may take off a place and have it left: it stays too high.
const fine = 0.005

// under is how low a ball that goes straight leaves a place, s along from its start and q across.
func (w *sweep) under(s, q float64) float64 {
	p := w.p
	r2 := w.r2 - q*q
	if r2 < 0 {
		return math.Inf(1)
	}
	// On a slope it touches beside its tip.
	at := s
	if w.sine != 0 {
		at -= math.Sqrt(r2) * w.sine
	}
	if at < 0 {
		at = 0
	} else if at > p.length {
		at = p.length
	}
	if s -= at; s*s > r2 {
		return math.Inf(1)
	}
	return p.za + at*w.slope + w.s.r - math.Sqrt(r2-s*s)
}

// riseSteps is how finely the lower bounds of a round corner's rise are tabled.
const riseSteps = 64

// rises tables a lower bound of a shape's rise by distance squared, and returns its scale.
func (r *relief) rises(s *shape) (scale float64) {
	scale = riseSteps / (s.r * s.r)
	if r.riseOf != *s {
		r.riseOf = *s
		for k := range riseSteps + 1 {
			r.rise[k] = float32(s.rise(float64(k) / scale))
		}
	}
	return scale
}

// gap is how much deeper than at the places of the grid a cutter that slopes down may
// cut between them: a place that it passes near its rim is lowered on the way, along a
// chord of twice sqrt(2 e r) where it lies e within (for an arc less, by its own radius).
func (r *relief) gap(p *course, s *shape) float64 {
	const steepest = 0.25
	chord := 2 * math.Sqrt(2*diagonal*r.cell()*s.r)
	if p.arc {
		chord *= math.Sqrt(p.r / (p.r + s.r))
	}
	return min((p.za-p.zb)/p.length, steepest) * chord
}

// over is a depth by what is carried.
func over(depth, holds float64) float64 {
	const none = 1e6 // where nothing is
	if depth <= 0 {
		return 0
	}
	return min(depth/max(holds, depth/none), none)
}

// layers is the load of what was nibbled: layer by layer, each as wide as what reaches it. Where
// there were places that were not noted the lowest layer is as wide as the cutter.
func (r *relief) layers(b *bite, w *sweep, widest float64, c carry) (load, width float64) {
	const n = 8
	var lo, hi [n]float64
	for k := range n {
		lo[k], hi[k] = math.Inf(1), math.Inf(-1)
	}
	least := w.least
	if !w.shallow {
		least = 0
	}
	high := b.step - least
	for _, v := range r.bites {
		k := min(int((float64(v.depth)-least)/high*n), n-1)
		lo[k], hi[k] = min(lo[k], float64(v.across)), max(hi[k], float64(v.across))
	}
	if least > 0 {
		load = over(least, c(widest, false))
	}
	a, z := math.Inf(1), math.Inf(-1)
	for k := n - 1; k >= 0; k-- {
		a, z = min(a, lo[k]), max(z, hi[k])
		width = widest
		if a <= z {
			width = min(z-a+r.cell(), widest)
		}
		if h := c(width, false); h >= 0 {
			load += over(high/n, h)
		}
	}
	return load, width
}

// touch is how deep a cylinder of that shape, that begins above the tip by from, goes into
// the stock, places within inner of the course left out; raw tells whether it comes lower than
// clear over stock that is uncut.
func (r *relief) touch(p *course, s *shape, inner, from, clear float64) (deep float64, at [2]float64, raw bool) {
	r.over = *p
	p = &r.over
	p.za, p.zb = p.za+from, p.zb+from
	w := &r.now
	*w = sweep{ground: r, s: *s, kind: touches, low: min(p.za, p.zb) + near, inner: inner, clear: clear, places: places{p: p, r: s.r}}
	if clear > w.low {
		w.low = min(w.low, -near)
	}
	r.higher(w, w.low)
	return w.step, w.spot, w.raw
}

func (w *sweep) touches(y float64, i int, hs []float32) (hits int) {
	p := w.p
	lim := float32(w.low)
	for k, h := range hs {
		if h <= lim {
			continue
		}
		x := w.ground.x0 + float64(i+k)*w.ground.dx
		if w.inner > 0 {
			if _, d2 := p.nearest(x, y); d2 <= w.inner*w.inner {
				continue
			}
		}
		z := p.lowest(x, y, &w.s)
		if d := float64(h) - z; d > near && d > w.step {
			w.step, w.spot = d, [2]float64{x, y}
		}
		if h > -near && z < w.clear-rounding {
			w.raw = true
		}
	}
	return 0
}
