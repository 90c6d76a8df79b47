package pickup

import (
	"math"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// A ball off the axis in its ring, before and after half a turn of the spindle, which carries it to the other side.
func TestBall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := Ball{RX: draw(t, "rx", 0.98, 0.99), RY: draw(t, "ry", 0.98, 0.99), EX: draw(t, "ex", -0.02, 0.02), EY: draw(t, "ey", -0.02, 0.02)}
		const ring = 25.0006
		c := frame.Vec{X: draw(t, "x", -200, 200), Y: draw(t, "y", -200, 200)}
		hits := func(s float64) fit.Touches {
			return fit.Touches{XPlus: c.X + s*b.EX + ring/2 - b.RX, XMinus: c.X + s*b.EX - ring/2 + b.RX, YPlus: c.Y + s*b.EY + ring/2 - b.RY, YMinus: c.Y + s*b.EY - ring/2 + b.RY}
		}
		got, err := BallOf(ring, 2, hits(1), hits(-1))
		if err != nil {
			t.Fatalf("%v", err)
		}
		near(t, "rx", got.RX, b.RX, 1e-9)
		near(t, "ry", got.RY, b.RY, 1e-9)
		near(t, "ex", got.EX, b.EX, 1e-9)
		near(t, "ey", got.EY, b.EY, 1e-9)
		near(t, "mean", b.Mean(), (b.RX+b.RY)/2, 1e-15)
		near(t, "runs", b.Runs(), frame.Vec{X: b.EX, Y: b.EY}.Len(), 0)
		// the two turns need not agree: their mean counts
		back := hits(-1)
		back.XPlus -= 0.004
		back.YMinus += 0.002
		got, _ = BallOf(ring, 2, hits(1), back)
		near(t, "mean of the turns, x", got.RX, b.RX+0.001, 1e-9)
		near(t, "mean of the turns, y", got.RY, b.RY+0.0005, 1e-9)
		d, e := got.Changed(Ball{RX: got.RX + 0.002, RY: got.RY - 0.003, EX: got.EX + 0.003, EY: got.EY - 0.004})
		near(t, "radius changed", d, 0.003, 1e-12)
		near(t, "stands elsewhere", e, 0.005, 1e-12)
		d, _ = got.Changed(Ball{RX: got.RX + 0.004, RY: got.RY - 0.003})
		near(t, "radius changed", d, 0.004, 1e-12)
		for _, dy := range []float64{-0.006, 0.006} {
			d, _ = got.Changed(Ball{RX: got.RX + 0.004, RY: got.RY + dy})
			near(t, "radius changed", d, 0.006, 1e-12)
		}
		for i, bad := range []fit.Touches{{XPlus: 1, XMinus: 2}, hits(1)} {
			if _, err := BallOf(ring, 2, bad, fit.Touches{XPlus: 1, XMinus: 2}); err == nil {
				t.Fatalf("set %d of swapped hits", i)
			}
		}
	})
}

func TestHitSpread(t *testing.T) {
	pairs := [][2]float64{{1, 1.002}, {2, 2}, {3, 2.999}, {5, 5.001}}
	ss := (0.002*0.002 + 0.001*0.001 + 0.001*0.001) / 2 // Σ of squares about the means
	s, worse := HitSpread(pairs, budget.Spread{S: 0.001, Dof: 20}, 0.0001)
	near(t, "pooled", s.S, math.Sqrt((20*0.001*0.001+ss)/24), 1e-12)
	near(t, "dof", s.Dof, 24, 0)
	if worse {
		t.Error("worse")
	}
	s, worse = HitSpread(pairs, budget.Spread{S: 0.0001, Dof: 20}, 0.0001)
	near(t, "today's", s.S, math.Sqrt(ss/4), 1e-12)
	near(t, "dof", s.Dof, 4, 0)
	if !worse {
		t.Error("not worse")
	}
	// today's with 4 dof is 1.95 times the card's with 30: F = 3.80, short of the 1 % point, 4.02 (printed tables, from memory)
	if _, worse = HitSpread(pairs, budget.Spread{S: math.Sqrt(ss/4) / 1.95, Dof: 30}, 0.0001); worse {
		t.Error("worse within chance")
	}
	if _, worse = HitSpread(pairs, budget.Spread{S: math.Sqrt(ss/4) / 2.02, Dof: 30}, 0.0001); !worse {
		t.Error("not worse beyond chance")
	}
	s, _ = HitSpread(pairs, budget.Spread{S: 0.001, Dof: 900}, 0.01)
	near(t, "readout", s.S, 0.01/math.Sqrt(12), 1e-15)
	near(t, "most", s.Dof, 200, 0)
}

// A sweep worked by another program: radius 60, four readings.
func TestSweepWorked(t *testing.T) {
	q := math.Pi / 2
	s, err := Sweep([]float64{0, q, 2 * q, 3 * q}, []float64{0.030, 0.008, -0.018, 0.000}, 0.031, 60, fit.Scale{V: 1}, 0.002)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tilt x", s.TiltX, 0.4e-3, 1e-12)
	near(t, "tilt y", s.TiltY, 0.004/60, 1e-12)
	near(t, "closing", s.Closing, 0.001, 1e-12)
	un, ok := s.Unflat()
	near(t, "unflat", un, 0.004, 1e-12)
	if !ok {
		t.Error("four have a redundancy")
	}
	near(t, "shim", Shim(-0.4e-3, 300), 0.12, 1e-12)
}

// Heights of a leaning plane under a dial that runs backward; u by the normal equations in matrices.
func TestSweepOfPlane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{3, 4, 6}).Draw(t, "n")
		tx, ty, r := draw(t, "tx", -1e-3, 1e-3), draw(t, "ty", -1e-3, 1e-3), draw(t, "r", 40, 150)
		scale := fit.Scale{V: -0.9, Rel: 0.02}
		noise := rapid.SampledFrom([]float64{0, 0.05, -0.05}).Draw(t, "noise")
		angles, readings := make([]float64, n), make([]float64, n)
		rows := mat.NewDense(n, 3, nil)
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			z := tx*r*math.Cos(a) + ty*r*math.Sin(a) + noise*float64(1-2*(i%2)) // what no plane has
			angles[i], readings[i] = a, z/scale.V
			rows.SetRow(i, []float64{1, r * math.Cos(a), r * math.Sin(a)})
		}
		const closing = 0.003
		s, err := Sweep(angles, readings, readings[0]+closing, r, scale, 0.002)
		if err != nil {
			t.Fatalf("%v", err)
		}
		u := budget.Spread{S: 0.9 * 0.002 / math.Sqrt(12), Dof: TypeB}
		unflat, ok := s.Unflat()
		switch {
		case n == 3:
			if ok {
				t.Fatal("three make any plane")
			}
		case noise != 0:
			near(t, "tilt x", s.TiltX, tx, 1e-9)
			near(t, "tilt y", s.TiltY, ty, 1e-9)
			// only alternating heights are left, n of them, of that size
			u = budget.Spread{S: math.Abs(noise) * math.Sqrt(float64(n)/float64(n-3)), Dof: float64(n - 3)}
			if r := u.S / (0.9 * 0.002 / math.Sqrt(12)); r*r < budget.FQuantile(0.99, u.Dof, TypeB) {
				t.Fatal("not worse beyond chance")
			}
			want := 4 * math.Abs(noise) // (r0 + r180) - (r90 + r270)
			if n != 4 {
				want = 4 * u.S
			}
			near(t, "unflat", unflat, want, 1e-9)
		default:
			near(t, "tilt x", s.TiltX, tx, 1e-9)
			near(t, "tilt y", s.TiltY, ty, 1e-9)
			near(t, "unflat", unflat, 0, 1e-9)
		}
		var normal, cov mat.Dense
		normal.Mul(rows.T(), rows)
		if err := cov.Inverse(&normal); err != nil {
			t.Fatalf("%v", err)
		}
		drift := closing * 0.9 / math.Sqrt(3) / r
		near(t, "ux", s.UX, math.Sqrt(u.S*u.S*cov.At(1, 1)+drift*drift+math.Pow(s.TiltX*0.02, 2)), 1e-12)
		near(t, "uy", s.UY, math.Sqrt(u.S*u.S*cov.At(2, 2)+drift*drift+math.Pow(s.TiltY*0.02, 2)), 1e-12)
		near(t, "dof", s.Dof, u.Dof, 0)
	})
	if _, err := Sweep([]float64{0, 1}, []float64{0, 0}, 0, 60, fit.Scale{V: 1}, 0.001); err == nil {
		t.Error("two readings")
	}
}
