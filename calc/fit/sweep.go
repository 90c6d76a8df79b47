package fit

import (
	"fmt"
	"math"
)

// Sweep is a dial carried round by the spindle over a flat surface.
type Sweep struct {
	N, DOF       int
	Mean         float64 // a of r = a + b·cos φ + c·sin φ
	B, C         float64 // mm at the sweep's radius
	Radius       float64
	TiltX, TiltY float64 // b/R and c/R, rad (small): + means the swept surface is higher at X+, Y+
	S            Value
	Cofactor     [2][2]float64 // covariance of (TiltX, TiltY) for unit scatter
	Redundancy   Value         // (r at 0 and 180) - (r at 90 and 270); only for 4 even readings
	Residuals    []float64
}

// ToSweep fits a sweep. Angles in rad, 0 at X+, counter-clockwise; readings in mm of
// height, + when the stylus is pushed up (a lever dial's readings already multiplied by
// its scale); radius in mm.
//
//	r(φ) = a + b·cos φ + c·sin φ by least squares    tilt X = b/R, tilt Y = c/R
//	u(tilt) = s·√Cofactor, s² = Σe²/(N-3)
//
// A higher reading at X+ means that the top of the head leans toward X+. Three readings
// are exact and unchecked; four even ones add the redundancy, which is 0 on a flat
// surface with a stiff arm. A radius <= 0 is an error; fewer than 3 different directions
// is a DegenerateError. Derived; the harmonic fit is common practice.
func ToSweep(angles, readings []float64, radius float64) (Sweep, error) {
	n := len(angles)
	if n != len(readings) {
		return Sweep{}, fmt.Errorf("sweep: %d angles but %d readings; give one reading an angle", n, len(readings))
	}
	if !(radius > 0) || math.IsInf(radius, 1) {
		return Sweep{}, fmt.Errorf("sweep: radius %g is not above 0; measure from the spindle axis to the stylus", radius)
	}
	rows := make([][3]float64, n)
	dirs := make([]Point, n)
	w := make([]float64, n)
	for i, a := range angles {
		if err := finite("sweep reading", i, a, readings[i]); err != nil {
			return Sweep{}, err
		}
		sin, cos := math.Sincos(a)
		rows[i] = [3]float64{1, cos, sin}
		dirs[i] = Point{math.Round(cos * 1e9), math.Round(sin * 1e9)}
		w[i] = 1
	}
	if d, i, j := distinct(dirs, 3); d < 3 {
		return Sweep{}, &DegenerateError{What: "sweep", Why: TooFew, Need: 3, Got: d, I: i, J: j}
	}
	x, cof, res, ok := lsq(rows, readings, w)
	if !ok {
		return Sweep{}, &DegenerateError{What: "sweep", Why: Unresolved}
	}
	s := Sweep{N: n, DOF: n - 3, Mean: x[0], B: x[1], C: x[2], Radius: radius, TiltX: x[1] / radius, TiltY: x[2] / radius, Residuals: res}
	r2 := radius * radius
	s.Cofactor = [2][2]float64{{cof[1][1] / r2, cof[1][2] / r2}, {cof[2][1] / r2, cof[2][2] / r2}}
	if s.DOF > 0 {
		s.S = Known(math.Sqrt(sumSquares(res) / float64(s.DOF)))
	}
	if n == 4 {
		s.Redundancy = quarters(angles, readings)
	}
	return s, nil
}

// quarters returns (r0 + r180) - (r90 + r270) when the four angles are those, in any
// order and any turn.
func quarters(angles, readings []float64) Value {
	var got [4]bool
	sum := 0.0
	for i, a := range angles {
		q := math.Mod(a/(math.Pi/2), 4)
		k := int(math.Round(q))
		if math.Abs(q-float64(k)) > 1e-6 {
			return Value{}
		}
		k = (k%4 + 4) % 4
		if got[k] {
			return Value{}
		}
		got[k] = true
		if k%2 == 0 {
			sum += readings[i]
		} else {
			sum -= readings[i]
		}
	}
	return Known(sum)
}

// Total returns the size of the tilt (rad, small) and the direction in which the swept
// surface is highest (rad, 0 at X+, counter-clockwise; 0 without tilt).
func (s Sweep) Total() (tilt, azimuth float64) {
	return math.Hypot(s.TiltX, s.TiltY), math.Atan2(s.C, s.B)
}
