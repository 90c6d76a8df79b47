package clearance

// Common is the part that two outlines share: where a clamp lies on a part, for instance.
// ok is false when they share no area.
func Common(a, b Outline) (o Outline, ok bool) {
	p := append([]Point(nil), a.p...)
	c := b.p[len(b.p)-1]
	for _, d := range b.p { // keep what lies left of each side of b
		side := func(q Point) float64 { return (d.X-c.X)*(q.Y-c.Y) - (d.Y-c.Y)*(q.X-c.X) }
		var kept []Point
		for i, q := range p {
			r := p[(i+1)%len(p)]
			sq, sr := side(q), side(r)
			if sq >= 0 {
				kept = append(kept, q)
			}
			if (sq > 0 && sr < 0) || (sq < 0 && sr > 0) {
				t := sq / (sq - sr)
				kept = append(kept, Point{q.X + t*(r.X-q.X), q.Y + t*(r.Y-q.Y)})
			}
		}
		if p = kept; len(p) < 3 {
			return Outline{}, false
		}
		c = d
	}
	p = hull(p) // drops corners that fell together
	if len(p) < 3 {
		return Outline{}, false
	}
	o = Outline{p, boxOf(p)}
	return o, o.Area() > 1e-12
}

// Area is the area of the outline, mm².
func (o Outline) Area() float64 {
	var a float64
	p := o.p[0]
	for i := 1; i+1 < len(o.p); i++ {
		q, r := o.p[i], o.p[i+1]
		a += (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X)
	}
	return a / 2
}

// Centroid is the middle of the outline's area.
func (o Outline) Centroid() Point {
	var a, x, y float64
	p := o.p[0]
	for i := 1; i+1 < len(o.p); i++ {
		q, r := o.p[i], o.p[i+1]
		t := (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X)
		a += t
		x += t * (q.X - p.X + r.X - p.X) / 3
		y += t * (q.Y - p.Y + r.Y - p.Y) / 3
	}
	return Point{p.X + x/a, p.Y + y/a}
}
