package fit

import "math"

// Rise is how a part has risen and leaned between two sets of heights, from the differences
// after minus before at the same places.
type Rise struct {
	Mean        Point3        // the middle of the places; Z is the lift there, mm, up positive
	X, Y        float64       // lean: rise per mm along X and along Y (rad)
	HasLean     bool          // three places or more that do not stand on one line
	Cov         [3][3]float64 // of (lift at Mean, X, Y)
	S           Value         // scatter about the plane; needs four places
	DOF         int
	Unexplained Value // largest minus smallest residual: the part bent, or one height is bad
}

// ToRise finds lift and lean from differences of height, each of standard uncertainty u (known from
// elsewhere; both readings in it). One or two places, or places on one line, give
// the mean lift alone: a part may lean and nothing says so.
func ToRise(differences []Point3, u float64) (Rise, error) {
	if len(differences) == 0 {
		return Rise{}, &DegenerateError{What: "lift", Why: TooFew, Need: 1}
	}
	if err := finite("uncertainty of a difference", 0, u); err != nil {
		return Rise{}, err
	}
	p, err := ToPlane(differences)
	if err == nil {
		r := Rise{Mean: Point3{p.Mean.X, p.Mean.Y, p.Mean.Z}, X: p.B, Y: p.C, HasLean: true, S: p.S, DOF: p.DOF, Unexplained: p.Range}
		for i := range r.Cov {
			for k := range r.Cov[i] {
				r.Cov[i][k] = u * u * p.Cofactor[i][k]
			}
		}
		return r, nil
	}
	var m Point3
	n := float64(len(differences))
	for i, d := range differences {
		if err := finite("point", i, d.X, d.Y, d.Z); err != nil {
			return Rise{}, err
		}
		m = Point3{m.X + d.X/n, m.Y + d.Y/n, m.Z + d.Z/n}
	}
	r := Rise{Mean: m}
	r.Cov[0][0] = u * u / n
	return r, nil
}

// At returns how far a place has risen and the standard uncertainty of it, mm.
func (r Rise) At(x, y float64) (dz, u float64) {
	dx, dy := x-r.Mean.X, y-r.Mean.Y
	c := r.Cov
	v := c[0][0] + dx*dx*c[1][1] + dy*dy*c[2][2] + 2*(dx*c[0][1]+dy*c[0][2]+dx*dy*c[1][2])
	return r.Mean.Z + r.X*dx + r.Y*dy, math.Sqrt(v)
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

// HighestRise returns the largest |rise| over places, its sign kept, and its standard uncertainty, mm.
func (r Rise) HighestRise(places []Point) (dz, u float64, at int) {
	at = -1
	for i, p := range places {
		if z, uz := r.At(p.X, p.Y); at < 0 || math.Abs(z) > math.Abs(dz) {
			dz, u, at = z, uz, i
		}
	}
	return dz, u, at
}
