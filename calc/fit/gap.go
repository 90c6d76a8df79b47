package fit

import "math"

// largestGap returns the largest angle between neighbouring directions, rad: 2π for one
// direction. Directions need no length; (0, 0) counts as X+.
//
// It is found in one pass without sorting. Put n directions into 3n/2 equal bins of a
// stand-in for the angle whose slope against the angle is nowhere below 1/2: a bin then
// spans at most 16/(3n) rad, less than the mean gap 2π/n, so the largest gap lies between the
// last direction of one bin and the first of the next one in use.
func largestGap(ds []Point) float64 {
	n := len(ds)
	if n < 2 {
		return 2 * math.Pi
	}
	bins := make([]struct{ first, last int32 }, n+n/2) // index + 1 of a direction; 0 when empty
	per := float64(len(bins)) / 4
	for i, d := range ds {
		b := &bins[min(int(quasiAngle(d.X, d.Y)*per), len(bins)-1)]
		switch {
		case b.first == 0:
			b.first, b.last = int32(i+1), int32(i+1)
		case turn(d, ds[b.first-1]) > 0:
			b.first = int32(i + 1)
		case turn(ds[b.last-1], d) > 0:
			b.last = int32(i + 1)
		}
	}
	var before int32 // last direction of the bin before
	for k := len(bins) - 1; before == 0; k-- {
		before = bins[k].last
	}
	wrap, widest, cross, dot := 4.0, -1.0, 0.0, 1.0
	for _, b := range bins {
		if b.first == 0 {
			continue
		}
		p, q := ds[before-1], ds[b.first-1]
		before = b.last
		c, d := turn(p, q), float64(p.X*q.X)+float64(p.Y*q.Y)
		if d > 0 && math.Abs(c) < 1e-9*d {
			// one direction but for rounding, which can turn it backward: no gap, or all of it
			if quasiAngle(q.X, q.Y)-quasiAngle(p.X, p.Y)+wrap > 3 {
				return 2 * math.Pi
			}
			c = 0
		}
		wrap = 0
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

// turn is positive when q lies counter-clockwise of p by less than half a turn.
func turn(p, q Point) float64 { return float64(p.X*q.Y) - float64(p.Y*q.X) }
