package clearance

import "math"

// Arc is a move of the tip on a circle in plan, Z changing evenly with the angle. An arc in
// another plane is no Arc here: judge the box it spans with Field.Rapid.
type Arc struct {
	Centre       Point
	R            float64
	Start, Sweep float64 // rad; Sweep positive counter-clockwise, up to a full turn or more
	Z0, Z1       float64
}

func (a Arc) point(angle float64) Point {
	s, c := math.Sincos(angle)
	return Point{a.Centre.X + a.R*c, a.Centre.Y + a.R*s}
}

// place returns where the direction of q from the centre lies on the arc, 0 at its start
// and 1 at its end, and whether it does.
func (a Arc) place(q Point) (at float64, on bool) {
	if a.Sweep == 0 {
		return 0, false
	}
	d := math.Atan2(q.Y-a.Centre.Y, q.X-a.Centre.X) - a.Start
	if a.Sweep < 0 {
		d = -d
	}
	d = math.Mod(d, 2*math.Pi)
	if d < 0 {
		d += 2 * math.Pi
	}
	at = d / math.Abs(a.Sweep)
	return at, at <= 1
}

// arc is the least distance of the arc in plan from a convex list, 0 when they touch, and the place on the arc (0 start, 1 end). It
// is exact: the nearest pair is an end of the arc, a corner, the foot of the centre on a side, or a crossing of side and circle.
func arc(p []Point, a Arc) (d, at float64) {
	d = math.Max(0, signed(p, a.point(a.Start)))
	if e := math.Max(0, signed(p, a.point(a.Start+a.Sweep))); e < d {
		d, at = e, 1
	}
	radial := func(q Point) {
		if r := math.Abs(math.Hypot(q.X-a.Centre.X, q.Y-a.Centre.Y) - a.R); r < d {
			if t, on := a.place(q); on {
				d, at = r, t
			}
		}
	}
	c := p[len(p)-1]
	for _, e := range p {
		radial(e)
		ex, ey := e.X-c.X, e.Y-c.Y
		l := math.Hypot(ex, ey)
		if l > 0 {
			ex, ey = ex/l, ey/l
			t := (a.Centre.X-c.X)*ex + (a.Centre.Y-c.Y)*ey
			if t > 0 && t < l {
				radial(Point{c.X + t*ex, c.Y + t*ey})
			}
			h := math.Abs((a.Centre.X-c.X)*ey - (a.Centre.Y-c.Y)*ex)
			if h < a.R {
				w := math.Sqrt(a.R*a.R - h*h)
				for _, u := range [2]float64{t - w, t + w} {
					if u >= 0 && u <= l {
						if s, on := a.place(Point{c.X + u*ex, c.Y + u*ey}); on {
							return 0, s
						}
					}
				}
			}
		}
		c = e
	}
	return d, at
}

// box is a box that holds the arc: that of its ends and of the quadrant points on it.
func (a Arc) box() Box {
	s, e := a.point(a.Start), a.point(a.Start+a.Sweep)
	b := Box{math.Min(s.X, e.X), math.Min(s.Y, e.Y), math.Max(s.X, e.X), math.Max(s.Y, e.Y)}
	c, r := a.Centre, a.R
	for _, q := range [4]Point{{c.X + r, c.Y}, {c.X, c.Y + r}, {c.X - r, c.Y}, {c.X, c.Y - r}} {
		if _, on := a.place(q); on {
			b.MinX, b.MaxX = math.Min(b.MinX, q.X), math.Max(b.MaxX, q.X)
			b.MinY, b.MaxY = math.Min(b.MinY, q.Y), math.Max(b.MaxY, q.Y)
		}
	}
	return b
}

// part is the arc between two places on it (0 start, 1 end).
func (a Arc) part(t0, t1 float64) Arc {
	dz := a.Z1 - a.Z0
	return Arc{a.Centre, a.R, a.Start + t0*a.Sweep, (t1 - t0) * a.Sweep, a.Z0 + t0*dz, a.Z0 + t1*dz}
}
