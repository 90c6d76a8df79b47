package fit

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
)

// NIST/ITL Statistical Reference Datasets, Linear Regression, "Norris": data and
// certified values, verified copy.
var norrisX = []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
var norrisY = []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}

func points(x, y []float64) []Point {
	ps := make([]Point, len(x))
	for i := range x {
		ps[i] = Point{x[i], y[i]}
	}
	return ps
}

// digits is the log relative error: about how many significant digits agree.
func digits(got, want float64) float64 {
	if got == want {
		return 16
	}
	return math.Min(16, -math.Log10(math.Abs(got-want)/math.Abs(want)))
}

type certified struct {
	name      string
	got, want float64
}

func norris(t testing.TB) []certified {
	l, err := ToLine(points(norrisX, norrisY))
	if err != nil {
		t.Fatal(err)
	}
	return []certified{
		{"B0", l.Intercept, -0.262323073774029}, {"B1", l.Slope, 1.00211681802045},
		{"s(B0)", l.UIntercept.V, 0.232818234301152}, {"s(B1)", l.USlope.V, 0.429796848199937e-03},
		{"residual sd", l.S.V, 0.884796396144373}, {"R²", l.R.V * l.R.V, 0.999993745883712},
		{"residual SS", sumSquares(l.Residuals), 26.6173985294224},
	}
}

// NIST StRD "NoInt1": verified copy.
func noInt1(t testing.TB) []certified {
	var ps []Point
	for i := range 11 {
		ps = append(ps, Point{60 + float64(i), 130 + float64(i)})
	}
	l, err := ToOrigin(ps)
	if err != nil {
		t.Fatal(err)
	}
	return []certified{{"B1", l.Slope, 2.07438016528926}, {"s(B1)", l.USlope.V, 0.165289256198347e-01},
		{"residual sd", l.S.V, 3.56753034006338}, {"R²", l.R.V * l.R.V, 0.999365492298663}}
}

func TestLineNIST(t *testing.T) {
	for name, set := range map[string][]certified{"Norris": norris(t), "NoInt1": noInt1(t)} {
		for _, c := range set {
			if d := digits(c.got, c.want); d < 11 {
				t.Errorf("%s %s = %.15g, certified %.15g: %.1f digits, want 11", name, c.name, c.got, c.want, d)
			}
		}
	}
}

func BenchmarkLineNorris(b *testing.B) {
	ps := points(norrisX, norrisY)
	for b.Loop() {
		if _, err := ToLine(ps); err != nil {
			b.Fatal(err)
		}
	}
	report(b, norris(b)) // after the loop, whose start forgets metrics
}

func BenchmarkLineNoInt1(b *testing.B) {
	var ps []Point
	for i := range 11 {
		ps = append(ps, Point{60 + float64(i), 130 + float64(i)})
	}
	for b.Loop() {
		if _, err := ToOrigin(ps); err != nil {
			b.Fatal(err)
		}
	}
	report(b, noInt1(b))
}

// report gives the agreement with certified values as a metric: the worst, and each in
// the log.
func report(b *testing.B, set []certified) {
	worst := 16.0
	for _, c := range set {
		d := digits(c.got, c.want)
		b.Logf("%-12s %.15g  certified %.15g  %.1f digits", c.name, c.got, c.want, d)
		worst = math.Min(worst, d)
	}
	b.ReportMetric(worst, "digits")
}

// gonum as an independent reference, to its own rounding.
func TestLineAgainstGonum(t *testing.T) {
	l, err := ToLine(points(norrisX, norrisY))
	if err != nil {
		t.Fatal(err)
	}
	a, b := stat.LinearRegression(norrisX, norrisY, nil, false)
	near(t, "intercept", l.Intercept, a, 1e-11)
	near(t, "slope", l.Slope, b, 1e-13)
	near(t, "r", l.R.V, stat.Correlation(norrisX, norrisY, nil), 1e-13)
}

// JCGM 100:2008, H.3, Table H.6: verified copy; more digits computed here.
func TestLineThermometer(t *testing.T) {
	x := []float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	y := []float64{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}
	for i := range x {
		x[i] -= 20
	}
	l, err := ToLine(points(x, y))
	if err != nil {
		t.Fatal(err)
	}
	at30, u30 := l.At(10)
	for _, c := range []struct {
		name                      string
		got, printed, half, exact float64
	}{
		{"y1", l.Intercept, -0.1712, 5e-5, -0.17120379013135},
		{"u(y1)", l.UIntercept.V, 0.0029, 5e-5, 0.00287759783516},
		{"y2", l.Slope, 0.00218, 5e-6, 0.00218269773989},
		{"u(y2)", l.USlope.V, 0.00067, 5e-6, 0.00066793877323},
		{"r", l.Correlation().V, -0.930, 5e-4, -0.93042960309},
		{"b(30)", at30, -0.1494, 5e-5, -0.14937681273},
		{"u(b(30))", u30.V, 0.0041, 5e-5, 0.00413859575},
		{"s", l.S.V, 0.0035, 5e-5, 0.00349756396351},
	} {
		near(t, c.name+" as printed", c.got, c.printed, c.half)
		near(t, c.name, c.got, c.exact, 1e-11)
	}
	if l.S.Has && l.DOF != 9 {
		t.Errorf("dof %d, want 9", l.DOF)
	}
}

func TestLineDegenerate(t *testing.T) {
	type call struct {
		name string
		err  error
		why  Why
		i, j int
	}
	e := func(_ any, err error) error { return err }
	for _, c := range []call{
		{"none", e(ToLine(nil)), TooFew, 0, 0},
		{"one", e(ToLine([]Point{{1, 2}})), TooFew, 0, 0},
		{"same x", e(ToLine([]Point{{1, 2}, {1, 3}})), Coincident, 1, 2},
		{"origin only", e(ToOrigin([]Point{{0, 2}, {0, 3}})), Coincident, 1, 2},
		{"orthogonal twice", e(ToOrthogonal([]Point{{1, 2}, {1, 2}})), TooFew, 1, 2},
		{"orthogonal round", e(ToOrthogonal([]Point{{1, 0}, {0, 1}, {-1, 0}, {0, -1}})), Unresolved, 0, 0},
		{"plane on a line", e(ToPlane([]Point3{{0, 0, 0}, {1, 1, 0}, {3, 3, 1}, {2, 2, 0}})), Collinear, 1, 3},
		{"plane twice", e(ToPlane([]Point3{{0, 0, 0}, {1, 1, 0}, {0, 0, 1}})), TooFew, 1, 3},
		{"circle twice", e(ToCircle([]Point{{0, 0}, {1, 1}, {1, 1}})), TooFew, 2, 3},
		{"circle on a line", e(ToCircle([]Point{{0.1, 0.1}, {0.3, 0.3}, {0.2, 0.2}, {0.7, 0.7}})), Collinear, 1, 4},
		{"circle far on a line", e(ToCircle([]Point{{-312.445, 0}, {-312.445, 1}, {-312.445, 2.3}})), Collinear, 1, 3},
		{"circle flat", e(ToCircle([]Point{{0, 0.001}, {10, -0.001}, {20, 0.001}, {30, -0.001}, {40, 0.001}})), Flat, 0, 0},
		{"sweep twice", e(ToSweep([]float64{0, 1, 2 * math.Pi}, []float64{0, 0, 0}, 60)), TooFew, 1, 3},
	} {
		var d *DegenerateError
		if !errors.As(c.err, &d) {
			t.Errorf("%s: error %v, want a DegenerateError", c.name, c.err)
			continue
		}
		if d.Why != c.why || d.I != c.i || d.J != c.j {
			t.Errorf("%s: %v, pair %d %d; want %v, pair %d %d (%v)", c.name, d.Why, d.I, d.J, c.why, c.i, c.j, d)
		}
	}
	var v *ValueError
	for _, bad := range []float64{math.NaN(), math.Inf(1), -1e308} {
		for _, err := range []error{e(ToLine([]Point{{0, 0}, {1, bad}})), e(ToOrigin([]Point{{0, 0}, {bad, 1}})), e(ToOrthogonal([]Point{{0, 0}, {1, bad}})),
			e(ToCircle([]Point{{0, 0}, {1, bad}, {2, 3}})), e(ToPlane([]Point3{{0, 0, 0}, {1, 0, bad}, {0, 1, 0}}))} {
			if !errors.As(err, &v) || v.Index != 2 {
				t.Errorf("%v: error %v, want a ValueError at 2", bad, err)
			}
		}
	}
}

// Two points: exact, with nothing said about quality.
func TestLineOfTwo(t *testing.T) {
	l, err := ToLine([]Point{{0, 1}, {2, 5}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope", l.Slope, 2, 0)
	near(t, "intercept", l.Intercept, 1, 0)
	if l.S.Has || l.USlope.Has || l.UIntercept.Has || l.Straightness.Has {
		t.Errorf("two points claim a quality: %+v", l)
	}
	if l, err = ToLine([]Point{{0, 1}, {2, 1}, {3, 1}}); err != nil || l.R.Has || !l.S.Has || l.S.V != 0 {
		t.Errorf("equal readings: %+v %v, want no r and s 0", l, err)
	}
}
