package ncode

import "math"

// course is a move in plan with its heights from the top of the stock: a line, or an arc in G17.
type course struct {
	ax, ay, bx, by float64
	za, zb         float64
	length         float64 // in plan; 0 for straight down
	ux, uy         float64 // direction of a line
	rise           float64 // 1/(by-ay)
	arc            bool
	cx, cy, r      float64
	start, sweep   float64 // sweep as its size; ccw says which way
	ccw            bool
	lx, ly, hx, hy float64 // box of an arc
}

// straight makes the course of a straight move.
func straight(a, b [3]float64, top float64) course {
	p := course{ax: a[0], ay: a[1], bx: b[0], by: b[1], za: a[2] - top, zb: b[2] - top}
	if dx, dy := p.bx-p.ax, p.by-p.ay; dx != 0 || dy != 0 {
		p.length = math.Sqrt(dx*dx + dy*dy)
		p.ux, p.uy = dx/p.length, dy/p.length
		if p.by != p.ay {
			p.rise = 1 / (p.by - p.ay)
		}
	}
	return p
}

// arcCourse makes the course of an arc in G17.
func arcCourse(m *Move, top float64) course {
	lo, hi := m.Bounds()
	return course{arc: true, ax: m.From[0], ay: m.From[1], bx: m.To[0], by: m.To[1], za: m.From[2] - top, zb: m.To[2] - top,
		cx: m.Centre[0], cy: m.Centre[1], r: m.Radius, length: math.Abs(m.Sweep) * m.Radius, sweep: math.Abs(m.Sweep), ccw: m.Sweep > 0,
		start: angle(m.From[1]-m.Centre[1], m.From[0]-m.Centre[0]), lx: lo[0], ly: lo[1], hx: hi[0], hy: hi[1]}
}

func (p *course) box() (x0, y0, x1, y1 float64) {
	if p.arc {
		return p.lx, p.ly, p.hx, p.hy
	}
	return min(p.ax, p.bx), min(p.ay, p.by), max(p.ax, p.bx), max(p.ay, p.by)
}

// z is the height at t from 0 to 1.
func (p *course) z(t float64) float64 { return p.za + t*(p.zb-p.za) }

// row returns where what lies within r of the path meets the line of that y, x1 > x2 where
// it does not. For an arc it is the span that holds it.
func (p *course) row(y, r float64) (x1, x2 float64) {
	if p.arc {
		d := y - p.cy
		out := p.r + r
		if d*d > out*out {
			return 1, 0
		}
		w := math.Sqrt(out*out - d*d)
		x1, x2 = p.cx-w, p.cx+w
		if x1 < p.lx-r {
			x1 = p.lx - r
		}
		if x2 > p.hx+r {
			x2 = p.hx + r
		}
		return x1, x2
	}
	c, d := about(p.ax, p.ay, y, r)
	return p.along(y, r, c, d)
}

// along is row for a straight move, from where the row meets what lies about its start.
func (p *course) along(y, r, c, d float64) (x1, x2 float64) {
	x1, x2 = math.MaxFloat64, -math.MaxFloat64
	if c <= d {
		x1, x2 = c, d
	}
	if p.length == 0 {
		return x1, x2
	}
	if c, d := about(p.bx, p.by, y, r); c <= d {
		x1, x2 = wider(x1, x2, c, d)
	}
	if p.rise != 0 {
		// The two sides; each meets the line at one place at most.
		ox, oy := -p.uy*r, p.ux*r
		if t := (y - p.ay - oy) * p.rise; t >= 0 && t <= 1 {
			x := p.ax + ox + t*(p.bx-p.ax)
			x1, x2 = wider(x1, x2, x, x)
		}
		if t := (y - p.ay + oy) * p.rise; t >= 0 && t <= 1 {
			x := p.ax - ox + t*(p.bx-p.ax)
			x1, x2 = wider(x1, x2, x, x)
		}
	}
	return x1, x2
}

// wider is the span that holds two; the builtin min and max take care of what no number is, and of time.
func wider(a, b, c, d float64) (float64, float64) {
	if c < a {
		a = c
	}
	if d > b {
		b = d
	}
	return a, b
}

// ahead cuts a row down to what lies no further behind the start than that.
func (p *course) ahead(y, behind, a, b float64) (float64, float64) {
	rest := -behind - (y-p.ay)*p.uy // ux * (x - ax) is at least this
	switch {
	case p.ux > 1e-9:
		return max(a, p.ax+rest/p.ux), b
	case p.ux < -1e-9:
		return a, min(b, p.ax+rest/p.ux)
	case rest > 0:
		return 1, 0
	}
	return a, b
}

// about returns where a row meets what lies within r of a place; c > d where it does not.
func about(px, py, y, r float64) (c, d float64) {
	e := y - py
	w := r*r - e*e
	if w < 0 {
		return 1, 0
	}
	w = math.Sqrt(w)
	return px - w, px + w
}

// stay is when a place lies within r of the tool's axis: from in to out, and where an arc
// comes round to it once more, again from in2 on.
type stay struct {
	in, out float64
	in2     float64 // above 1 where it does not come again
	ok      bool
}

// stay solves the distance to the path: a quadratic for a line, one arc cosine for an arc.
func (p *course) stay(x, y, r float64) stay {
	if !p.arc {
		dx, dy := x-p.ax, y-p.ay
		if p.length == 0 {
			return stay{0, 1, 2, dx*dx+dy*dy <= r*r+rounding}
		}
		s, q := dx*p.ux+dy*p.uy, dy*p.ux-dx*p.uy
		w := r*r - q*q
		if w < -rounding {
			return stay{}
		}
		w = math.Sqrt(max(w, 0))
		in, out := (s-w)/p.length, (s+w)/p.length
		if in > 1+rounding || out < -rounding {
			return stay{}
		}
		return stay{max(in, 0), min(out, 1), 2, true}
	}
	dx, dy := x-p.cx, y-p.cy
	rho := math.Sqrt(dx*dx + dy*dy)
	if rho == 0 || p.r == 0 {
		return stay{0, 1, 2, math.Abs(rho-p.r) <= r}
	}
	c := (p.r*p.r + rho*rho - r*r) / (2 * p.r * rho)
	switch {
	case c > 1:
		return stay{}
	case c <= -1:
		return stay{0, 1, 2, true}
	}
	half, at := angle(math.Sqrt(1-c*c), c), p.turned(dx, dy)
	st := stay{in2: 2, ok: true}
	switch {
	case at <= half: // it is there at the start
		st.out = at + half
		if at-half+2*math.Pi <= p.sweep {
			st.in2 = (at - half + 2*math.Pi) / p.sweep
		}
	case at+half >= 2*math.Pi:
		st.out = at + half - 2*math.Pi
		if at-half <= p.sweep {
			st.in2 = (at - half) / p.sweep
		}
	default:
		if at-half > p.sweep {
			return stay{}
		}
		st.in, st.out = (at-half)/p.sweep, at+half
	}
	st.out = min(st.out/p.sweep, 1)
	return st
}

// within reports whether a place lies within r of an arc.
func (p *course) within(x, y, r float64) bool {
	dx, dy := x-p.cx, y-p.cy
	rho2 := dx*dx + dy*dy
	if out := p.r + r; rho2 > out*out {
		return false
	}
	if in := p.r - r; in > 0 && rho2 < in*in {
		return false
	}
	if p.faces(dx, dy) {
		return true
	}
	a2, b2 := p.ends(x, y)
	return a2 <= r*r || b2 <= r*r
}

// faces reports whether a direction from the centre lies in the sector of an arc.
func (p *course) faces(dx, dy float64) bool {
	sx, sy, ex, ey := p.ax-p.cx, p.ay-p.cy, p.bx-p.cx, p.by-p.cy
	if !p.ccw {
		sx, sy, ex, ey = ex, ey, sx, sy
	}
	return within(sx, sy, ex, ey, dx, dy, p.sweep > math.Pi)
}

// angle is math.Atan2 to 2e-5 rad, which is as near as heights on an arc need it (Hastings,
// "Approximations for Digital Computers", 1955, sheet 11; from memory, and tested).
func angle(y, x float64) float64 {
	ax, ay := math.Abs(x), math.Abs(y)
	lo, hi := ax, ay
	if ax > ay {
		lo, hi = ay, ax
	}
	if hi == 0 {
		return 0
	}
	t := lo / hi
	u := t * t
	a := t * (0.9998660 + u*(-0.3302995+u*(0.1801410+u*(-0.0851330+u*0.0208351))))
	if ay > ax {
		a = math.Pi/2 - a
	}
	if x < 0 {
		a = math.Pi - a
	}
	if y < 0 {
		a = -a
	}
	return a
}

// turned is the angle from the start of an arc to the direction (dx, dy), along the arc.
func (p *course) turned(dx, dy float64) float64 {
	a := angle(dy, dx) - p.start
	if !p.ccw {
		a = -a
	}
	if a < 0 {
		a += 2 * math.Pi
	}
	return a
}

// nearest is the t at which the path comes nearest to a place, and the distance squared there.
func (p *course) nearest(x, y float64) (t, d2 float64) {
	switch {
	case p.arc:
		dx, dy := x-p.cx, y-p.cy
		if p.faces(dx, dy) {
			d := math.Sqrt(dx*dx+dy*dy) - p.r
			if p.za != p.zb {
				t = p.turned(dx, dy) / p.sweep
			}
			return t, d * d
		}
		d2, e2 := p.ends(x, y)
		if d2 <= e2 {
			return 0, d2
		}
		return 1, e2
	case p.length == 0:
		d2, _ := p.ends(x, y)
		return 0, d2
	}
	dx, dy := x-p.ax, y-p.ay
	t = min(max((dx*p.ux+dy*p.uy)/p.length, 0), 1)
	dx, dy = x-p.ax-t*(p.bx-p.ax), y-p.ay-t*(p.by-p.ay)
	return t, dx*dx + dy*dy
}

// ends are the distances squared from the start and from the end.
func (p *course) ends(x, y float64) (a2, b2 float64) {
	dx, dy, ex, ey := x-p.ax, y-p.ay, x-p.bx, y-p.by
	return dx*dx + dy*dy, ex*ex + ey*ey
}

// across is where a place lies across the path: beside a line, or out from an arc's centre.
func (p *course) across(x, y float64) float64 {
	if p.arc {
		return math.Hypot(x-p.cx, y-p.cy)
	}
	return (y-p.ay)*p.ux - (x-p.ax)*p.uy
}

// lowest is the least height of the bottom of a cutter over a place that it passes.
func (p *course) lowest(x, y float64, s *shape) float64 {
	t, d2 := p.nearest(x, y)
	if d2 > s.r*s.r+rounding {
		return math.Inf(1)
	}
	if p.za == p.zb || p.length == 0 {
		return min(p.za, p.zb) + s.rise(d2)
	}
	st := p.stay(x, y, s.r)
	if !st.ok {
		return min(p.z(t)+s.rise(d2), math.Inf(1))
	}
	z := p.dip(x, y, s, st.in, st.out)
	if st.in2 <= 1 {
		z = min(z, p.dip(x, y, s, st.in2, 1))
	}
	return z
}

// dip is lowest from t = a to b, in which the height over the place falls and rises once.
func (p *course) dip(x, y float64, s *shape, a, b float64) float64 {
	if s.corner == 0 {
		return min(p.z(a), p.z(b))
	}
	const golden = 0.6180339887498949
	at := func(t float64) float64 {
		px, py := p.ax+t*(p.bx-p.ax), p.ay+t*(p.by-p.ay)
		if p.arc {
			turn := t * p.sweep
			if !p.ccw {
				turn = -turn
			}
			sin, cos := math.Sincos(p.start + turn)
			px, py = p.cx+p.r*cos, p.cy+p.r*sin
		}
		return p.z(t) + s.rise((x-px)*(x-px)+(y-py)*(y-py))
	}
	low := min(at(a), at(b))
	c, d := b-golden*(b-a), a+golden*(b-a)
	zc, zd := at(c), at(d)
	for range 14 {
		low = min(low, zc, zd)
		if zc < zd {
			b, d, zd = d, c, zc
			c = b - golden*(b-a)
			zc = at(c)
		} else {
			a, c, zc = c, d, zd
			d = a + golden*(b-a)
			zd = at(d)
		}
	}
	return min(low, zc, zd)
}
