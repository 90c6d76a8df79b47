package fit

import "math"

// A scale of the jog test within these shares of what the stylus' angle explains is
// believed (common practice); LeverAngleHalf is how well an angle is judged by eye, rad.
const (
	ScaleShareLeast = 0.93
	ScaleShareMost  = 1.07
	LeverAngleHalf  = 5 * math.Pi / 180
)

// Believed returns the scales that a dial may show in the jog test: with angle known the
// cosine of the stated angle over that of the design angle, widened by LeverAngleHalf either way; with Value{}
// a stylus that lies along the surface. All rad; magnitudes.
func Believed(angle Value, design float64) (least, most float64) {
	lo, hi := 1.0, 1.0
	if angle.Has {
		a := math.Abs(angle.V)
		hi = math.Cos(math.Max(0, a-LeverAngleHalf)) / math.Cos(design)
		lo = math.Max(0, math.Cos(math.Min(math.Pi/2, a+LeverAngleHalf))) / math.Cos(design)
	}
	return ScaleShareLeast * lo, ScaleShareMost * hi
}

// Questioned tells whether a scale is outside Believed: a jog that slipped, a stylus that
// stands steeper than stated, or another axis than meant. Skew and tap would be wrong in
// the same share, without a word.
func (s Scale) Questioned(angle Value, design float64) bool {
	least, most := Believed(angle, design)
	v := math.Abs(s.V)
	return !(v >= least && v <= most)
}

// NeedleMoves returns how far the needle may move for a jog that is believed, mm.
func NeedleMoves(jog float64, angle Value, design float64) (least, most float64) {
	lo, hi := Believed(angle, design)
	j := math.Abs(jog)
	if lo == 0 {
		return j / hi, math.Inf(1)
	}
	return j / hi, j / lo
}
