package register

import (
	"flag"
	"math"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
	"gonum.org/v1/gonum/mat"
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

// The second look: plane motions as homogeneous matrices.

func turn(a float64) *mat.Dense {
	s, c := math.Sincos(a)
	return mat.NewDense(3, 3, []float64{c, -s, 0, s, c, 0, 0, 0, 1})
}

func shift(v frame.Vec) *mat.Dense {
	return mat.NewDense(3, 3, []float64{1, 0, v.X, 0, 1, v.Y, 0, 0, 1})
}

func grow(q float64) *mat.Dense { return mat.NewDense(3, 3, []float64{q, 0, 0, 0, q, 0, 0, 0, 1}) }

func chain(ms ...mat.Matrix) *mat.Dense {
	out := mat.DenseCopyOf(ms[0])
	for _, m := range ms[1:] {
		var next mat.Dense
		next.Mul(out, m)
		out = &next
	}
	return out
}

func at(m mat.Matrix, p frame.Vec) frame.Vec {
	var v mat.VecDense
	v.MulVec(m, mat.NewVecDense(3, []float64{p.X, p.Y, 1}))
	return frame.Vec{X: v.AtVec(0), Y: v.AtVec(1)}
}

// stands is where a feature stands on the machine: the part from where it is held, the
// grown fixture from the bore to there, turned, at the bore.
func stands(f frame.Fixture, p frame.Vec) frame.Vec {
	return at(chain(shift(f.Bore), turn(float64(f.Skew)), grow(f.Q), shift(f.V.Add(f.Held)), grow(1/f.Q), shift(frame.Vec{X: -f.Held.X, Y: -f.Held.Y})), p)
}

func drawVec(t *rapid.T, name string, most float64) frame.Vec {
	return frame.Vec{X: rapid.Float64Range(-most, most).Draw(t, name+"x"), Y: rapid.Float64Range(-most, most).Draw(t, name+"y")}
}

// drawCov is a covariance of bore, skew and scale that hangs together.
func drawCov(t *rapid.T) (c frame.Cov4) {
	var l [4][4]float64
	for i, size := range []float64{2e-3, 2e-3, 3e-5, 2e-5} {
		for k := 0; k <= i; k++ {
			l[i][k] = size * rapid.Float64Range(0.1, 1).Draw(t, "l")
		}
	}
	for i := range c {
		for k := range c {
			for m := range c {
				c[i][k] += l[i][m] * l[k][m]
			}
		}
	}
	return c
}

func drawFixture(t *rapid.T) frame.Fixture {
	return frame.Fixture{Bore: drawVec(t, "bore", 300), V: drawVec(t, "v", 80), Held: drawVec(t, "held", 90), Skew: unit.Angle(rapid.Float64Range(-5e-3, 5e-3).Draw(t, "skew")),
		Q: 1 + rapid.Float64Range(-1e-3, 1e-3).Draw(t, "q"), Cov: drawCov(t)}
}

func drawSetup(t *rapid.T) Setup {
	f := drawFixture(t)
	pl := frame.Placement{Offset: drawVec(t, "offset", 300), Rotation: unit.Angle(rapid.Float64Range(-5e-3, 5e-3).Draw(t, "rotation"))}
	s := Setup{In: true, Offset: Offset{Place: pl, Fixture: f, Dof: rapid.Float64Range(2, 40).Draw(t, "dof")},
		Part:    Part{Size: [3]float64{84, 54, 14}, Against: []frame.Wall{frame.Left, frame.Away}, Clearance: 0.03, Alpha: 40e-6, Moves: WoodMoves(true), Beyond: [2]float64{0.02, -0.03}, WidthU: [2]float64{0.002, 0.003}},
		Machine: Machine{LostMotion: 0.005, Squareness: 1e-4, Probed: true}, Heat: Heat{Alpha: 70e-6, Asked: true, Known: true, Warmer: 3},
		Drift: 0.002, Lean: Lean{Tilt: [2]float64{2e-4, -3e-4}, FlipX: true}}
	s.Shift = &Shift{Dof: 14, Motion: frame.Motion{Shift: drawVec(t, "moved", 0.01), Turn: unit.Angle(rapid.Float64Range(-1e-3, 1e-3).Draw(t, "turned"))},
		Cov: [3][3]float64{{4e-6, 1e-6, -2e-8}, {1e-6, 5e-6, 3e-8}, {-2e-8, 3e-8, 9e-10}}}
	return s
}

// The error is where the feature stands, moved on its fixture and by its outline, less where the tool will cut.
func TestErrorByMatrices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, p := drawSetup(t), drawVec(t, "p", 90)
		pl, m := s.Offset.Place, s.Shift.Motion
		cut := at(chain(shift(pl.Offset), turn(float64(pl.Rotation))), p)
		want := stands(s.Offset.Fixture, p).Sub(cut)
		bare := s
		bare.In = false
		k := bare.At(Feature{"a", p})
		near(t, "x before", k.Error[0], want.X, 1e-9)
		near(t, "y before", k.Error[1], want.Y, 1e-9)
		if k.Kink != [2]float64{} {
			t.Fatalf("kink %v before the part is in", k.Kink)
		}
		want = want.Add(at(chain(shift(m.Shift), turn(float64(m.Turn))), p).Sub(p))
		want.X += 0.02 / 2  // against the left wall
		want.Y -= -0.03 / 2 // and the far one
		k = s.At(Feature{"a", p})
		near(t, "x", k.Error[0], want.X, 1e-9)
		near(t, "y", k.Error[1], want.Y, 1e-9)
	})
}

// One by one, bore, skew and scale are as a small change of each makes the feature stand elsewhere; together as J·C·Jᵀ.
func TestFixtureLinesByDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, p := drawSetup(t), drawVec(t, "p", 90)
		f := s.Offset.Fixture
		jac := mat.NewDense(2, 4, nil)
		for i, h := range []float64{1e-3, 1e-3, 1e-5, 1e-5} {
			up, down := f, f
			for _, c := range []struct {
				f *frame.Fixture
				h float64
			}{{&up, h}, {&down, -h}} {
				switch i {
				case 0:
					c.f.Bore.X += c.h
				case 1:
					c.f.Bore.Y += c.h
				case 2:
					c.f.Skew += unit.Angle(c.h)
				case 3:
					c.f.Q += c.h
				}
			}
			d := stands(up, p).Sub(stands(down, p)).Times(1 / (2 * h))
			jac.Set(0, i, d.X)
			jac.Set(1, i, d.Y)
		}
		flat := mat.NewDense(4, 4, nil)
		for i := range 4 {
			for k := range 4 {
				flat.Set(i, k, f.Cov[i][k])
			}
		}
		whole := chain(jac, flat, jac.T())
		apart := s
		for i := range 4 {
			for k := range 4 {
				if i != k {
					apart.Offset.Fixture.Cov[i][k] = 0
				}
			}
		}
		for axis := range 2 {
			near(t, "together", line(t, s.lines(p, axis), "bore, skew and scale").Std(), math.Sqrt(whole.At(axis, axis)), 1e-9)
			ls := apart.lines(p, axis)
			near(t, "bore", line(t, ls, "bore").Std(), math.Sqrt(f.Cov[axis][axis]), 1e-12)
			near(t, "skew", line(t, ls, "skew").Std(), math.Abs(jac.At(axis, 2))*math.Sqrt(f.Cov[2][2]), 1e-9)
			near(t, "scale", line(t, ls, "scale").Std(), math.Abs(jac.At(axis, 3))*math.Sqrt(f.Cov[3][3]), 1e-9)
			none(t, ls, "heat") // two bores measured it
			for _, one := range [][2]int{{0, 2}, {1, 2}, {0, 3}, {1, 3}, {2, 3}} {
				b := apart
				b.Offset.Fixture.Cov[one[0]][one[1]] = 1e-12
				b.Offset.Fixture.Cov[one[1]][one[0]] = 1e-12
				line(t, b.lines(p, axis), "bore, skew and scale")
			}
			j := mat.NewDense(1, 3, []float64{1, 0, -at(turn(float64(s.Shift.Motion.Turn)), p).Y})
			if axis == 1 {
				j = mat.NewDense(1, 3, []float64{0, 1, at(turn(float64(s.Shift.Motion.Turn)), p).X})
			}
			c := s.Shift.Cov
			v := chain(j, mat.NewDense(3, 3, []float64{c[0][0], c[0][1], c[0][2], c[1][0], c[1][1], c[1][2], c[2][0], c[2][1], c[2][2]}), j.T())
			got := line(t, ls, "shift test")
			near(t, "shift", got.Std(), math.Sqrt(v.At(0, 0)), 1e-12)
			near(t, "its dof", got.Dof, 14, 0)
			near(t, "drift", line(t, ls, "found at a recheck").Std(), 0.002/math.Sqrt(3), 1e-15)
		}
	})
}

func line(t failer, ls []budget.Line, name string) budget.Line {
	t.Helper()
	for _, l := range ls {
		if l.Name == name {
			return l
		}
	}
	t.Fatalf("no line %q in %v", name, ls)
	return budget.Line{}
}

func none(t failer, ls []budget.Line, name string) {
	t.Helper()
	for _, l := range ls {
		if l.Name == name {
			t.Fatalf("a line %q in %v", name, ls)
		}
	}
}

// A release decision on one axis, worked by another program: biased against two walls, and floating by 0.030 and 0.050.
func TestReleaseWorked(t *testing.T) {
	uBore, uSkew := 2e-3*math.Sqrt(2.0/6), 15.631660e-6
	base := Setup{In: true,
		Machine: Machine{LostMotion: 0.005, Squareness: 1e-4, Probed: true},
		Heat:    Heat{Alpha: 70e-6 + MachineAlpha, Asked: true},
		Lean:    Lean{Tilt: [2]float64{2.3e-3 / 2 / 14, 1}, FlipX: true}}
	q := frame.Vec{X: 54, Y: 50}
	for _, c := range []struct {
		name           string
		against        []frame.Wall
		width, vx      float64
		clearance      float64
		std, u, g, sum float64
		largest        string
	}{
		{"two walls", []frame.Wall{frame.Left, frame.Away}, 84, 100, 0.005, 9.796e-3, 19.201e-3, 16.114e-3, 23.414e-3, "moisture"},
		{"floating, 0.030", nil, 216, -8, 0.030, 19.688e-3, 35.928e-3, 31.597e-3, 38.897e-3, "clearance"},
		{"floating, 0.050", nil, 216, -8, 0.050, 30.347e-3, 52.824e-3, 47.710e-3, 55.010e-3, "clearance"},
	} {
		s := base
		s.Part = Part{Size: [3]float64{c.width, 46, 14}, Against: c.against, Clearance: c.clearance, Moves: WoodMoves(true)}
		f := frame.Fixture{V: frame.Vec{X: c.vx, Y: 20}, Held: s.Part.Held(), Q: 1, Skew: 1e-4, Cov: frame.Independent(uBore, uBore, uSkew, 0)}
		s.Offset = Offset{Place: f.Compromise(frame.Vec{}), Fixture: f, Dof: 30}
		k := s.At(Feature{"worst", q})
		std := budget.Combine(k.Lines[0]).Std
		near(t, c.name+": u", std, c.std, 1.5e-6)
		near(t, c.name+": U", k.U[0], c.u, 3e-6)
		near(t, c.name+": g", k.Guard[0], c.g, 3e-6)
		_, axis, value, guard := Worst([]Known{{Error: [2]float64{k.Error[0], 0}, Kink: [2]float64{k.Kink[0], 0}, Guard: [2]float64{k.Guard[0], 0}}})
		near(t, c.name+": axis", float64(axis), 0, 0)
		near(t, c.name+": value", value, 7.3e-3, 1e-6)
		near(t, c.name+": sum", value+guard, c.sum, 3e-6)
		if k.Largest[0] != c.largest {
			t.Errorf("%s: largest %s with %.2f, want %s", c.name, k.Largest[0], k.Share[0], c.largest)
		}
		if both := s.All([]Feature{{"worst", q}, {"zero", frame.Vec{}}}); both[0].Guard != k.Guard || both[1].Name != "zero" || both[1].At != (frame.Vec{}) {
			t.Errorf("%s: all features: %+v", c.name, both)
		}
		near(t, c.name+": share", k.Share[0], budget.Combine(k.Lines[0]).Share, 0)
	}
}

// What a lean at the swap takes sideways counts with either sign beside the error, and its doubt by the root of the squares.
func TestLeanAtTheSwap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, p := drawSetup(t), drawVec(t, "p", 90)
		level := s.At(Feature{"a", p})
		leaning := *s.Shift
		for a := range leaning.Side {
			leaning.Side[a], leaning.SideU[a] = rapid.Float64Range(-0.02, 0.02).Draw(t, "side"), rapid.Float64Range(1e-5, 0.01).Draw(t, "u")
		}
		s.Shift = &leaning
		k := s.At(Feature{"a", p})
		for a := range k.Kink {
			near(t, "error", k.Error[a], level.Error[a], 1e-12)
			near(t, "kink", k.Kink[a], level.Kink[a]+math.Abs(leaning.Side[a]), 1e-12)
			u2 := 0.0
			for _, l := range k.Lines[a] {
				u2 += l.Std() * l.Std()
			}
			was := 0.0
			for _, l := range level.Lines[a] {
				was += l.Std() * l.Std()
			}
			near(t, "variance", u2, was+leaning.SideU[a]*leaning.SideU[a], 1e-12)
			if k.Guard[a] <= level.Guard[a]*(1-1e-9) && leaning.SideU[a] > 1e-3 {
				t.Fatalf("guard %g of a lean with u %g, %g without", k.Guard[a], leaning.SideU[a], level.Guard[a])
			}
		}
	})
}
