package inspect

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/chart"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"

	"pgregory.net/rapid"
)

// spreadOf is the standard deviation of what f makes of n draws, and its mean.
func spreadOf(n int, f func(*rand.Rand) float64) (mean, s float64) {
	r := rand.New(rand.NewPCG(7, 11))
	var sum, sq float64
	for range n {
		x := f(r)
		sum, sq = sum+x, sq+x*x
	}
	mean = sum / float64(n)
	return mean, math.Sqrt(sq/float64(n) - mean*mean)
}

// The instrument's zero is one draw for all readings, the rest a draw each: drawn so, the mean of four walls and the middle of five
// floors scatter as is stated; the place by the walls does not hear of the zero. Second look by draws, not by the formula.
func TestZeroIsCommon(t *testing.T) {
	const own, zero, n = 0.00173, 0.00115, 40000
	w := Walls{XPlus: 2.4, XMinus: 2.4, YPlus: 2.4, YMinus: 2.4, Nominal: 2.4, U: own, UZero: zero}
	stated, err := w.Offset()
	if err != nil {
		t.Fatal(err)
	}
	drawn := func(r *rand.Rand) Offset {
		d := w
		z := zero * r.NormFloat64()
		for _, x := range []*float64{&d.XPlus, &d.XMinus, &d.YPlus, &d.YMinus} {
			*x += z + own*r.NormFloat64()
		}
		o, _ := d.Offset()
		return o
	}
	_, s := spreadOf(n, func(r *rand.Rand) float64 { return drawn(r).Thicker })
	near(t, "u of walls thicker", stated.UThick, s, 0.02*s)
	_, s = spreadOf(n, func(r *rand.Rand) float64 { return drawn(r).D.X })
	near(t, "u of the place by the walls", stated.U, s, 0.02*s)
	near(t, "guard of four walls, by hand", 1.645*stated.UThick, 0.00237, 1e-5)

	at := []fit.Point3{{X: 8, Y: 8}, {X: 88, Y: 8}, {X: 88, Y: 56}, {X: 8, Y: 56}, {X: 48, Y: 32}}
	middle := frame.Vec{X: 48, Y: 32}
	flat, err := ToFloor(at, 0, middle, own, zero)
	if err != nil {
		t.Fatal(err)
	}
	floor := func(r *rand.Rand) Floor {
		ps := append([]fit.Point3{}, at...)
		z := zero * r.NormFloat64()
		for i := range ps {
			ps[i].Z = z + own*r.NormFloat64()
		}
		f, _ := ToFloor(ps, 0, middle, own, zero)
		return f
	}
	_, s = spreadOf(n, func(r *rand.Rand) float64 { return floor(r).Thick })
	near(t, "u of the floor's middle", flat.U[0], s, 0.02*s)
	_, s = spreadOf(n, func(r *rand.Rand) float64 { return floor(r).LeanX })
	near(t, "u of its lean", flat.U[1], s, 0.02*s)
	near(t, "guard of five floors, by hand", 1.645*flat.U[0], 0.00228, 1e-5)
}

// A dial in any ratio reads a mismatch back when each step is divided by what it shows over a feeler; undivided it is out by
// just that ratio.
func TestLever(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.9, 1.1).Draw(t, "k")
		size := rapid.Float64Range(-0.1, 0.1).Draw(t, "size")
		l, err := ToLever(k*0.1, 0.1, 0.002)
		if err != nil {
			t.Fatal(err)
		}
		plain, err := ToMismatch(lidSteps(), nil)
		if err != nil {
			t.Fatal(err)
		}
		steps := lidSteps()
		for i := range steps {
			steps[i].Height = (steps[i].Height + size) * k / l.K
		}
		m, err := ToMismatch(steps, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i, d := range [3]float64{m.DX - plain.DX, m.DY - plain.DY, m.Size - plain.Size - size} {
			if math.Abs(d) > 1e-12 {
				t.Fatalf("component %d comes back off by %g", i, d)
			}
		}
	})
	for _, bad := range [][2]float64{{0, 0.1}, {-0.1, 0.1}, {0.1, 0}, {math.NaN(), 0.1}} {
		if _, err := ToLever(bad[0], bad[1], 0.002); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// A step of 0.08 by a dial of 0.005 over a feeler of 0.10: drawn, the dial over the feeler and the feeler's own thickness each with
// their error, the step scatters as is stated, and eight such steps scatter in common.
func TestLeverInCommon(t *testing.T) {
	const grad, step = 0.005, 0.08
	l, err := ToLever(0.1, 0.1, grad)
	if err != nil {
		t.Fatal(err)
	}
	steps := func(k float64) (out []Step) {
		for _, f := range []struct {
			face fit.Direction
			h    float64
		}{{fit.XPlus, step}, {fit.XMinus, -step}, {fit.YPlus, 0}, {fit.YMinus, 0}} {
			for _, a := range []float64{-30, 30} {
				out = append(out, Step{Face: f.face, Along: a, Height: f.h * k, U: 1e-9})
			}
		}
		return out
	}
	_, s := spreadOf(4000, func(r *rand.Rand) float64 {
		k := 1.03
		feeler := 0.1 + FeelerHalf*(2*r.Float64()-1)
		shown := k*feeler + grad*(r.Float64()-0.5) + DialRepeat*r.NormFloat64()
		d, err := ToLever(shown, 0.1, grad)
		if err != nil {
			t.Fatal(err)
		}
		m, err := ToMismatch(steps(k/d.K), nil)
		if err != nil {
			t.Fatal(err)
		}
		return m.DX
	})
	m, err := ToMismatch(steps(1), nil)
	if err != nil {
		t.Fatal(err)
	}
	u := m.Levered(l.U).U()
	near(t, "u of a place of 0.08", u[0], s, 0.04*s)
	near(t, "and of one of none", u[1], 0, 1e-8)
	d, at := m.Levered(l.U).At(frame.Vec{X: 40, Y: 30})
	near(t, "at a corner, in one ratio", at.X, l.U*math.Abs(d.X), 1e-6)
	all := Mismatch{DX: 0.03, DY: -0.02, Turn: 4e-4}.Levered(0.03) // of which nothing else is in doubt
	for _, p := range []frame.Vec{{X: 40, Y: 30}, {X: -40, Y: 30}, {X: 40, Y: -30}, {}} {
		d, u := all.At(p)
		near(t, "X, place and turn in one ratio", u.X, 0.03*math.Abs(d.X), 1e-12)
		near(t, "Y, place and turn in one ratio", u.Y, 0.03*math.Abs(d.Y), 1e-12)
	}
}

// By hand: a dial of 0.010 in place of 0.005 adds 0.010²/12 and leaves out 0.005²/12.
func TestStepUOfADial(t *testing.T) {
	near(t, "by the dial it was stated for", StepUOf(0.005), StepU, 1e-12)
	near(t, "by one of 0.010", StepUOf(0.010), math.Sqrt(15.25e-6), 1e-12)
	near(t, "by one of 0.001", StepUOf(0.001), math.Sqrt(7e-6), 1e-12)
}

// A bias and its parts are drawn as the rule has them: the mean lies beyond what is believed as seldom as three standard
// deviations say, and a part eight deviations off is never corrected. Second look: mean over √(τ² + σ²/n).
func TestUnlikelyHasACause(t *testing.T) {
	const u = 0.0012
	r := rand.New(rand.NewPCG(3, 5))
	beyond, all := 0, 0
	for range 20000 {
		n := 1 + r.IntN(6)
		bias := FirstUse * r.NormFloat64()
		var xs []float64
		sum := 0.0
		for range n {
			x := bias + PartsU*r.NormFloat64() + u*r.NormFloat64()
			xs, sum = append(xs, x), sum+x/float64(n)
		}
		b, err := chart.ToBias(xs, FirstUse, PartsU, u)
		if err != nil {
			t.Fatal(err)
		}
		k := Known{Bias: b, Allowance: 0.15, Prior: FirstUse}
		c, err := k.Decide()
		if err != nil {
			t.Fatal(err)
		}
		z := math.Abs(sum) / math.Sqrt(FirstUse*FirstUse+(PartsU*PartsU+u*u)/float64(n))
		if (z > BelievedTo) != (c.Reason == Unlikely) {
			t.Fatalf("%d parts, z %.4f: %+v", n, z, c)
		}
		if all++; c.Reason == Unlikely {
			beyond++
		}
	}
	if share := float64(beyond) / float64(all); share < 0.0013 || share > 0.0045 { // 0.0027 by the normal table
		t.Errorf("%.4f lie beyond", share)
	}
	b, _ := chart.ToBias([]float64{0.08}, FirstUse, PartsU, u)
	k := Known{Bias: b, Allowance: 0.15, Prior: FirstUse}
	near(t, "what one first part is believed to, by hand", k.Believed(), 0.0302, 5e-5)
	if c, err := k.Decide(); err != nil || c.Reason != Unlikely || c.By != 0 {
		t.Errorf("%+v %v", c, err)
	}
	k.Prior = 0
	if c, err := k.Decide(); err != nil || c.Reason != Correct {
		t.Errorf("by the rule of before: %+v %v", c, err)
	}
}
