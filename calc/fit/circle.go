package fit

import "math"

// Circle is the circle that minimises the squared distances to it.
type Circle struct {
	Center Point
	Radius float64 // of the points as given: ball centres in a bore lie one ball radius inside it
	N, DOF int     // DOF = N - 3
	RMS    float64 // sqrt(Σe²/N)
	S      Value   // sqrt(Σe²/DOF); needs DOF >= 1
	// UCenter is the larger principal standard uncertainty of the centre from S.
	UCenter   Value
	Cofactor  [3][3]float64 // covariance of (Center.X, Center.Y, Radius) for unit scatter
	Arc       float64       // 2π minus the largest gap between neighbouring points, rad
	Residuals []float64     // distance from Center minus Radius, in input order
	Steps     int           // iterations taken
}

// ToCircle fits a circle geometrically.
//
//	minimise Σ(|p_i - c| - R)²  over c and R
//	start: algebraic fit of Taubin (1991); then Gauss-Newton with R = mean|p_i - c|
//	eliminated, damped (Levenberg) whenever a step would make the sum larger
//	Cofactor Q = (JᵀJ)⁻¹ with rows J = (u_x, u_y, 1), u the unit vector from c to p
//	s² = Σe²/(N-3)   u_center = s·√(larger eigenvalue of the upper left 2×2 of Q)
//
// Degenerate input is a DegenerateError: TooFew different points (names an equal
// pair), Collinear (names the ends), Flat when |1/R| <= 3·u(1/R) or when the sagitta
// of the arc is not above 3 times the rms. Three points give an exact circle and
// nothing about its quality.
// Source: Gander, Golub, Strebel, BIT 34 (1994) 558-578 (geometric fit, verified copy).
func ToCircle(ps []Point) (Circle, error) {
	if err := finitePoints("hit", ps); err != nil {
		return Circle{}, err
	}
	if d, i, j := distinct(ps, 3); d < 3 {
		return Circle{}, &DegenerateError{What: "circle", Why: TooFew, Need: 3, Got: d, I: i, J: j}
	}
	c := cloudOf(ps)
	if c.scale*c.scale < nothing || c.straight() {
		i, j := farthest(ps)
		return Circle{}, &DegenerateError{What: "circle", Why: Collinear, I: i + 1, J: j + 1}
	}
	r := c.taubin()
	at, settled, steps := r.refine(c.ps)
	fit := r.circle(c, at)
	fit.Steps = steps
	if err := fit.Flat(); err != nil {
		return Circle{}, err
	}
	if !settled {
		return Circle{}, &DegenerateError{What: "circle", Why: Unresolved}
	}
	return fit, nil
}

// Flat returns a DegenerateError when the curvature cannot be told from zero:
//
//	|1/R| <= 3·u(1/R) with u(1/R) = u(R)/R²,  or  sagitta <= 3·rms
//	sagitta = R·(1 - cos(min(arc, 2π)/2))
func (c Circle) Flat() error {
	u := 0.0
	if c.S.Has {
		u = c.S.V * math.Sqrt(c.Cofactor[2][2])
	}
	sagitta := 2 * c.Radius * sq(math.Sin(c.Arc/4))
	if c.Radius > 3*u && sagitta > 3*c.RMS {
		return nil
	}
	return &DegenerateError{What: "circle", Why: Flat, Radius: c.Radius, U: u, Sagitta: sagitta, RMS: c.RMS}
}

// Covariance returns the covariance of (Center.X, Center.Y, Radius) for a scatter s
// known from elsewhere (a calibrated probe) in place of the fit's own.
func (c Circle) Covariance(s float64) [3][3]float64 {
	var v [3][3]float64
	for i := range v {
		for j := range v {
			v[i][j] = s * s * c.Cofactor[i][j]
		}
	}
	return v
}

// UCenterFor returns the larger principal standard uncertainty of the centre for a
// scatter s known from elsewhere; s·√(2/N) for evenly spaced points.
func (c Circle) UCenterFor(s float64) float64 {
	return s * math.Sqrt(largestEigen(c.Cofactor[0][0], c.Cofactor[0][1], c.Cofactor[1][1]))
}

// Angle returns the direction from the centre to p, rad in (-π, π], 0 at X+.
func (c Circle) Angle(p Point) float64 { return math.Atan2(p.Y-c.Center.Y, p.X-c.Center.X) }

// Deviation returns how far p lies outside (+) or inside (-) the circle.
func (c Circle) Deviation(p Point) float64 { return p.Sub(c.Center).Len() - c.Radius }

// cloud is a set of points moved to its mean and scaled to unit rms distance, which
// keeps every sum near 1 whatever the units and the distance from the origin, with its
// moments up to those of z = x² + y².
type cloud struct {
	ps                     []Point
	mean                   Point
	scale                  float64
	reach                  float64 // largest coordinate of the input: sets the rounding level
	xx, xy, yy, xz, yz, zz float64 // means of products
}

func cloudOf(ps []Point) cloud {
	n := float64(len(ps))
	c := cloud{ps: make([]Point, len(ps))}
	for _, p := range ps {
		c.mean.X += p.X
		c.mean.Y += p.Y
		if a := math.Abs(p.X); a > c.reach {
			c.reach = a
		}
		if a := math.Abs(p.Y); a > c.reach {
			c.reach = a
		}
	}
	c.mean = Point{c.mean.X / n, c.mean.Y / n}
	var ss float64
	for _, p := range ps {
		x, y := p.X-c.mean.X, p.Y-c.mean.Y
		ss += float64(x*x) + float64(y*y)
	}
	c.scale = math.Sqrt(ss / n)
	by := 1 / c.scale
	var xx, xy, yy, xz, yz, zz float64
	for i, p := range ps {
		x, y := (p.X-c.mean.X)*by, (p.Y-c.mean.Y)*by
		c.ps[i] = Point{x, y}
		x2, y2 := float64(x*x), float64(y*y)
		z := x2 + y2
		xx += x2
		xy += float64(x * y)
		yy += y2
		xz += float64(x * z)
		yz += float64(y * z)
		zz += float64(z * z)
	}
	c.xx, c.xy, c.yy, c.xz, c.yz, c.zz = xx/n, xy/n, yy/n, xz/n, yz/n, zz/n
	return c
}

// straight reports whether the points lie on one line to within rounding of the input.
func (c cloud) straight() bool {
	if c.xx*c.yy-c.xy*c.xy > 1e-9 { // of at most 1/4
		return false
	}
	sin, cos := math.Sincos(math.Atan2(2*c.xy, c.xx-c.yy) / 2)
	var off float64
	for _, p := range c.ps {
		off = max(off, math.Abs(p.Y*cos-p.X*sin))
	}
	return off <= 8*epsilon*max(1, c.reach/c.scale)
}

// ring is a circle in a cloud's coordinates during the search.
type ring struct{ x, y, r float64 }

// taubin returns the algebraic fit of G. Taubin (1991), found by Newton's method on
// its characteristic polynomial from 0, where the wanted root is the first one met.
// It is only the start: its radius is biased, though little, even on short arcs.
func (c cloud) taubin() ring {
	xx, xy, yy, xz, yz, zz := c.xx, c.xy, c.yy, c.xz, c.yz, c.zz
	mz := xx + yy
	det := xx*yy - xy*xy
	vz := zz - mz*mz
	a3, a2 := 4*mz, -3*mz*mz-zz
	a1 := vz*mz + 4*det*mz - xz*xz - yz*yz
	a0 := xz*(xz*yy-yz*xy) + yz*(yz*xx-xz*xy) - vz*det
	t, f := 0.0, a0
	for range 50 {
		slope := a1 + t*(2*a2+t*3*a3)
		u := t - f/slope
		g := a0 + u*(a1+u*(a2+u*a3))
		if u == t || !(math.Abs(g) < math.Abs(f)) {
			break
		}
		t, f = u, g
	}
	d := 2 * (t*t - t*mz + det)
	x, y := (xz*(yy-t)-yz*xy)/d, (yz*(xx-t)-xz*xy)/d
	if !(math.Abs(x) < 1e8 && math.Abs(y) < 1e8) {
		x, y = 0, 0 // the mean point: always a legal start
	}
	return ring{x, y, math.Sqrt(x*x + y*y + mz)}
}

// sums holds one pass over the points at one centre.
type sums struct {
	sse    float64 // at the best radius for this centre
	r      float64 // that radius
	gx, gy float64 // Σ(u - ū)·e
	xx, xy float64 // Σ(u - ū)(u - ū)ᵀ
	yy     float64
	ux, uy float64 // ū
}

func (c ring) pass(ps []Point) sums {
	var ux, uy, xx, xy, se, see, sxe, sye float64
	yy := 0.0
	n := float64(len(ps))
	for _, p := range ps {
		dx, dy := p.X-c.x, p.Y-c.y
		d := math.Sqrt(float64(dx*dx) + float64(dy*dy))
		var u, v float64
		if d > 0 {
			w := 1 / d
			u, v = dx*w, dy*w
		}
		e := d - c.r
		ux += u
		uy += v
		xx += float64(u * u)
		xy += float64(u * v)
		yy += float64(v * v)
		se += e
		see += float64(e * e)
		sxe += float64(u * e)
		sye += float64(v * e)
	}
	me := se / n
	ux, uy = ux/n, uy/n
	return sums{sse: max(0, see-me*se), r: c.r + me, gx: sxe - ux*se, gy: sye - uy*se,
		xx: xx - n*ux*ux, xy: xy - n*ux*uy, yy: yy - n*uy*uy, ux: ux, uy: uy}
}

// refine walks to the least sum of squares. It returns the sums there, or within 1e-8 of
// it, and reports whether it got there.
//
// Close to the bottom the sum no longer shows a step (its change goes with the square
// of the step), so there a step is taken on the strength of the gradient and the walk
// ends when steps stop getting shorter.
func (c *ring) refine(ps []Point) (at sums, settled bool, steps int) {
	at = c.pass(ps)
	c.r = at.r
	damp, last := 0.0, math.Inf(1)
	for steps = 1; steps <= 500; steps++ {
		a, b, d := at.xx+damp*at.xx, at.xy, at.yy+damp*at.yy
		det := a*d - b*b
		if !(det > 0) {
			damp = max(10*damp, 1e-9)
			continue
		}
		dx, dy := (d*at.gx-b*at.gy)/det, (a*at.gy-b*at.gx)/det
		step := math.Hypot(dx, dy) / (1 + c.r)
		if step <= 1e-15 || step < 1e-10 && step >= last {
			return at, true, steps
		}
		if step < 1e-8 && step*step <= 1e-16*last {
			// steps shrink by step/last each: the one after this is below rounding
			c.x, c.y = c.x+dx, c.y+dy
			return at, true, steps
		}
		next := ring{c.x + dx, c.y + dy, at.r}
		to := next.pass(ps)
		if to.sse > at.sse && step > 1e-6 {
			damp = max(10*damp, 1e-3)
			continue
		}
		*c = ring{next.x, next.y, to.r}
		at, last = to, step
		if damp /= 10; damp < 1e-6 {
			damp = 0
		}
	}
	return at, last < 1e-6, steps
}

// circle returns the result in the coordinates of the input. It uses up the cloud.
func (c ring) circle(cl cloud, at sums) Circle {
	n := len(cl.ps)
	out := Circle{N: n, DOF: n - 3, Residuals: make([]float64, n),
		Center: Point{cl.mean.X + float64(c.x*cl.scale), cl.mean.Y + float64(c.y*cl.scale)}}
	if det := at.xx*at.yy - at.xy*at.xy; det > 0 {
		q := [3]float64{at.yy / det, -at.xy / det, at.xx / det}
		bx, by := -(q[0]*at.ux + q[1]*at.uy), -(q[1]*at.ux + q[2]*at.uy)
		out.Cofactor = [3][3]float64{{q[0], q[1], bx}, {q[1], q[2], by}, {bx, by, 1/float64(n) - bx*at.ux - by*at.uy}}
	}
	var se float64
	for i, p := range cl.ps {
		dx, dy := p.X-c.x, p.Y-c.y
		cl.ps[i] = Point{dx, dy}
		e := math.Sqrt(float64(dx*dx)+float64(dy*dy)) - c.r
		out.Residuals[i] = e
		se += e
	}
	me := se / float64(n)
	out.Radius = (c.r + me) * cl.scale
	var sse float64
	for i, e := range out.Residuals {
		e = (e - me) * cl.scale
		out.Residuals[i] = e
		sse += float64(e * e)
	}
	out.RMS = math.Sqrt(sse / float64(n))
	if out.DOF > 0 {
		out.S = Known(math.Sqrt(sse / float64(out.DOF)))
		out.UCenter = Known(out.UCenterFor(out.S.V))
	}
	out.Arc = 2*math.Pi - largestGap(cl.ps)
	return out
}

// farthest returns the pair of points with the greatest distance along the line they
// all lie on (indices from 0).
func farthest(ps []Point) (i, j int) {
	for k, p := range ps {
		if less(p, ps[i]) {
			i = k
		}
		if less(ps[j], p) {
			j = k
		}
	}
	return min(i, j), max(i, j)
}

func less(a, b Point) bool { return a.X < b.X || a.X == b.X && a.Y < b.Y }

const epsilon = 0x1p-52

func sq(x float64) float64 { return x * x }

// largestEigen returns the larger eigenvalue of the symmetric matrix (a b; b c).
func largestEigen(a, b, c float64) float64 { return (a+c)/2 + math.Hypot((a-c)/2, b) }
