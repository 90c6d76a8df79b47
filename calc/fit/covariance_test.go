package fit

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/budget"
)

// moments collects means and covariances of draws.
type moments struct {
	n    float64
	s    []float64
	prod [][]float64
}

func (m *moments) add(v ...float64) {
	if m.s == nil {
		m.s = make([]float64, len(v))
		for range v {
			m.prod = append(m.prod, make([]float64, len(v)))
		}
	}
	m.n++
	for i := range v {
		m.s[i] += v[i]
		for j := range v {
			m.prod[i][j] += v[i] * v[j]
		}
	}
}

func (m *moments) cov(i, j int) float64 { return m.prod[i][j]/m.n - m.s[i]*m.s[j]/(m.n*m.n) }

// compare holds drawn covariances against computed ones: 4000 draws put a variance within
// 2.2 % (one standard deviation); 10 % of the geometric mean of the variances is allowed.
func (m *moments) compare(t *testing.T, what string, want func(i, j int) float64) {
	t.Helper()
	for i := range m.s {
		for j := range i + 1 {
			near(t, what, m.cov(i, j), want(i, j), 0.10*math.Sqrt(want(i, i)*want(j, j)))
		}
	}
}

// Every covariance against drawing the readings anew, 4000 times.
func TestCovariancesByDrawing(t *testing.T) {
	const draws, s = 4000, 0.002
	rng := rand.New(rand.NewPCG(8, 8))
	hits := []float64{0, 0.5, 1.1, 2, 2.7, 3.4} // an arc, so that centre and radius correlate
	var circle, corner, plane, sweep moments
	var c Circle
	var k Corner
	var p Plane
	var w Sweep
	for range draws {
		ps := make([]Point, len(hits))
		for i, a := range hits {
			d := 3 + s*rng.NormFloat64()
			ps[i] = Point{d * math.Cos(a), d * math.Sin(a)}
		}
		var err error
		if c, err = ToCircle(ps); err != nil {
			t.Fatal(err)
		}
		circle.add(c.Center.X, c.Center.Y, c.Radius)

		var fs []FaceHit
		for _, u := range []float64{5, 20, 60} {
			// faces far out of square, scattered along their normals
			dx, dy := s*rng.NormFloat64(), s*rng.NormFloat64()
			fs = append(fs, FaceHit{turned(Point{-1 + dx, u}, -0.3), XPlus}, FaceHit{turned(Point{u, -1 + dy}, -0.2), YPlus})
		}
		if k, err = ToCorner(fs, EvenBall(1)); err != nil {
			t.Fatal(err)
		}
		corner.add(k.At.X, k.At.Y, k.Skew)

		zs := []Point3{{5, 5, 0}, {85, 5, 0}, {85, 55, 0}, {5, 55, 0}, {30, 30, 0}}
		for i := range zs {
			zs[i].Z = s * rng.NormFloat64()
		}
		if p, err = ToPlane(zs); err != nil {
			t.Fatal(err)
		}
		plane.add(p.At(45, 31), p.B, p.C)

		r := []float64{0, 0, 0, 0, 0}
		for i := range r {
			r[i] = s * rng.NormFloat64()
		}
		if w, err = ToSweep([]float64{0, 1, 2, 3, 4.5}, r, 60); err != nil {
			t.Fatal(err)
		}
		sweep.add(w.TiltX, w.TiltY)
	}
	cc, kc := c.Covariance(s), k.Covariance(s)
	circle.compare(t, "circle", func(i, j int) float64 { return cc[i][j] })
	corner.compare(t, "corner", func(i, j int) float64 { return kc[i][j] })
	if v := s * math.Sqrt(p.cofactorAt(45, 31)); math.Abs(math.Sqrt(plane.cov(0, 0))-v) > 0.05*v {
		t.Errorf("u of the plane %.6f, drawn %.6f", v, math.Sqrt(plane.cov(0, 0)))
	}
	for i := 1; i < 3; i++ {
		near(t, "tilt", plane.cov(i, i), s*s*p.Cofactor[i][i], 0.1*s*s*p.Cofactor[i][i])
	}
	sweep.compare(t, "sweep", func(i, j int) float64 { return s * s * w.Cofactor[i][j] })
}

// The motion at a feature, its fixture bore fitted anew from 4 hits in each set: the
// uncertainty computed from the pooled scatter covers what drawing finds.
func TestMotionUncertaintyByDrawing(t *testing.T) {
	const draws, s = 4000, 0.0009
	rng := rand.New(rand.NewPCG(2, 4))
	noise := func() float64 { return s * rng.NormFloat64() }
	bore := func() Point {
		var ps []Point
		for i := range 4 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i))
			d := 4 + noise()
			ps = append(ps, Point{d * cos, d * sin})
		}
		c, err := ToCircle(ps)
		if err != nil {
			t.Fatal(err)
		}
		return c.Center
	}
	var got moments
	var u Point
	pooled, falsely := 0.0, 0
	for range draws {
		w := func(a Axis, p Point) Witness {
			return Witness{a, p, []float64{noise(), noise()}, []float64{noise(), noise()}}
		}
		ws := []Witness{w(AxisX, Point{0, 27}), w(AxisY, Point{7, 0}), w(AxisY, Point{77, 0}),
			w(AxisZ, Point{5, 5}), w(AxisZ, Point{79, 5}), w(AxisZ, Point{79, 49}), w(AxisZ, Point{5, 49})}
		b, a := bore(), bore()
		ref := Reference{Before: Point3{b.X, b.Y, noise()}, After: Point3{a.X, a.Y, noise()}, Q: [3]float64{1, 1, 2}}
		m, err := ToMotion(ws, ref, budget.Spread{})
		if err != nil {
			t.Fatal(err)
		}
		if m.Dof != 14 {
			t.Fatalf("dof %v, want 14", m.Dof)
		}
		d, _ := m.At(Point{84, 54})
		got.add(d.X, d.Y)
		pooled += m.S * m.S
		if m.AnyReal() {
			falsely++
		}
		m2, _ := SolveMotion([]Difference{{AxisX, Point{0, 27}, 0, 1}, {AxisY, Point{7, 0}, 0, 1}, {AxisY, Point{77, 0}, 0, 1}}, ref.Q, budget.Spread{S: s, Dof: 14})
		_, u = m2.At(Point{84, 54})
	}
	near(t, "u x", math.Sqrt(got.cov(0, 0)), u.X, 0.05*u.X)
	near(t, "u y", math.Sqrt(got.cov(1, 1)), u.Y, 0.05*u.Y)
	near(t, "pooled s", math.Sqrt(pooled/draws), s, 0.02*s)
	share := float64(falsely) / draws
	t.Logf("quiet part called real in %.3f of sets", share)
	if share > 0.055 {
		t.Errorf("a quiet part is called real in %.3f of sets, want at most 0.05", share)
	}
}

// A witness that a rigid motion cannot explain is named if there are enough of them.
func TestMotionNamesBadWitness(t *testing.T) {
	ds := []Difference{{AxisX, Point{0, 5}, 0, 1}, {AxisX, Point{0, 50}, 0, 1}, {AxisY, Point{7, 0}, 0, 1}, {AxisY, Point{40, 0}, 0, 1}, {AxisY, Point{77, 0}, 0, 1},
		{AxisZ, Point{5, 5}, 0, 1}, {AxisZ, Point{79, 5}, 0, 1}, {AxisZ, Point{79, 49}, 0, 1}, {AxisZ, Point{5, 49}, 0, 1}}
	s := budget.Spread{S: 0.001, Dof: 18}
	for _, c := range []struct {
		bad  int
		want Verdict
	}{{3, Named}, {6, Unnamed}} {
		d := append([]Difference(nil), ds...)
		d[c.bad].D = 0.02
		m, err := SolveMotion(d, [3]float64{1, 1, 1}, s)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, b := range m.Bad {
			found = found || b == c.bad
		}
		if m.BadVerdict != c.want || !found {
			t.Errorf("witness %d bad: verdict %v, bad %v; want %v", c.bad, m.BadVerdict, m.Bad, c.want)
		}
	}
	// fewer Z witnesses give the lift alone; in plan three are needed
	m, err := SolveMotion([]Difference{{AxisZ, Point{5, 5}, 0.004, 1}, {AxisZ, Point{50, 5}, 0.006, 1}}, [3]float64{1, 1, 1}, s)
	if err != nil || m.Plan || !m.Lifted || m.Tilted || math.Abs(m.Lift-0.005) > 1e-12 {
		t.Errorf("two Z witnesses: %+v %v", m, err)
	}
	var e *DegenerateError
	if _, err := SolveMotion([]Difference{{AxisX, Point{0, 5}, 0, 1}, {AxisY, Point{0, 5}, 0, 1}}, [3]float64{}, s); !errors.As(err, &e) {
		t.Errorf("two witnesses in plan: %v", err)
	}
	if _, err := SolveMotion(ds, [3]float64{}, budget.Spread{}); err == nil {
		t.Error("motion without a known scatter")
	}
}

// Four points across a shallow hollow: the sagitta stands out of the residuals, but with
// one degree of freedom its curvature does not stand out of its uncertainty.
func TestFlatByUncertainty(t *testing.T) {
	const q, c = 0.0317, 0.01 // hollow, and a wiggle across it
	_, err := ToCircle([]Point{{-3, q - c}, {-1, -q + 3*c}, {1, -q - 3*c}, {3, q + c}})
	var d *DegenerateError
	if !errors.As(err, &d) || d.Why != Flat || d.Sagitta <= 3*d.RMS || d.Radius > 3*d.U {
		t.Errorf("%+v, want flat by uncertainty alone", err)
	}
}

// Short arcs: as long as the curvature shows, the fit follows it; then it says so.
func TestShortArcs(t *testing.T) {
	for _, c := range []struct {
		arc, s float64
		flat   bool
	}{{0.5, 1e-4, false}, {0.1, 1e-6, false}, {0.01, 1e-9, false}, {0.01, 1e-3, true}, {0.001, 1e-4, true}} {
		for seed := range uint64(20) {
			ps := scatteredCircle(12, Point{-312, 158}, 40, c.arc, c.s, seed)
			f, err := ToCircle(ps)
			var d *DegenerateError
			if c.flat {
				if !errors.As(err, &d) || d.Why != Flat {
					t.Errorf("arc %g, s %g: radius %g, error %v; want flat", c.arc, c.s, f.Radius, err)
				}
				continue
			}
			if err != nil {
				t.Errorf("arc %g, s %g: %v", c.arc, c.s, err)
				continue
			}
			if u := f.S.V * math.Sqrt(f.Cofactor[2][2]); math.Abs(f.Radius-40) > 8*u {
				t.Errorf("arc %g, s %g: radius %.6f ± %.2g, is 40", c.arc, c.s, f.Radius, u)
			}
		}
	}
}
