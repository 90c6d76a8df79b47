package hold

import "math"

// Slide is the least force in the plane that makes a part slide on points of Coulomb
// friction, and the pole about which it then turns.
type Slide struct {
	Force float64    // in the unit of the points' friction
	Turns bool       // it turns about Pole; false: it slides without turning
	Pole  [2]float64 // mm
}

// Slides returns the least force, in its worst direction, that acting at a place moves a
// part held by points whose friction bears at most grip[i] each (0 or less: none):
//
//	least over all poles c of  sum(grip_i |p_i - c|) / |at - c|
//
// A pole at infinity is slip without turning, sum(grip). It is the kinematic limit of
// Coulomb points, and exact: the loads that friction bears form a convex set, whose support
// in the direction of a pole is that sum (Goyal, Ruina, Papadopoulos 1991, from memory; a
// static linear programme in the test gives the same). Slip alone and turning alone about a
// centroid are each only an upper bound. Of all places in a convex region a corner is the worst.
//
// Mirrored in the unit circle about the place of the force the quotient becomes a sum of
// distances: |p - c|/|c| = |p| |p' - c'|. What is sought is the point c' with the least
// weighted sum of distances to the p', which is a convex problem with one least value.
func Slides(points [][2]float64, grip []float64, at [2]float64) Slide {
	var own float64 // a point under the force itself adds its grip whatever the pole
	var q [][2]float64
	var w []float64
	for i, p := range points {
		x, y := p[0]-at[0], p[1]-at[1]
		r := math.Hypot(x, y)
		switch {
		case !(grip[i] > 0):
		case r == 0:
			own += grip[i]
		default:
			q = append(q, [2]float64{x / r / r, y / r / r})
			w = append(w, grip[i]*r)
		}
	}
	if len(q) == 0 {
		return Slide{Force: own}
	}
	c, sum := nearestToAll(q, w)
	s := Slide{Force: own + sum}
	if r := math.Hypot(c[0], c[1]); r > 1e-6*math.Hypot(q[0][0], q[0][1]) {
		s.Turns = true
		s.Pole = [2]float64{at[0] + c[0]/r/r, at[1] + c[1]/r/r}
	}
	return s
}

// Spins returns the least torque that turns a part held by points whose friction bears at
// most grip[i] each, about the pole where that is least, N mm for N:
//
//	least over all poles c of  sum(grip_i |p_i - c|)
//
// About the points' own centroid the sum is only an upper bound. One point bears none.
func Spins(points [][2]float64, grip []float64) float64 {
	var q [][2]float64
	var w []float64
	for i, p := range points {
		if grip[i] > 0 {
			q, w = append(q, p), append(w, grip[i])
		}
	}
	if len(q) == 0 {
		return 0
	}
	_, sum := nearestToAll(q, w)
	return sum
}

// nearestToAll is the point with the least weighted sum of distances to points q that are
// all different, and that sum: one of them if its weight outweighs the pull of the others,
// else by the ellipsoid method, which needs no smoothness and knows how far off it is at most.
func nearestToAll(q [][2]float64, w []float64) (c [2]float64, sum float64) {
	sum = math.Inf(1)
	var x [2]float64 // begins at the weighted mean, which lies among them
	var total float64
	for i, p := range q {
		s, gx, gy := pull(q, w, p, i)
		if math.Hypot(gx, gy) <= w[i]*(1+1e-12) {
			return p, s
		}
		if s < sum {
			c, sum = p, s
		}
		x[0], x[1], total = x[0]+w[i]*p[0], x[1]+w[i]*p[1], total+w[i]
	}
	x[0], x[1] = x[0]/total, x[1]/total
	var r float64
	for _, p := range q {
		r = math.Max(r, math.Hypot(p[0]-x[0], p[1]-x[1]))
	}
	a, b, d := r*r, 0.0, r*r // the ellipse in which it lies: [a b; b d]
	for range 2000 {
		s, gx, gy := pull(q, w, x, -1)
		if s < sum {
			c, sum = x, s
		}
		off := math.Sqrt(math.Max(0, a*gx*gx+2*b*gx*gy+d*gy*gy))
		if off <= 1e-13*s {
			break
		}
		px, py := (a*gx+b*gy)/off, (b*gx+d*gy)/off
		x[0], x[1] = x[0]-px/3, x[1]-py/3
		a, b, d = 4.0/3*(a-2.0/3*px*px), 4.0/3*(b-2.0/3*px*py), 4.0/3*(d-2.0/3*py*py)
	}
	return c, sum
}

// pull is the weighted sum of distances from x, and its slope; point skip has none.
func pull(q [][2]float64, w []float64, x [2]float64, skip int) (sum, gx, gy float64) {
	for i, p := range q {
		dx, dy := x[0]-p[0], x[1]-p[1]
		d := math.Hypot(dx, dy)
		sum += w[i] * d
		if i != skip && d > 0 {
			gx, gy = gx+w[i]*dx/d, gy+w[i]*dy/d
		}
	}
	return sum, gx, gy
}
