package clearance

import "sort"

// hull is the convex hull of points, counter-clockwise, tidied (Andrew's monotone chain).
// It reorders its argument.
func hull(p []Point) []Point {
	sort.Slice(p, func(i, k int) bool {
		if p[i].X != p[k].X {
			return p[i].X < p[k].X
		}
		return p[i].Y < p[k].Y
	})
	var h []Point
	for pass := range 2 {
		start := len(h)
		for i := range p {
			q := p[i]
			if pass == 1 {
				q = p[len(p)-1-i]
			}
			for len(h) >= start+2 {
				a, b := h[len(h)-2], h[len(h)-1]
				if (b.X-a.X)*(q.Y-b.Y)-(b.Y-a.Y)*(q.X-b.X) > 0 {
					break
				}
				h = h[:len(h)-1]
			}
			h = append(h, q)
		}
		h = h[:len(h)-1] // the first of the other chain
	}
	return tidy(h)
}
