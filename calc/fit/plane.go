package fit

import "math"

// Plane is z = A + B·x + C·y by least squares.
type Plane struct {
	N, DOF    int
	A, B, C   float64 // B is the tilt along X, C along Y (ratios)
	S         Value   // sqrt(Σe²/(N-3)); needs DOF >= 1
	Range     Value   // largest minus smallest residual; needs DOF >= 1
	Residuals []float64
	Mean      Point3
	Cofactor  [3][3]float64 // covariance of (height at Mean, B, C) for unit scatter
	leverage  []float64
}

// ToPlane fits a plane in coordinates about the mean point.
//
//	D = Sxx·Syy - Sxy²   B = (Sxz·Syy - Syz·Sxy)/D   C = (Syz·Sxx - Sxz·Sxy)/D
//	A = z̄ - B·x̄ - C·ȳ   s² = Σe²/(N-3)
//	Cofactor about the mean: 1/N for the height, (Syy, -Sxy, Sxx)/D for the tilts
//
// Three points are exact: no scatter, no range. Points on one line in plan are a
// DegenerateError that names its ends. Derived (normal equations).
func ToPlane(ps []Point3) (Plane, error) {
	n := len(ps)
	plan := make([]Point, n)
	for i, p := range ps {
		if err := finite("point", i, p.X, p.Y, p.Z); err != nil {
			return Plane{}, err
		}
		plan[i] = Point{p.X, p.Y}
	}
	if d, i, j := distinct(plan, 3); d < 3 {
		return Plane{}, &DegenerateError{What: "plane", Why: TooFew, Need: 3, Got: d, I: i, J: j}
	}
	if c := cloudOf(plan); c.scale*c.scale < nothing || c.straight() {
		i, j := farthest(plan)
		return Plane{}, &DegenerateError{What: "plane", Why: Collinear, I: i + 1, J: j + 1}
	}
	var m Point3
	for _, p := range ps {
		m = Point3{m.X + p.X, m.Y + p.Y, m.Z + p.Z}
	}
	k := float64(n)
	m = Point3{m.X / k, m.Y / k, m.Z / k}
	var xx, xy, yy, xz, yz float64
	for _, p := range ps {
		x, y, z := p.X-m.X, p.Y-m.Y, p.Z-m.Z
		xx += float64(x * x)
		xy += float64(x * y)
		yy += float64(y * y)
		xz += float64(x * z)
		yz += float64(y * z)
	}
	det := float64(xx*yy) - float64(xy*xy)
	if !(det > 0) {
		i, j := farthest(plan)
		return Plane{}, &DegenerateError{What: "plane", Why: Collinear, I: i + 1, J: j + 1}
	}
	f := Plane{N: n, DOF: n - 3, Mean: m, Residuals: make([]float64, n), leverage: make([]float64, n)}
	f.B = (float64(xz*yy) - float64(yz*xy)) / det
	f.C = (float64(yz*xx) - float64(xz*xy)) / det
	f.A = m.Z - float64(f.B*m.X) - float64(f.C*m.Y)
	f.Cofactor = [3][3]float64{{1 / k, 0, 0}, {0, yy / det, -xy / det}, {0, -xy / det, xx / det}}
	for i, p := range ps {
		x, y := p.X-m.X, p.Y-m.Y
		f.Residuals[i] = (p.Z - m.Z) - float64(f.B*x) - float64(f.C*y)
		f.leverage[i] = f.cofactorAt(p.X, p.Y)
	}
	if f.DOF > 0 {
		f.S = Known(math.Sqrt(sumSquares(f.Residuals) / float64(f.DOF)))
		f.Range = Known(span(f.Residuals))
	}
	return f, nil
}

// At returns the height of the plane at (x, y).
func (p Plane) At(x, y float64) float64 {
	return p.Mean.Z + float64(p.B*(x-p.Mean.X)) + float64(p.C*(y-p.Mean.Y))
}

func (p Plane) cofactorAt(x, y float64) float64 {
	dx, dy := x-p.Mean.X, y-p.Mean.Y
	q := p.Cofactor
	return q[0][0] + dx*dx*q[1][1] + 2*dx*dy*q[1][2] + dy*dy*q[2][2]
}

// Shims is advice for levelling by packing under supports.
type Shims struct {
	Thick     []float64 // under each support, >= 0, in the order of the supports
	TiltRange float64   // highest minus lowest fitted support
	// DoNot is true when the residuals are more than half of the tilt: the surface is
	// bowed or a point is bad, and packing would bend the part to fit the chip.
	DoNot bool
	// Unchecked is true when three points fitted exactly: nothing shows a bow.
	Unchecked bool
}

// Shims returns the packing that levels the plane, bringing every support to the
// height of the highest one.
//
//	t_j = z(highest support) - z(support j)
//	DoNot when range of residuals > ½·(highest - lowest support)
//
// Supports without any tilt between them and no residuals need none. No supports
// gives an empty list.
func (p Plane) Shims(supports []Point) Shims {
	out := Shims{Thick: make([]float64, len(supports)), Unchecked: !p.Range.Has}
	if len(supports) == 0 {
		return out
	}
	zs := make([]float64, len(supports))
	top := math.Inf(-1)
	for i, s := range supports {
		zs[i] = p.At(s.X, s.Y)
		top = max(top, zs[i])
	}
	for i, z := range zs {
		out.Thick[i] = top - z
	}
	out.TiltRange = span(zs)
	out.DoNot = p.Range.Has && p.Range.V > out.TiltRange/2
	return out
}
