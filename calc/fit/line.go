package fit

import "math"

// Line is y = Intercept + Slope·x by ordinary least squares.
type Line struct {
	N, DOF             int
	Intercept, Slope   float64
	UIntercept, USlope Value         // standard uncertainties from the scatter; need DOF >= 1
	R                  Value         // correlation of x and y; not there when all y are equal
	S                  Value         // sqrt(SSE/DOF); needs DOF >= 1
	Straightness       Value         // largest minus smallest residual; needs DOF >= 1
	Cofactor           [2][2]float64 // covariance of (Intercept, Slope) for unit scatter
	Residuals          []float64     // reading minus line, in input order
	MeanX, Sxx         float64
}

// ToLine fits y on x.
//
//	x̄ = Σx/n   ȳ = Σy/n   Sxx = Σ(x-x̄)²   Sxy = Σ(x-x̄)(y-ȳ)
//	slope b = Sxy/Sxx      intercept a = ȳ - b·x̄
//	s² = Σe²/(n-2)         u(b) = s/√Sxx     u(a) = s·√(1/n + x̄²/Sxx)
//	r = Sxy/√(Sxx·Syy)     straightness = max e - min e
//
// Sums are centred, so an x far from zero costs no digits. Units: slope in y per x.
// Two points give the line and nothing about its quality. Fewer than two different
// x is a DegenerateError that names two readings at the same x.
// Source: JCGM 100:2008 H.3.
func ToLine(ps []Point) (Line, error) {
	if err := finitePoints("reading", ps); err != nil {
		return Line{}, err
	}
	n := len(ps)
	if n < 2 {
		return Line{}, &DegenerateError{What: "line", Why: TooFew, Need: 2, Got: n}
	}
	var mx, my float64
	for _, p := range ps {
		mx += p.X
		my += p.Y
	}
	mx, my = mx/float64(n), my/float64(n)
	var sxx, sxy, syy float64
	same := true
	for _, p := range ps {
		x, y := p.X-mx, p.Y-my
		sxx += float64(x * x)
		sxy += float64(x * y)
		syy += float64(y * y)
		same = same && p.X == ps[0].X
	}
	if same || sxx < nothing {
		return Line{}, &DegenerateError{What: "line", Why: Coincident, I: 1, J: 2}
	}
	l := Line{N: n, DOF: n - 2, MeanX: mx, Sxx: sxx, Slope: sxy / sxx}
	l.Intercept = my - float64(l.Slope*mx)
	l.Cofactor = [2][2]float64{{1/float64(n) + mx*mx/sxx, -mx / sxx}, {-mx / sxx, 1 / sxx}}
	l.Residuals = make([]float64, n)
	for i, p := range ps {
		l.Residuals[i] = (p.Y - my) - float64(l.Slope*(p.X-mx))
	}
	if syy > nothing {
		l.R = Known(math.Max(-1, math.Min(1, sxy/math.Sqrt(sxx*syy))))
	}
	l.scatter()
	return l, nil
}

// ToOrigin fits y = b·x, a line forced through the origin.
//
//	b = Σxy/Σx²   s² = Σe²/(n-1)   u(b) = s/√Σx²   R² = 1 - Σe²/Σy²
//
// R is the square root of that uncentred R² with the sign of b, as NIST StRD NoInt1
// has it. One point away from x = 0 gives the slope and nothing about its quality;
// all x zero is a DegenerateError. Source: NIST StRD, linear regression, NoInt1.
func ToOrigin(ps []Point) (Line, error) {
	if err := finitePoints("reading", ps); err != nil {
		return Line{}, err
	}
	n := len(ps)
	if n < 1 {
		return Line{}, &DegenerateError{What: "line through the origin", Why: TooFew, Need: 1, Got: n}
	}
	var mx, sxx, sxy, syy float64
	for _, p := range ps {
		mx += p.X / float64(n)
		sxx += float64(p.X * p.X)
		sxy += float64(p.X * p.Y)
		syy += float64(p.Y * p.Y)
	}
	if sxx < nothing {
		return Line{}, &DegenerateError{What: "line through the origin", Why: Coincident, I: 1, J: min(2, n)}
	}
	l := Line{N: n, DOF: n - 1, MeanX: mx, Sxx: sxx, Slope: sxy / sxx}
	l.Cofactor = [2][2]float64{{0, 0}, {0, 1 / sxx}}
	l.Residuals = make([]float64, n)
	for i, p := range ps {
		l.Residuals[i] = p.Y - float64(l.Slope*p.X)
	}
	if syy > nothing {
		r2 := math.Max(0, 1-sumSquares(l.Residuals)/syy)
		l.R = Known(math.Copysign(math.Sqrt(r2), l.Slope))
	}
	l.scatter()
	return l, nil
}

func (l *Line) scatter() {
	if l.DOF < 1 {
		return
	}
	s := math.Sqrt(sumSquares(l.Residuals) / float64(l.DOF))
	l.S = Known(s)
	l.Straightness = Known(span(l.Residuals))
	l.UIntercept = Known(float64(s * math.Sqrt(l.Cofactor[0][0])))
	l.USlope = Known(float64(s * math.Sqrt(l.Cofactor[1][1])))
}

// At returns the line at x and its standard uncertainty from the scatter.
//
//	y = a + b·x   u² = s²·(Q11 + 2x·Q12 + x²·Q22)
func (l Line) At(x float64) (y float64, u Value) {
	y = l.Intercept + float64(l.Slope*x)
	if l.S.Has {
		q := l.Cofactor[0][0] + 2*x*l.Cofactor[0][1] + x*x*l.Cofactor[1][1]
		u = Known(l.S.V * math.Sqrt(math.Max(0, q)))
	}
	return y, u
}

// Correlation returns r(intercept, slope), which does not depend on the scatter.
// It is not there for a line through the origin.
func (l Line) Correlation() Value {
	d := math.Sqrt(l.Cofactor[0][0] * l.Cofactor[1][1])
	if d == 0 {
		return Value{}
	}
	return Known(l.Cofactor[0][1] / d)
}

// Orthogonal is a line that minimises the distances square to itself.
type Orthogonal struct {
	N, DOF           int
	Through          Point // the mean point, always on the line
	Dir, Normal      Point // unit vectors; Normal is Dir turned counter-clockwise by 90°
	Angle            float64
	Intercept, Slope Value     // not there for a line parallel to Y
	S                Value     // sqrt(Σd²/(n-2)); needs DOF >= 1
	UAngle           Value     // S/√Spread, rad; needs DOF >= 1
	Straightness     Value     // needs DOF >= 1
	Residuals        []float64 // signed distances along Normal
	Spread           float64   // Σ of squared distances along Dir from Through
}

// ToOrthogonal fits by total least squares.
//
//	Sxx, Syy, Sxy centred;   angle = ½·atan2(2·Sxy, Sxx - Syy), in (-π/2, π/2]
//	u(angle) = s/√Spread     (from the scatter, first order)
//
// Both coordinates carry error, as with ball centres along a face. Two different
// points are exact. All points equal, or a cloud without a longest direction, is a
// DegenerateError. Source: K. Pearson 1901 (from memory), derived here.
func ToOrthogonal(ps []Point) (Orthogonal, error) {
	if err := finitePoints("reading", ps); err != nil {
		return Orthogonal{}, err
	}
	n := len(ps)
	if d, i, j := distinct(ps, 2); d < 2 {
		return Orthogonal{}, &DegenerateError{What: "line", Why: TooFew, Need: 2, Got: d, I: i, J: j}
	}
	var c Point
	for _, p := range ps {
		c = c.Add(p)
	}
	c = Point{c.X / float64(n), c.Y / float64(n)}
	var sxx, sxy, syy float64
	for _, p := range ps {
		d := p.Sub(c)
		sxx += float64(d.X * d.X)
		sxy += float64(d.X * d.Y)
		syy += float64(d.Y * d.Y)
	}
	if sxx+syy < nothing || math.Hypot(2*sxy, sxx-syy) <= 1e-12*(sxx+syy) {
		return Orthogonal{}, &DegenerateError{What: "direction of the line", Why: Unresolved}
	}
	o := Orthogonal{N: n, DOF: n - 2, Through: c}
	o.Angle = math.Atan2(2*sxy, sxx-syy) / 2
	sin, cos := math.Sincos(o.Angle)
	if o.Angle == math.Pi/2 {
		cos = 0
	}
	o.Dir, o.Normal = Point{cos, sin}, Point{-sin, cos}
	o.Residuals = make([]float64, n)
	for i, p := range ps {
		d := p.Sub(c)
		t := float64(d.X*cos) + float64(d.Y*sin)
		o.Spread += float64(t * t)
		o.Residuals[i] = float64(d.Y*cos) - float64(d.X*sin)
	}
	if math.Abs(cos) > 1e-12 {
		o.Slope = Known(sin / cos)
		o.Intercept = Known(c.Y - float64(sin/cos*c.X))
	}
	if o.DOF > 0 {
		o.S = Known(math.Sqrt(sumSquares(o.Residuals) / float64(o.DOF)))
		o.UAngle = Known(o.S.V / math.Sqrt(o.Spread))
		o.Straightness = Known(span(o.Residuals))
	}
	return o, nil
}

// Variance returns the variance of the line's place along Normal at distance t from
// Through, for scatter s: s²·(1/n + t²/Spread).
func (o Orthogonal) Variance(s, t float64) float64 {
	return s * s * (1/float64(o.N) + t*t/o.Spread)
}
