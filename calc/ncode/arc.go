package ncode

import (
	"fmt"
	"math"
)

// arcTolerance is how far the two radii of an arc in centre form may differ
// (3.5.3.2): 0.002 mm, in an inch program 0.0002 in.
func arcTolerance(inch bool) float64 {
	if inch {
		return 0.0002 * 25.4
	}
	return 0.002
}

// rounding is what the sum of two decimals may be off by in binary; it keeps an arc
// that meets a limit exactly from being refused by the last bit.
const rounding = 1e-9

// arcByCentre returns the sweep and the start radius of the arc from (a0, b0) to
// (a1, b1) about (ca, cb), in the plane's own axes.
func arcByCentre(a0, b0, a1, b1, ca, cb float64, cw, inch bool, say Units) (sweep, radius float64, f *fault) {
	radius = math.Hypot(a0-ca, b0-cb)
	r1 := math.Hypot(a1-ca, b1-cb)
	if radius < rounding {
		return 0, 0, refuse("3.5.3.2", "arc-zero", "radius "+inUnits(radius, say), "give I, J or K a length: the centre is the start point")
	}
	if tol := arcTolerance(inch); math.Abs(radius-r1) > tol+rounding {
		return 0, 0, refuse("3.5.3.2", "arc-radius", fmt.Sprintf("radius %s at its start, %s at its end", inUnits(radius, say), inUnits(r1, say)),
			fmt.Sprintf("they may differ by %s: check the end point, and that I J K are increments from the start", inUnits(tol, say)))
	}
	return turn(a0-ca, b0-cb, a1-ca, b1-cb, cw), radius, nil
}

// arcByRadius returns the centre and the sweep of the arc of that radius; a
// negative radius asks for more than a half turn (3.5.3.1).
func arcByRadius(a0, b0, a1, b1, radius float64, cw, inch bool, say Units) (ca, cb, sweep float64, f *fault) {
	chord := math.Hypot(a1-a0, b1-b0)
	if chord < rounding {
		return 0, 0, 0, refuse("3.5.3.1", "arc-closed", "R"+inUnits(radius, say),
			"an arc with R can't end where it starts: write a full circle with I J K")
	}
	r := math.Abs(radius)
	if r < rounding {
		return 0, 0, 0, refuse("3.5.3.1", "arc-zero", "R"+inUnits(radius, say), "give R a length")
	}
	half := chord / 2
	if half > r {
		// Half turns are written with rounded numbers: the same tolerance as above.
		if half-r > arcTolerance(inch)/2+rounding {
			return 0, 0, 0, refuse("3.5.3.1", "arc-short", fmt.Sprintf("R%s over a chord of %s", inUnits(radius, say), inUnits(chord, say)),
				"the radius is too small to reach the end point")
		}
		r = half
	}
	h := math.Sqrt(max(float64(r*r)-float64(half*half), 0))
	// The centre lies left of the chord for a short counter-clockwise arc.
	if cw != (radius < 0) {
		h = -h
	}
	ca = (a0+a1)/2 - float64(h*(b1-b0))/chord
	cb = (b0+b1)/2 + float64(h*(a1-a0))/chord
	return ca, cb, turn(a0-ca, b0-cb, a1-ca, b1-cb, cw), nil
}

// turn returns the signed angle from (u0, v0) to (u1, v1): a full turn where they are the same place.
func turn(u0, v0, u1, v1 float64, cw bool) float64 {
	same := math.Abs(u0-u1) < rounding && math.Abs(v0-v1) < rounding
	d := math.Atan2(float64(u0*v1)-float64(v0*u1), float64(u0*u1)+float64(v0*v1))
	switch {
	case same && cw:
		return -2 * math.Pi
	case same:
		return 2 * math.Pi
	case cw && d > 0:
		return d - 2*math.Pi
	case !cw && d < 0:
		return d + 2*math.Pi
	}
	return d
}
