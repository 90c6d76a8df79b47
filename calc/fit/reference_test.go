package fit

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/budget"

	"gonum.org/v1/gonum/mat"
)

// gonum as an independent reference for everything linear: Householder QR.

// qr solves rows·x = y and returns x and (rowsᵀ·rows)⁻¹.
func qr(rows [][]float64, y []float64) (x []float64, cof *mat.Dense) {
	a := mat.NewDense(len(rows), len(rows[0]), nil)
	for i, r := range rows {
		a.SetRow(i, r)
	}
	var f mat.QR
	f.Factorize(a)
	var v mat.VecDense
	if err := f.SolveVecTo(&v, false, mat.NewVecDense(len(y), y)); err != nil {
		panic(err)
	}
	var n, inv mat.Dense
	n.Mul(a.T(), a)
	if err := inv.Inverse(&n); err != nil {
		panic(err)
	}
	return v.RawVector().Data, &inv
}

func TestPlaneAndSweepAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for range 20 {
		n := 4 + rng.IntN(9)
		ps := make([]Point3, n)
		rows, y := make([][]float64, n), make([]float64, n)
		for i := range ps {
			ps[i] = Point3{100 * rng.Float64(), 60 * rng.Float64(), rng.NormFloat64()}
			rows[i], y[i] = []float64{1, ps[i].X, ps[i].Y}, ps[i].Z
		}
		x, cof := qr(rows, y)
		p, err := ToPlane(ps)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "a", p.A, x[0], 1e-10)
		near(t, "b", p.B, x[1], 1e-12)
		near(t, "c", p.C, x[2], 1e-12)
		near(t, "cofactor bb", p.Cofactor[1][1], cof.At(1, 1), 1e-10*cof.At(1, 1)+1e-13)
		near(t, "cofactor bc", p.Cofactor[1][2], cof.At(1, 2), 1e-10)
		near(t, "u at the origin", math.Sqrt(p.cofactorAt(0, 0)), math.Sqrt(cof.At(0, 0)), 1e-9)

		angles := make([]float64, n)
		for i := range angles {
			angles[i] = 2 * math.Pi * rng.Float64()
			rows[i] = []float64{1, math.Cos(angles[i]), math.Sin(angles[i])}
		}
		x, cof = qr(rows, y)
		s, err := ToSweep(angles, y, 60)
		if err != nil {
			t.Fatal(err)
		}
		slack := 1e-12 * (1 + cof.At(0, 0) + cof.At(1, 1) + cof.At(2, 2))
		near(t, "mean", s.Mean, x[0], slack)
		near(t, "B", s.B, x[1], slack)
		near(t, "C", s.C, x[2], slack)
		near(t, "cofactor", s.Cofactor[0][1]*3600, cof.At(1, 2), slack*100)
	}
}

// The whole motion, reference included, as one generalised least squares problem: every
// witness correlated with the others of its axis through the fixture's witness.
func TestMotionAgainstGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	for range 20 {
		var ds []Difference
		for i := range 9 {
			ds = append(ds, Difference{Axis: Axis(i % 3), At: Point{100 * rng.Float64(), 60 * rng.Float64()}, D: 0.01 * rng.NormFloat64(), Q: []float64{1, 2.0 / 3, 1.5}[rng.IntN(3)]})
		}
		ref := [3]float64{1, 0.8, 0.5}
		s := budget.Spread{S: 0.0009, Dof: 14}
		m, err := SolveMotion(ds, ref, s)
		if err != nil {
			t.Fatal(err)
		}
		n := len(ds)
		v := mat.NewSymDense(n, nil)
		a := mat.NewDense(n, 6, nil)
		y := mat.NewVecDense(n, nil)
		for i, d := range ds {
			y.SetVec(i, d.D)
			switch d.Axis {
			case AxisX:
				a.SetRow(i, []float64{1, 0, -d.At.Y, 0, 0, 0})
			case AxisY:
				a.SetRow(i, []float64{0, 1, d.At.X, 0, 0, 0})
			default:
				a.SetRow(i, []float64{0, 0, 0, 1, d.At.X, d.At.Y})
			}
			for k := range i + 1 {
				c := 0.0
				if ds[k].Axis == d.Axis {
					c = ref[d.Axis]
				}
				if k == i {
					c += d.Q
				}
				v.SetSym(i, k, c)
			}
		}
		var chol mat.Cholesky
		if !chol.Factorize(v) {
			t.Fatal("covariance not positive")
		}
		var va, nm, inv mat.Dense
		var vy, g, x mat.VecDense
		chol.SolveTo(&va, a)
		chol.SolveVecTo(&vy, y)
		nm.Mul(a.T(), &va)
		g.MulVec(a.T(), &vy)
		if err := inv.Inverse(&nm); err != nil {
			t.Fatal(err)
		}
		x.MulVec(&inv, &g)
		for i, got := range []float64{m.Move.X, m.Move.Y, m.Turn, m.Lift, m.TiltX, m.TiltY} {
			near(t, "motion", got, x.AtVec(i), 1e-11)
		}
		for i := range 3 {
			for k := range 3 {
				near(t, "plan covariance", m.PlanCov[i][k], s.S*s.S*inv.At(i, k), 1e-15)
				near(t, "lift covariance", m.LiftCov[i][k], s.S*s.S*inv.At(3+i, 3+k), 1e-15)
			}
		}
	}
}
