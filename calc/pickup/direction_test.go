package pickup

import (
	"math"
	"testing"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// turned by a matrix.
func turned(v frame.Vec, a float64) frame.Vec {
	s, c := math.Sincos(a)
	var out mat.VecDense
	out.MulVec(mat.NewDense(2, 2, []float64{c, -s, s, c}), mat.NewVecDense(2, []float64{v.X, v.Y}))
	return frame.Vec{X: out.AtVec(0), Y: out.AtVec(1)}
}

// Two bores turned by an angle, of which only what lies across is read, give that angle;
// moving the far end by the tap takes it away.
func TestByTwo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		theta := draw(t, "theta", -0.02, 0.02)
		along := rapid.SampledFrom([]float64{-120, 120, 60}).Draw(t, "along")
		made := frame.Vec{X: along, Y: draw(t, "across", -8, 8)}
		alongY := rapid.Bool().Draw(t, "along Y")
		if alongY {
			made.X, made.Y = made.Y, made.X
		}
		now := turned(made, theta)
		apart, lever := now.Y, made.X
		if alongY {
			apart, lever = now.X, made.Y
		}
		h := ByTwo(apart, 0.002, 0.003, made, alongY, 0.004)
		near(t, "theta", h.Theta, theta, 1e-9)
		near(t, "lever", h.Lever, lever, 0)
		rise := now.Sub(made).Y
		if alongY {
			rise = now.Sub(made).X
		}
		near(t, "rise", h.Rise, rise, 1e-9)
		// the tap, first order: the angle that is left is of second order
		left := ByTwo(apart-h.Rise, 0, 0, made, alongY, 0).Theta
		near(t, "after the tap", left, 0, 0.1*math.Abs(theta)+1e-9)
		near(t, "u", h.U, math.Sqrt(0.002*0.002+0.003*0.003+0.004*0.004/3)/math.Abs(lever), 1e-15)
	})
	if h := ByTwo(200, 0, 0, frame.Vec{X: 100}, false, 0); h.Theta != math.Pi/2 { // farther apart than made: as far as it goes
		t.Errorf("%v", h.Theta)
	}
	if h := ByTwo(-200, 0, 0, frame.Vec{Y: 100}, true, 0); h.Theta != math.Pi/2 {
		t.Errorf("%v", h.Theta)
	}
}

// A run of a dial with scale 1 along an edge that is turned: its far end has moved as a matrix turns it.
func TestByEdge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		theta, zero := draw(t, "theta", -1e-3, 1e-3), draw(t, "zero", -1e-3, 1e-3)
		alongY := rapid.Bool().Draw(t, "along Y")
		run := fit.Run{AlongY: alongY, Scale: fit.Scale{V: 1}, Graduation: 0.001}
		for _, s := range []float64{0, 40, 80, 120} {
			p := turned(frame.Vec{X: s}, theta+zero).Y
			if alongY {
				p = turned(frame.Vec{Y: s}, theta+zero).X
			}
			run.Stations, run.Readings = append(run.Stations, s), append(run.Readings, p)
		}
		e, err := run.Edge()
		if err != nil {
			t.Fatalf("%v", err)
		}
		h := ByEdge(e, zero, 120)
		near(t, "theta", h.Theta, theta, 1e-8)
		near(t, "u", h.U, e.UTheta, 0)
		far := turned(frame.Vec{X: 120}, theta).Y
		if alongY {
			far = turned(frame.Vec{Y: 120}, theta).X
		}
		near(t, "rise", h.Rise, far, 1e-6)
		near(t, "tap", -h.Rise, -far, 1e-6)
	})
}

// The machine's lost motion as a scatter of each centre of its own.
func TestTwoBores(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		made := frame.Vec{X: draw(t, "x", 60, 140), Y: draw(t, "y", -20, 20)}
		first := Centre{At: frame.Vec{X: -312, Y: -158}, Cov: frame.Cov2{{1e-6, 2e-7}, {2e-7, 3e-6}}}
		second := Centre{At: first.At.Add(turned(made, 2e-4).Times(1.0002)), Cov: frame.Cov2{{2e-6, 0}, {0, 1e-6}}}
		const lost = 0.006
		skew, q, cov, err := TwoBores(first, second, made, lost)
		if err != nil {
			t.Fatalf("%v", err)
		}
		near(t, "skew", float64(skew), 2e-4, 1e-9)
		near(t, "scale", q, 1.0002, 1e-9)
		wide := func(c frame.Cov2) frame.Cov2 { c[0][0], c[1][1] = c[0][0]+lost*lost/3, c[1][1]+lost*lost/3; return c }
		_, _, want, _ := frame.TwoBores(first.At, second.At, made, wide(first.Cov), wide(second.Cov))
		near(t, "var of skew", cov[2][2]/want[2][2], 1, 1e-3)
		near(t, "var of scale", cov[3][3]/want[3][3], 1, 1e-3)
		near(t, "of the bore itself", cov[0][0], first.Cov[0][0], 1e-18) // a line of its own there
		near(t, "tie", cov[2][3], func() float64 {
			_, _, c, _ := frame.TwoBores(first.At, second.At, made, first.Cov, second.Cov)
			return c[2][3]
		}(), 0)
	})
	if _, _, _, err := TwoBores(Centre{}, Centre{}, frame.Vec{X: 1}, 0); err == nil {
		t.Error("two in one place")
	}
}

// The slope of n even stations by the regression's own formula, and of two centres by matrices.
func TestBestDirections(t *testing.T) {
	for _, n := range []int{3, 7, 21} {
		var xs []float64
		for i := range n {
			xs = append(xs, 120*float64(i)/float64(n-1))
		}
		sxx := stat.Variance(xs, nil) * float64(n-1)
		exact := 0.002 / math.Sqrt(12) / math.Sqrt(sxx)
		near(t, "run", RunU(0, 0.002, n, 120), exact*math.Sqrt(float64(n+1)/float64(n-1)), 1e-12)
	}
	near(t, "axis", RunU(0.003, 0, 7, 120), 0.003/(math.Sqrt(3)*120), 1e-15)
	near(t, "both", RunU(0.003, 0.002, 7, 120), math.Hypot(RunU(0.003, 0, 7, 120), RunU(0, 0.002, 7, 120)), 1e-15)
	c := Centre{Cov: frame.Cov2{{4e-6, 0}, {0, 4e-6}}}
	second := c
	second.At = frame.Vec{X: 90}
	_, _, cov, _ := TwoBores(c, second, frame.Vec{X: 90}, 0.006)
	near(t, "pair", PairU(0.002, 0.006, 90), math.Sqrt(cov[2][2]), 1e-12)
	near(t, "in one place", PairU(0.002, 0, 0), math.Sqrt2*0.002, 1e-12)
}
