package fit

import "math"

// largestGap returns the largest angle between neighbouring directions, rad: 2π for one
// direction. Directions need no length; (0, 0) counts as X+.
//
// It is found in one pass without sorting. Put n directions into 2n equal bins of a
// stand-in for the angle whose slope against the angle is nowhere below 1/2: a bin then
// spans at most 4/n rad, less than the mean gap 2π/n, so the largest gap lies between the
// last direction of one bin and the first of the next one in use.
func largestGap(ds []Point) float64 {
	n := len(ds)
	if n < 2 {
		return 2 * math.Pi
	}
	type bin struct {
		first, last float64
		from, to    int32 // index + 1 of the directions there; 0 for an empty bin
	}
	bins := make([]bin, 2*n)
	per := float64(len(bins)) / 4
	for i, d := range ds {
		q := quasiAngle(d.X, d.Y)
		b := &bins[min(int(q*per), len(bins)-1)]
		if b.from == 0 || q < b.first {
			b.first, b.from = q, int32(i+1)
		}
		if b.to == 0 || q > b.last {
			b.last, b.to = q, int32(i+1)
		}
	}
	last := len(bins) - 1
	for bins[last].from == 0 {
		last--
	}
	before, at := bins[last].to, bins[last].last-4 // last direction of the bin before
	widest, cross, dot := -1.0, 0.0, 1.0
	for k := range bins {
		b := &bins[k]
		if b.from == 0 {
			continue
		}
		p, q := ds[before-1], ds[b.from-1]
		step := b.first - at
		before, at = b.to, b.last
		if step < 1e-9 { // the same direction but for rounding, which can turn it backward
			continue
		}
		if step > 4-1e-9 {
			return 2 * math.Pi
		}
		c, d := float64(p.X*q.Y)-float64(p.Y*q.X), float64(p.X*q.X)+float64(p.Y*q.Y)
		if w := quasiAngle(d, c); w > widest {
			widest, cross, dot = w, c, d
		}
	}
	gap := math.Atan2(cross, dot)
	if gap < 0 {
		gap += 2 * math.Pi
	}
	return gap
}

// quasiAngle grows with the direction of (x, y) from 0 at X+ counter-clockwise to 4; a
// quarter turn is 1.
func quasiAngle(x, y float64) float64 {
	s := math.Abs(x) + math.Abs(y)
	if s == 0 {
		return 0
	}
	q := y / s
	switch {
	case x < 0:
		return 2 - q
	case y < 0:
		return 4 + q
	}
	return q
}
