package ncode

import "math"

// What is known of the most of a tile.
const (
	bound uint8 = iota // nothing is higher
	found              // something is that high
	flat               // everything is
)

// uncapped is the cap of a tile whose places are as they stand in the map.
const uncapped = math.MaxFloat32

// settle brings the places of a tile down to what cut it as a whole.
func (r *relief) settle(tx, ty int) {
	k := ty*r.tx + tx
	top := r.caps[k]
	if top == uncapped {
		return
	}
	r.caps[k] = uncapped
	for j := ty << tileShift; j < min(r.ny, (ty+1)<<tileShift); j++ {
		hs := r.h[j*r.nx+tx<<tileShift : j*r.nx+min(r.nx, (tx+1)<<tileShift)]
		for i, h := range hs {
			if h > top {
				hs[i] = top
			}
		}
	}
}

// coarse tells whether a sweep may cut whole tiles: a straight one of a flat cutter that is
// larger than they are, over more than one of them, at a height that is nearly one all over a tile.
func (w *sweep) coarse() bool {
	r := w.ground
	return r.whole && (w.kind == levels || w.kind == gentle) && w.p.length > tileSize*r.dx && w.s.r-rim > tileSize/2*(r.dx+r.dy)*diagonal
}

// tiles cuts those of a row of tiles that lie wholly under the cutter, and marks them and
// those that it passes above as done.
func (r *relief) tiles(w *sweep, ty, t0, t1 int) {
	p := w.p
	y0 := r.y0 + float64(ty<<tileShift)*r.dy
	y1 := r.y0 + float64(min(r.ny, (ty+1)<<tileShift)-1)*r.dy
	// What is round holds a rectangle that has its corners in it.
	a, b := p.row(y0, w.s.r-rim)
	c, d := p.row(y1, w.s.r-rim)
	a, b = max(a, c), min(b, d)
	for tx := t0; tx <= t1; tx++ {
		k := ty*r.tx + tx
		x0 := r.x0 + float64(tx<<tileShift)*r.dx
		x1 := r.x0 + float64(min(r.nx, (tx+1)<<tileShift)-1)*r.dx
		// The heights at which it is there.
		low, high := w.low, w.low
		if w.kind == gentle {
			s := (x0-p.ax)*p.ux + (y0-p.ay)*p.uy
			u, v := (x1-x0)*p.ux, (y1-y0)*p.uy
			low, high = w.heights(s+min(u, 0)+min(v, 0), s+max(u, 0)+max(v, 0))
		}
		if float64(r.most[k])-low <= near {
			r.done[k] = r.turn
			continue
		}
		if x0 < a || x1 > b {
			continue
		}
		if deep := float64(r.most[k]) - low; r.state[k] != flat && (deep > w.detail || deep > w.step && r.state[k] == bound) {
			r.count(tx, ty, float32(low))
		}
		deep := float64(r.most[k]) - low
		if deep > w.detail && r.state[k] != flat {
			continue
		}
		r.done[k] = r.turn
		if deep <= near {
			continue
		}
		if w.step, w.front = max(w.step, deep), max(w.front, deep); deep > w.detail {
			for _, q := range [4]float64{p.across(x0, y0), p.across(x1, y0), p.across(x0, y1), p.across(x1, y1)} {
				r.bites = append(r.bites, nibble{float32(deep), float32(q)})
			}
		} else {
			w.shallow = true
		}
		if left := float32(high); left < r.most[k] {
			r.sink(tx, ty, left)
			r.caps[k] = min(r.caps[k], left)
		}
	}
}

// heights are the lowest and the highest of a gentle sweep's where places lie from a to b along it.
func (w *sweep) heights(a, b float64) (low, high float64) {
	p := w.p
	if a < 0 {
		a = 0
	} else if a > p.length {
		a = p.length
	}
	if b < 0 {
		b = 0
	} else if b > p.length {
		b = p.length
	}
	low, high = p.za+a*w.slope, p.za+b*w.slope
	if low > high {
		low, high = high, low
	}
	return low - w.sine, high + w.sine
}

// narrow is the radius within which a sweep can meet what is no higher than most: beyond it a
// round corner is over that. It is no less than half the cutter's, for the sake of short moves.
func (w *sweep) narrow(most float64) float64 {
	s := &w.s
	up := most - w.low
	if w.kind != rounds || up >= s.corner {
		return w.r
	}
	e := s.corner - up
	return max(s.r-s.corner+math.Sqrt(s.corner*s.corner-e*e), s.r/2)
}
