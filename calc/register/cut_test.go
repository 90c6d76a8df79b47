package register

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// Steps made from a motion and a size give both back, and growth of the part about its middle goes into the size alone.
func TestCutGivesBackItsMotion(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		within := func(h float64) float64 { return h * (2*rng.Float64() - 1) }
		m := frame.Motion{Shift: frame.Vec{X: within(0.1), Y: within(0.1)}, Turn: unit.Angle(within(1e-3))}
		w, h, size := 60+40*rng.Float64(), 40+30*rng.Float64(), within(0.02)
		s := Steps{At: h / 2, AwayAt: 0.85 * w, TowardAt: 0.15 * w, Off: 0.3, Touch: 0.001, Dof: 50}
		s.Right = 0.3 + size - m.Move(frame.Vec{X: w, Y: s.At}).X
		s.Left = -0.3 - size - m.Move(frame.Vec{X: 0, Y: s.At}).X
		s.Away = 0.3 + size - m.Move(frame.Vec{X: s.AwayAt, Y: h}).Y
		s.Toward = -0.3 - size - m.Move(frame.Vec{X: s.TowardAt, Y: 0}).Y
		c, err := s.Cut(frame.Vec{X: w / 2, Y: h / 2})
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range []float64{c.Motion.Shift.X - m.Shift.X, c.Motion.Shift.Y - m.Shift.Y, float64(c.Motion.Turn-m.Turn) * w, c.Size - size} {
			if math.Abs(d) > 6e-5 { // the square of the turn is left out
				t.Fatalf("made %+v size %g, solved %+v size %g", m, size, c.Motion, c.Size)
			}
		}
	}
	if _, err := (Steps{AwayAt: 10, TowardAt: 10}).Cut(frame.Vec{}); err == nil {
		t.Error("steps at one place show a turn")
	}
}

// The covariance is that of touches that scatter: 20000 sets of four differences, each of two touches.
func TestCutScatter(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	s := Steps{At: 32, AwayAt: 82, TowardAt: 14, Off: 0.3, Touch: 0.001, Dof: 50}
	base, _ := Steps{Right: 0.3, Left: -0.3, Away: 0.3, Toward: -0.3, At: 32, AwayAt: 82, TowardAt: 14, Off: 0.3, Touch: 0.001}.Cut(frame.Vec{X: 48, Y: 32})
	q := frame.Vec{X: 96, Y: 64}
	want := base.Motion.CovAt(q, base.Cov)
	const n = 20000
	var sum [2]float64
	for range n {
		d := func(v float64) float64 { return v + s.Touch*(rng.NormFloat64()-rng.NormFloat64()) }
		s.Right, s.Left, s.Away, s.Toward = d(0.3), d(-0.3), d(0.3), d(-0.3)
		c, _ := s.Cut(frame.Vec{X: 48, Y: 32})
		e := c.Motion.Move(q)
		sum[0], sum[1] = sum[0]+e.X*e.X/n, sum[1]+e.Y*e.Y/n
	}
	for axis, got := range sum {
		if r := math.Sqrt(got / want[axis][axis]); math.Abs(r-1) > 0.03 {
			t.Errorf("axis %d: scatters %.5f, stated %.5f", axis, math.Sqrt(got), math.Sqrt(want[axis][axis]))
		}
	}
}
