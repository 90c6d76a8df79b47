package witness

import (
	"flag"
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// One seed, so that a run is the same everywhere; -rapid.seed on the command line wins.
func init() {
	if err := flag.Set("rapid.seed", "20260301"); err != nil {
		panic(err)
	}
}

type failer interface {
	Helper()
	Fatalf(string, ...any)
}

func near(t failer, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Fatalf("%s = %.12g, want %.12g", what, got, want)
	}
}

// spots are a face along X, two far apart along Y and the top's four corners.
var spots = []Spot{{"left", fit.AxisX, fit.Point{X: 0, Y: 27}}, {"front left", fit.AxisY, fit.Point{X: 7}}, {"front right", fit.AxisY, fit.Point{X: 77}},
	{"near left", fit.AxisZ, fit.Point{X: 17, Y: 6}}, {"near right", fit.AxisZ, fit.Point{X: 67, Y: 6}}, {"far right", fit.AxisZ, fit.Point{X: 74, Y: 38}}, {"far left", fit.AxisZ, fit.Point{X: 10, Y: 38}}}

// about are n readings scattered about a mean.
func about(t *rapid.T, mean float64, n int) []float64 {
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = mean + rapid.Float64Range(-2e-3, 2e-3).Draw(t, "x")
	}
	return xs
}

// twice is how often a witness is read.
const twice = 2

func drawSet(t *rapid.T, repeats int) Set {
	s := Set{U: [2]float64{rapid.Float64Range(5e-4, 2e-3).Draw(t, "ux"), rapid.Float64Range(5e-4, 2e-3).Draw(t, "uy")}}
	s.Rim = about(t, rapid.Float64Range(-200, -199).Draw(t, "rim"), twice)
	s.Fixture = fit.Point3{X: rapid.Float64Range(-300, 300).Draw(t, "bx"), Y: rapid.Float64Range(-200, 200).Draw(t, "by"), Z: stat.Mean(s.Rim, nil)}
	for range spots {
		s.Reads = append(s.Reads, about(t, rapid.Float64Range(10, 10.02).Draw(t, "mean"), repeats))
	}
	return s
}

// Every single touch as an observation of its own, generalised least squares over all at
// once: where each witness stood, where the fixture stood in either set, and the motion.
func TestMovedByWholeSystem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "repeats")
		before, now := drawSet(t, twice), drawSet(t, n)
		before.U = now.U // the same instrument
		m, err := before.Baseline(spots, twice).Moved(spots, now, All, budget.Spread{S: 1e-4, Dof: 1e3})
		if err != nil {
			t.Fatalf("%v", err)
		}
		const motion, fixture = 6, 6
		unknowns := motion + fixture + len(spots)
		var rows, ys, vs []float64
		put := func(y, v float64, set func(row []float64)) {
			row := make([]float64, unknowns)
			set(row)
			rows, ys, vs = append(rows, row...), append(ys, y), append(vs, v)
		}
		for k, s := range []Set{before, now} {
			for i, v := range []float64{s.U[0] * s.U[0], s.U[1] * s.U[1]} {
				put(s.Of(fit.Axis(i)), v, func(r []float64) { r[motion+3*k+i] = 1 })
			}
			for _, z := range s.Rim {
				put(z, m.S*m.S, func(r []float64) { r[motion+3*k+2] = 1 })
			}
			for i, sp := range spots {
				for _, x := range s.Reads[i] {
					put(x, m.S*m.S, func(r []float64) {
						r[motion+3*k+int(sp.Axis)], r[motion+fixture+i] = 1, 1
						if k == 1 {
							copy(r[:6], [][]float64{{1, 0, -sp.At.Y, 0, 0, 0}, {0, 1, sp.At.X, 0, 0, 0}, {0, 0, 0, 1, sp.At.X, sp.At.Y}}[sp.Axis])
						}
					})
				}
			}
		}
		w := mat.NewDiagDense(len(vs), nil)
		for i, v := range vs {
			w.SetDiag(i, 1/v)
		}
		a := mat.NewDense(len(ys), unknowns, rows)
		var aw, normal, right, cov, x mat.Dense
		aw.Mul(a.T(), w)
		normal.Mul(&aw, a)
		right.Mul(&aw, mat.NewDense(len(ys), 1, ys))
		if err := cov.Inverse(&normal); err != nil && !strings.Contains(err.Error(), "condition") {
			t.Fatalf("%v", err)
		}
		x.Mul(&cov, &right)
		for i, got := range []float64{m.Move.X, m.Move.Y, m.Turn, m.Lift, m.TiltX, m.TiltY} {
			near(t, "motion", got, x.At(i, 0), 1e-7)
		}
		for i := range 3 {
			for k := range 3 {
				near(t, "covariance in plan", m.PlanCov[i][k], cov.At(i, k), 1e-6*math.Sqrt(cov.At(i, i)*cov.At(k, k)))
				near(t, "covariance of the lift", m.LiftCov[i][k], cov.At(3+i, 3+k), 1e-6*math.Sqrt(cov.At(3+i, 3+i)*cov.At(3+k, 3+k)))
			}
		}
	})
}

// Pooled by hand: sums of squares about the means over Σ(n - 1), both sets together, and not below the floor.
func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, b := drawSet(t, 3), drawSet(t, 2)
		ss, dof := 0.0, 0.0
		for _, set := range []Set{s, b} {
			for _, xs := range append([][]float64{set.Rim}, set.Reads...) {
				ss += stat.Variance(xs, nil) * float64(len(xs)-1)
				dof += float64(len(xs) - 1)
			}
		}
		m, err := b.Baseline(spots, twice).Moved(spots, s, All, budget.Spread{S: 1e-9, Dof: 1e3})
		if err != nil {
			t.Fatalf("%v", err)
		}
		near(t, "scatter", m.S, math.Sqrt(ss/dof), 1e-9)
		near(t, "dof", m.Dof, dof, 0)
		m, err = b.Baseline(spots, twice).Moved(spots, s, All, budget.Spread{S: 0.5, Dof: 1e3})
		if err != nil {
			t.Fatalf("%v", err)
		}
		near(t, "floor", m.S, 0.5, 0)
	})
}

// The fixture carried off as a whole, probe and all, is no motion; the part carried along with a motion is that motion.
func TestMovedFindsMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawSet(t, 2)
		base := b.Baseline(spots, twice)
		off := fit.Point3{X: rapid.Float64Range(-5, 5).Draw(t, "x"), Y: rapid.Float64Range(-5, 5).Draw(t, "y"), Z: rapid.Float64Range(-5, 5).Draw(t, "z")}
		d := [6]float64{}
		for i := range d {
			d[i] = rapid.Float64Range(-1e-2, 1e-2).Draw(t, "d")
		}
		now := Set{U: b.U, Fixture: fit.Point3{X: b.Fixture.X + off.X, Y: b.Fixture.Y + off.Y, Z: b.Fixture.Z + off.Z}}
		for _, z := range b.Rim {
			now.Rim = append(now.Rim, z+off.Z)
		}
		for i, sp := range spots {
			by := [3]float64{off.X + d[0] - d[2]*sp.At.Y, off.Y + d[1] + d[2]*sp.At.X, off.Z + d[3] + d[4]*sp.At.X + d[5]*sp.At.Y}[sp.Axis]
			var xs []float64
			for _, x := range b.Reads[i] {
				xs = append(xs, x+by)
			}
			now.Reads = append(now.Reads, xs)
		}
		m, err := base.Moved(spots, now, All, budget.Spread{S: 1e-4, Dof: 1e3})
		if err != nil {
			t.Fatalf("%v", err)
		}
		for i, got := range []float64{m.Move.X, m.Move.Y, m.Turn, m.Lift, m.TiltX, m.TiltY} {
			near(t, "motion", got, d[i], 1e-9)
		}
		h, err := base.Moved(spots, Set{Rim: now.Rim, Fixture: fit.Point3{Z: now.Fixture.Z}, Reads: append([][]float64{nil, nil, nil}, now.Reads[3:]...)}, Heights, budget.Spread{S: 1e-4, Dof: 1e3})
		if err != nil {
			t.Fatalf("%v", err)
		}
		near(t, "lift alone", h.Lift, d[3], 1e-9)
		if h.Plan || len(h.Shifts) != 4 {
			t.Fatalf("heights alone: %+v", h)
		}
		tops := []float64{}
		for _, sp := range spots[3:] {
			tops = append(tops, d[3]+d[4]*sp.At.X+d[5]*sp.At.Y)
		}
		most := slices.MaxFunc(tops, func(a, b float64) int { return int(math.Copysign(1, math.Abs(a)-math.Abs(b))) })
		near(t, "lifted", Lifted(m).D, most, 1e-9)
		near(t, "lifted, heights alone", Lifted(h).D, most, 1e-9)
	})
}

func TestMovedRefuses(t *testing.T) {
	s := Set{Rim: []float64{0, 0.001}, Reads: [][]float64{{1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}}}
	b := s.Baseline(spots, twice)
	for _, c := range []struct {
		name  string
		b     Baseline
		s     Set
		floor float64
		want  string
	}{
		{"other job", Baseline{Repeats: twice, Differ: b.Differ[:3]}, s, 1e-3, "the baseline has 3 witnesses and the job 7; read the baseline again"},
		{"none read", b, Set{Rim: s.Rim}, 1e-3, `witness "left" was not read; read it`},
		{"one missing", b, Set{Rim: s.Rim, Reads: append(append([][]float64{}, s.Reads[:6]...), nil)}, 1e-3, `witness "far left" was not read; read it`},
		{"no scatter", Baseline{Repeats: twice, Differ: b.Differ}, Set{Reads: s.Reads}, 0, "no scatter"},
	} {
		if _, err := c.b.Moved(spots, c.s, All, budget.Spread{S: c.floor, Dof: 1e3}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// A rigid motion worked by another program: one witness each way that is beyond its own
// limit or not, the motion, and the worst corner with its guard. Scatter 0.0009 with 14
// degrees of freedom, two touches a set, a bore by four hits a set.
func TestShiftWorked(t *testing.T) {
	const s = 0.0009
	plan := spots[:3]
	pair := func(mean float64) []float64 { return []float64{mean - s/math.Sqrt2, mean + s/math.Sqrt2} }
	now := Set{U: [2]float64{s / math.Sqrt2, s / math.Sqrt2}, Rim: pair(0), Reads: [][]float64{pair(0.0015), pair(0.0020), pair(0.0090)}}
	m, err := Baseline{Repeats: twice, Spread: budget.Spread{S: s, Dof: 10}, Differ: []float64{0, 0, 0}}.Moved(plan, now, All, budget.Spread{S: 0.0005, Dof: 1e3})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "dof", m.Dof, 14, 0)
	near(t, "one witness", m.Shifts[0].U, 0.001273, 5e-7)
	near(t, "turn", m.Turn, 0.1e-3, 1e-12)
	near(t, "dx", m.Move.X, 0.0042, 1e-12)
	near(t, "dy", m.Move.Y, 0.0013, 1e-12)
	corners := []frame.Vec{{X: 0, Y: 0}, {X: 84, Y: 0}, {X: 84, Y: 54}, {X: 0, Y: 54}}
	for i, want := range []frame.Vec{{X: 0.0042, Y: 0.0013}, {X: 0.0042, Y: 0.0097}, {X: -0.0012, Y: 0.0097}, {X: -0.0012, Y: 0.0013}} {
		d, _ := m.At(fit.Point{X: corners[i].X, Y: corners[i].Y})
		near(t, "x", d.X, want.X, 1e-9)
		near(t, "y", d.Y, want.Y, 1e-9)
	}
	i, axis, value, guard := Worst(m, corners, 0)
	if i != 1 || axis != 1 {
		t.Errorf("worst at %d along %d", i, axis)
	}
	near(t, "value", value, 0.0097, 1e-9)
	near(t, "guard", guard, 0.002362, 5e-7)
}

func TestWorst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, err := drawSet(t, 2).Baseline(spots, twice).Moved(spots, drawSet(t, 2), All, budget.Spread{S: 1e-4, Dof: 1e3})
		if err != nil {
			t.Fatalf("%v", err)
		}
		var at []frame.Vec
		for range rapid.IntRange(1, 6).Draw(t, "n") {
			at = append(at, frame.Vec{X: rapid.Float64Range(-90, 90).Draw(t, "x"), Y: rapid.Float64Range(-90, 90).Draw(t, "y")})
		}
		h := rapid.Float64Range(0, 40).Draw(t, "height")
		lean := [2]float64{h * math.Abs(m.TiltX), h * math.Abs(m.TiltY)}
		uLean := [2]float64{h * math.Sqrt(m.LiftCov[1][1]), h * math.Sqrt(m.LiftCov[2][2])}
		most := math.Inf(-1)
		for _, q := range at {
			d := frame.Motion{Turn: 0, Shift: frame.Vec{X: m.Move.X - m.Turn*q.Y, Y: m.Move.Y + m.Turn*q.X}}.Shift
			c := frame.Motion{}.CovAt(q, m.PlanCov)
			for a, x := range []float64{d.X, d.Y} {
				most = math.Max(most, math.Abs(x)+lean[a]+budget.TQuantile(0.95, m.Dof)*math.Sqrt(c[a][a]+uLean[a]*uLean[a]))
			}
		}
		i, axis, v, g := Worst(m, at, h)
		near(t, "sum", v+g, most, 1e-12)
		d, u := m.At(fit.Point{X: at[i].X, Y: at[i].Y})
		near(t, "value", v, math.Abs([]float64{d.X, d.Y}[axis])+lean[axis], 1e-15)
		near(t, "guard", g, m.Guard(math.Hypot([]float64{u.X, u.Y}[axis], uLean[axis])), 1e-15)
	})
	if _, _, v, g := Worst(fit.Motion{Dof: 3}, nil, 9); v != 0 || g != 0 {
		t.Error("without places")
	}
}
