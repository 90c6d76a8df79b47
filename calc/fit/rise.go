package fit

import "math"

// Rise is how a part leans beyond what it leaned before: see SolveMotion.
type Rise struct {
	X, Y float64       // rise per mm along X and along Y (rad)
	Cov  [3][3]float64 // of (lift, X, Y)
}

// Sideways returns how far the lean carries a point in plan that lies height above where
// the motion in plan was read, mm, with standard uncertainties:
//
//	dx = -X·height   dy = -Y·height
//
// A part that rises toward + leans back toward -. Derived: a small turn takes (x, y, z) to (x - X·z, y - Y·z, z + X·x + Y·y).
func (r Rise) Sideways(height float64) (d, u Point) {
	h := math.Abs(height)
	return Point{-r.X * height, -r.Y * height}, Point{h * math.Sqrt(r.Cov[1][1]), h * math.Sqrt(r.Cov[2][2])}
}

// LeanOver returns the rise from end to end of a part by its lean, the larger of the two
// axes, and its standard uncertainty, mm: what a limit of lift also judges.
func (r Rise) LeanOver(length, width float64) (rise, u float64) {
	x, y := math.Abs(r.X)*length, math.Abs(r.Y)*width
	if x >= y {
		return x, length * math.Sqrt(r.Cov[1][1])
	}
	return y, width * math.Sqrt(r.Cov[2][2])
}
