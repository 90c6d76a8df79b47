package ncode

// chained tells whether straight courses at one height, each from the end of the last, may be
// looked at as one: the cutter is flat, and not so large that whole tiles lie under it.
func (r *relief) chained(ps []course, cut *shape) bool {
	return len(ps) > 1 && cut.corner == 0 && cut.r <= tileSize*(r.dx+r.dy)
}

// link makes ready to look at a chain.
func (r *relief) link(ps []course, cut *shape) *sweep {
	last := &ps[len(ps)-1]
	w := &r.now
	*w = sweep{ground: r, s: *cut, kind: chains, low: last.za, places: places{p: last, r: cut.r, chain: ps}}
	return w
}

// chain presses such courses, of which it is known that none is deeper than what was cut before.
func (r *relief) chain(ps []course, s *shape) {
	cut := r.reach(*s)
	if !r.chained(ps, &cut) {
		for k := range ps {
			r.press(&ps[k], s, nil)
		}
		return
	}
	w := r.link(ps, &cut)
	r.higher(w, w.low+near)
	r.last, r.shape = [3]float64{w.p.bx, w.p.by, w.p.zb}, cut
}

// deepest is how deep a chain goes at the most; nothing is cut.
func (r *relief) deepest(ps []course, cut *shape) float64 {
	w := r.link(ps, cut)
	w.dry = true
	r.higher(w, w.low+near)
	return w.step
}

// chains lowers what a chain passes, or looks how high it is.
func (w *sweep) chains(hs []float32) (hits int) {
	low := float32(w.low)
	if w.dry {
		w.step = max(w.step, float64(largest(hs))-w.low)
		return 0
	}
	lim := low + near
	for k, h := range hs {
		if h > lim {
			hs[k] = low
			hits++
		}
	}
	return hits
}

// area is covers of all that is looked at.
func (r *relief) area(w *places) (j0, j1, t0, t1 int, ok bool) {
	if len(w.chain) == 0 {
		return r.covers(w.p, w.r)
	}
	for k := range w.chain {
		a, b, c, d, any := r.covers(&w.chain[k], w.r)
		switch {
		case !any:
		case !ok:
			j0, j1, t0, t1, ok = a, b, c, d, true
		default:
			j0, j1, t0, t1 = min(j0, a), max(j1, b), min(t0, c), max(t1, d)
		}
	}
	return j0, j1, t0, t1, ok
}

// linked finds the runs of a chain in one row, and returns the first and the last column with
// them. Neighbours overlap about the place that they share, or one of them has nothing there.
func (r *relief) linked(w *places, j int, y float64, i0, i1 int) (int, int) {
	lo, hi := 1.0, 0.0
	for k := range w.chain {
		p := &w.chain[k]
		if y > p.ay+w.r && y > p.by+w.r || y < p.ay-w.r && y < p.by-w.r {
			continue
		}
		a, b := p.row(y, w.r)
		switch {
		case a > b:
		case lo > hi:
			lo, hi = a, b
		case a > hi || b < lo:
			i0, i1 = r.put(j, lo, hi, i0, i1)
			lo, hi = a, b
		default:
			lo, hi = wider(lo, hi, a, b)
		}
	}
	if lo <= hi {
		i0, i1 = r.put(j, lo, hi, i0, i1)
	}
	return i0, i1
}

// within is tallest, with the tiles counted anew that are not known to be as low as z.
func (r *relief) within(p *course, radius, z float64) float64 {
	most := r.tallest(p, radius)
	if most <= z {
		return most
	}
	j0, j1, t0, t1, ok := r.covers(p, radius)
	if !ok {
		return most
	}
	for ty := j0 >> tileShift; ty <= j1>>tileShift; ty++ {
		for tx := t0; tx <= t1; tx++ {
			if k := ty*r.tx + tx; float64(r.most[k]) > z && r.state[k] == bound {
				r.count(tx, ty, float32(z))
			}
		}
	}
	return r.tallest(p, radius)
}
