package ncode

import "math"

// rim is how near to the edge of a cutter a place may lie and not count: paths of one wall
// at two levels differ by the tolerance of their posts.
const rim = 0.02

// carry is the depth that may be cut at a width, or straight down; not positive where it is not known.
type carry func(width float64, down bool) float64

// capacity is what may be cut with one tool at one feed and speed.
type capacity struct {
	at   carry
	full [2]float64 // at full width, and straight down
}

func (c *capacity) whole(down bool) float64 {
	if down {
		return c.full[1]
	}
	return c.full[0]
}

// steep is the slope past which a move counts as straight down.
const steep = 1.0

// press lowers the map along the path of a cutter and returns what it takes. A place is
// looked at once: the step there is its height less that of the cutter when it comes in,
// or at the end of the move where that stands over it.
func (r *relief) press(p *course, s *shape, c *capacity) (b bite) {
	cut := r.reach(*s)
	low := min(p.za, p.zb)
	b.down = math.Abs(p.zb-p.za) > steep*p.length
	full, detail := 0.0, false
	if c != nil {
		full = c.whole(b.down)
		detail = full > 0 && !b.down && r.tallest(p, s.r)-low > full
	}
	r.bites = r.bites[:0]
	most := 0.0
	if p.zb < p.za && !b.down {
		most = r.tallest(p, s.r) - low // more than stands there is never cut
	}
	if p.za == p.zb && s.corner == 0 && !p.arc && !detail {
		r.level(p, &cut, low, &b)
	} else {
		r.carve(p, &cut, low, detail, &b)
	}
	if b.step <= 0 {
		return b
	}
	if p.zb < p.za && !b.down {
		b.step = max(b.step, min(b.step+r.between(p, &cut), most))
	}
	switch {
	case full <= 0:
	case b.down || b.step <= full || len(r.bites) == 0:
		b.load, b.width, b.holds = b.step/full, 2*s.r, full
	default:
		b.load, b.width = r.layers(&b, 2*s.r, c.at)
		b.holds = b.step / b.load
	}
	return b
}

// between is how much deeper than at the places of the grid a cutter that slopes down may
// cut between them: a place that it passes near its rim is lowered on the way, along a
// chord of twice sqrt(2 e r) where it lies e within (for an arc less, by its own radius).
func (r *relief) between(p *course, s *shape) float64 {
	const steepest = 0.25
	chord := 2 * math.Sqrt(2*diagonal*r.cell()*s.r)
	if p.arc {
		chord *= math.Sqrt(p.r / (p.r + s.r))
	}
	return min((p.za-p.zb)/p.length, steepest) * chord
}

// level is carve for what most of a program is: a flat cutter going straight at one height.
func (r *relief) level(p *course, s *shape, z float64, b *bite) {
	in := (s.r - rim) * (s.r - rim)
	low := float32(z)
	r.higher(p, s.r, z+near, func(x, y float64, h float32) float32 {
		if d := float64(h) - z; d > b.step {
			if _, d2 := p.nearest(x, y); d2 <= in {
				b.step, b.front, b.at = d, d, [2]float64{x, y}
			}
		}
		return low
	})
}

// carve is the general case.
func (r *relief) carve(p *course, s *shape, low float64, detail bool, b *bite) {
	r2, in := s.r*s.r, (s.r-rim)*(s.r-rim)
	falls, flat := p.zb < p.za, s.corner == 0
	r.higher(p, s.r, low+near, func(x, y float64, h float32) float32 {
		_, d2 := p.nearest(x, y)
		if d2 > r2+rounding {
			return h
		}
		z, entry, front := low, low, true
		switch {
		case p.za == p.zb:
			z = low + s.rise(d2)
			entry = z
		case !flat:
			z = p.lowest(x, y, s)
			entry = z
		case p.length == 0:
			front = false
		default:
			z, entry, front = p.slope(x, y, s, falls)
		}
		d := float64(h) - entry
		if float64(h) <= z {
			return h
		}
		if d2 <= in && d > near {
			if d > b.step {
				b.step, b.at = d, [2]float64{x, y}
			}
			if front && d > b.front {
				b.front = d
			}
			if detail {
				r.bites = append(r.bites, nibble{float32(d), float32(p.across(x, y))})
			}
		}
		return float32(z)
	})
}

// slope is how low a flat cutter on a slope leaves a place, and how low it is when its side
// comes there; front is false where it stood over the place from the start.
func (p *course) slope(x, y float64, s *shape, falls bool) (z, entry float64, front bool) {
	a2, b2 := p.ends(x, y)
	r2 := s.r * s.r
	if falls && b2 <= r2 {
		return p.zb, p.zb, a2 > r2
	}
	if !falls && a2 <= r2 {
		return p.za, p.za, false
	}
	st := p.stay(x, y, s.r)
	if !st.ok {
		return math.Inf(1), math.Inf(1), false
	}
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

// layers is the load of what was nibbled: layer by layer, each as wide as what reaches it.
func (r *relief) layers(b *bite, widest float64, c carry) (load, width float64) {
	const n = 8
	var lo, hi [n]float64
	for k := range n {
		lo[k], hi[k] = math.Inf(1), math.Inf(-1)
	}
	for _, v := range r.bites {
		k := min(int(float64(v.depth)/b.step*n), n-1)
		lo[k], hi[k] = min(lo[k], float64(v.across)), max(hi[k], float64(v.across))
	}
	a, z := math.Inf(1), math.Inf(-1)
	for k := n - 1; k >= 0; k-- {
		a, z = min(a, lo[k]), max(z, hi[k])
		width = widest
		if a <= z {
			width = min(z-a+r.cell(), widest)
		}
		if h := c(width, false); h > 0 {
			load += b.step / n / h
		}
	}
	return load, width
}

// touch is how deep a cylinder of that shape, that begins above the tip by from, goes into
// the stock, places within inner of the path left out; raw tells whether it comes lower than
// clear over stock that is uncut.
func (r *relief) touch(p course, s *shape, inner, from, clear float64) (deep float64, at [2]float64, raw bool) {
	p.za, p.zb = p.za+from, p.zb+from
	floor := min(p.za, p.zb) + near
	if clear > floor {
		floor = min(floor, -near)
	}
	r.higher(&p, s.r, floor, func(x, y float64, h float32) float32 {
		if inner > 0 {
			if _, d2 := p.nearest(x, y); d2 <= inner*inner {
				return h
			}
		}
		z := p.lowest(x, y, s)
		if d := float64(h) - z; d > near && d > deep {
			deep, at = d, [2]float64{x, y}
		}
		if h > -near && z < clear-rounding {
			raw = true
		}
		return h
	})
	return deep, at, raw
}
