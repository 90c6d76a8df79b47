package pickup

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Runs drawn: the axis leans by the same at each, the dial scatters by its own. The mean scatters as it says.
func TestRunsDrawn(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 11))
	const straightness, own, trials = 0.003, 1.2e-5, 40000
	for _, lever := range []float64{150, -90} {
		one := Heading{Lever: lever, U: math.Hypot(own, straightness/math.Sqrt(3)/math.Abs(lever))}
		for n := 1; n <= 4; n++ {
			var mean Heading
			square := 0.0
			for range trials {
				axis := straightness * (2*r.Float64() - 1) / lever
				var s Runs
				for range n {
					h := one
					h.Theta = axis + own*r.NormFloat64()
					s.Add(h)
					mean = s.Mean(h, straightness)
				}
				square += mean.Theta * mean.Theta / trials
			}
			near(t, "u of the mean", mean.U, math.Sqrt(square), 0.03*mean.U) // a few of the runs in 370 are dropped
		}
	}
}

// One run is itself; more are never surer than the axis, never less sure than one. One that lies apart stands alone, one that
// does not goes with the others.
func TestRunsProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := Heading{Theta: draw(t, "theta", -1e-3, 1e-3), U: draw(t, "u", 1e-6, 1e-4), Lever: draw(t, "lever", -300, 300), Rise: 0.01}
		wander := draw(t, "straightness", 0, 0.01)
		if got := (Runs{}).Mean(h, wander); got != h {
			t.Fatalf("no run: %+v", got)
		}
		var s Runs
		s.Add(h)
		one := s.Mean(h, wander)
		near(t, "one run", one.Theta, h.Theta, 0)
		near(t, "u of one run", one.U, h.U, 1e-15)
		next := h
		next.Theta += h.U * draw(t, "off", -4.2, 4.2) // 3 √2 = 4.24
		s.Add(next)
		two := s.Mean(next, wander)
		near(t, "two runs", two.Theta, (h.Theta+next.Theta)/2, 1e-15)
		if axis := math.Min(h.U, wander/math.Sqrt(3)/math.Abs(h.Lever)); two.U > h.U*(1+1e-12) || two.U < axis*(1-1e-12) {
			t.Fatalf("u of two runs %g, of one %g, of the axis %g", two.U, h.U, axis)
		}
		moved := next
		moved.Theta = two.Theta + math.Copysign(4.3, draw(t, "way", -1, 1))*h.U
		s.Add(moved)
		alone := s.Mean(moved, wander)
		near(t, "one apart", alone.Theta, moved.Theta, 1e-15)
		near(t, "u of one apart", alone.U, h.U, 1e-15)
	})
}
