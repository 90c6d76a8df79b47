package pickup

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
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

func draw(t *rapid.T, name string, lo, hi float64) float64 {
	return rapid.Float64Range(lo, hi).Draw(t, name)
}

// byDifferences carries independent variances of the readings through f, numerically.
func byDifferences(f func([]float64) []float64, at, variance []float64) *mat.Dense {
	n := len(f(at))
	jac := mat.NewDense(n, len(at), nil)
	for k := range at {
		const h = 1e-4
		up, down := append([]float64(nil), at...), append([]float64(nil), at...)
		up[k] += h
		down[k] -= h
		a, b := f(up), f(down)
		for i := range n {
			jac.Set(i, k, (a[i]-b[i])/(2*h))
		}
	}
	return product(jac, mat.NewDiagDense(len(at), variance), jac.T())
}

func product(ms ...mat.Matrix) *mat.Dense {
	out := mat.DenseCopyOf(ms[0])
	for _, m := range ms[1:] {
		var next mat.Dense
		next.Mul(out, m)
		out = &next
	}
	return out
}

func all(v float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = v
	}
	return out
}

// A ball that comes to both sides of a bore or a pin: where it stands is geometry.
func TestContact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cx, cy, r, dia := draw(t, "x", -300, 300), draw(t, "y", -300, 300), draw(t, "r", 0.5, 3), draw(t, "dia", 8, 40)
		outside := rapid.Bool().Draw(t, "outside")
		axis := dia/2 - r // of the ball from the middle
		if outside {
			axis = dia/2 + r
		}
		c := Contact{Radius: r, S: 0.002}
		near(t, "reach", c.Reach(dia, outside), axis, 1e-12)
		x, y := [2]float64{cx + axis, cx - axis}, [2]float64{cy + axis, cy - axis}
		k := c.Cross(x, y, 7)
		near(t, "x", k.At.X, cx, 1e-9)
		near(t, "y", k.At.Y, cy, 1e-9)
		near(t, "dof", k.Dof, 7, 0)
		near(t, "size", c.Size(x, y, outside), dia, 1e-9)
		cov := byDifferences(func(v []float64) []float64 {
			k := c.Cross([2]float64{v[0], v[1]}, [2]float64{v[2], v[3]}, 7)
			return []float64{k.At.X, k.At.Y}
		}, []float64{x[0], x[1], y[0], y[1]}, all(c.S*c.S, 4))
		for i := range 2 {
			for j := range 2 {
				near(t, "covariance", k.Cov[i][j], cov.At(i, j), 1e-9)
			}
			near(t, "u", c.MiddleU(), math.Sqrt(cov.At(i, i)), 1e-9)
		}
		tip := draw(t, "u of the radius", 0.0001, 0.003)
		size := byDifferences(func(v []float64) []float64 {
			d := c
			d.Radius = v[4]
			return []float64{d.Size([2]float64{v[0], v[1]}, [2]float64{v[2], v[3]}, outside)}
		}, []float64{x[0], x[1], y[0], y[1], r}, append(all(c.S*c.S, 4), tip*tip))
		near(t, "u of the size", c.SizeU(tip), math.Sqrt(size.At(0, 0)), 1e-9)
		first := c.FromFirst(x[0], y[0], dia, outside)
		near(t, "by one hit each: x", first.X, cx, 1e-9)
		near(t, "by one hit each: y", first.Y, cy, 1e-9)
		// A late trigger stands farther on: the finder's radius comes out smaller, inside and outside alike.
		late := draw(t, "late", 0.01, 0.1)
		y[1] -= late
		if outside {
			y[1] += 2 * late
		}
		radius, off, at := c.RadiusOff(x, y, dia, outside)
		near(t, "radius along X", radius[0], r, 1e-9)
		near(t, "radius along Y", radius[1], r-late/2, 1e-9)
		near(t, "off", off, -late/2, 1e-9)
		near(t, "axis", float64(at), 1, 0)
		near(t, "sides the other way round", c.Size([2]float64{x[1], x[0]}, [2]float64{y[1], y[0]}, outside), c.Size(x, y, outside), 0)
		if x[0] += 3 * late; outside { // X is worse than Y now
			x[0] -= 6 * late
		}
		y[1] += late
		if outside {
			y[1] -= 2 * late
		}
		y[0] += late
		if outside {
			y[0] -= 2 * late
		}
		radius, off, at = c.RadiusOff(x, y, dia, outside)
		near(t, "late on the other side", radius[1], r-late/2, 1e-9)
		near(t, "X counts", off, -1.5*late, 1e-9)
		near(t, "axis", float64(at), 0, 0)
	})
}

// Simulated: a rectangle has the standard deviation that is said, and so have what is made of several.
func TestHalfWidths(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	spread := func(f func() float64) float64 {
		const n = 200000
		sum, sq := 0.0, 0.0
		for range n {
			x := f()
			sum += x
			sq += x * x
		}
		return math.Sqrt(sq/n - sum/n*sum/n)
	}
	even := func(half float64) float64 { return half * (2*r.Float64() - 1) }
	for _, c := range []struct {
		name string
		u    float64
		draw func() float64
	}{
		{"half-width", HalfU(0.03), func() float64 { return even(0.03) }},
		{"step", StepU(0.01), func() float64 { x := r.Float64(); return x - math.Round(x/0.01)*0.01 }},
		{"pin", PinU(0.02, 0.004), func() float64 { return even(0.01) + 0.004*r.NormFloat64() }},
		{"sweep", SweepU(-0.004, 0.002, 0.01), func() float64 { return 0.004*r.NormFloat64() + even(0.005) }},
		{"sweep, never below half a graduation", SweepU(0.0001, 0.01, 0.01), func() float64 { return 0.005*r.NormFloat64() + even(0.005) }},
		{"square", SquareU(0.01, 60), func() float64 { return (even(0.005) - even(0.005)) / (2 * 60) }},
	} {
		near(t, c.name, c.u/spread(c.draw), 1, 0.01)
	}
	w, u := Width(84.05, 84.02, Micrometer)
	if w2, u2 := Width(84.02, 84.05, Micrometer); w2 != w || u2 != u {
		t.Error("a width by its ends the other way round")
	}
	near(t, "width", w, 84.035, 1e-12)
	near(t, "its u", u, math.Sqrt(Micrometer*Micrometer/3+0.03*0.03/12), 1e-15)
	if worst, at := WorstPair([][2]float64{{1, 1.002}, {5, 4.996}, {3, 3.006}, {2, 2}}); math.Abs(worst-0.006) > 1e-12 || at != 2 {
		t.Errorf("worst pair %v at %d", worst, at)
	}
	if worst, at := WorstPair([][2]float64{{1, 1}}); worst != 0 || at != -1 {
		t.Errorf("no difference: %v at %d", worst, at)
	}
	near(t, "play", Pin{Bore: 8.003, Dia: 7.99}.Play(), 0.013, 1e-12)
}

// A cutter whose true radius is not the one entered, guided about an outline and inside a
// bore: with the radius entered anew the size is the nominal one.
func TestEnterRadius(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size, truly, entered := draw(t, "size", 8, 90), draw(t, "true", 1, 3), draw(t, "entered", 1, 3)
		cut := func(entered float64, inside bool) float64 { // path at the entered radius off the wall, cut with the true one
			if inside {
				return size - 2*entered + 2*truly
			}
			return size + 2*entered - 2*truly
		}
		for _, inside := range []bool{true, false} {
			d := EnterRadius(cut(entered, inside)-size, inside)
			near(t, "size", cut(entered+d, inside), size, 1e-9)
		}
	})
	near(t, "bore, as printed", EnterRadius(0.012, true), 0.006, 1e-12)
	near(t, "outline, as printed", EnterRadius(0.030, false), -0.015, 1e-12)
	near(t, "micrometer", Micrometer, 0.003, 0)
	near(t, "calliper", Calliper, 0.02, 0)
	near(t, "reference", Reference, 0.005, 0)
	near(t, "some ten percent in doubt", 1/math.Sqrt(2*TypeB), 0.1, 1e-12)
}

// Hits on a wall; the covariance by the normal equations of the linear problem in matrices.
func TestCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := frame.Vec{X: draw(t, "x", -300, 300), Y: draw(t, "y", -300, 300)}
		dia, ball := draw(t, "dia", 6, 30), draw(t, "ball", 0.5, 2)
		outside := rapid.Bool().Draw(t, "outside")
		n := rapid.IntRange(5, 8).Draw(t, "n")
		known := budget.Spread{S: 0.001, Dof: 30}
		noise := rapid.SampledFrom([]float64{1e-4, 0.02}).Draw(t, "noise") // within the probe's scatter, or far beyond
		rad := Contact{Radius: ball}.Reach(dia, outside)
		var hits []fit.Point
		rows := mat.NewDense(n, 3, nil)
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			d := rad
			switch i % 4 { // no one of them alone
			case 0:
				d += noise
			case 1:
				d -= noise
			}
			hits = append(hits, fit.Point{X: c.X + d*math.Cos(a), Y: c.Y + d*math.Sin(a)})
			rows.SetRow(i, []float64{math.Cos(a), math.Sin(a), 1})
		}
		k, hn, err := Circle(hits, outside, ball, known)
		if err != nil {
			t.Fatalf("%v", err)
		}
		near(t, "x", k.At.X, c.X, 2*noise)
		near(t, "y", k.At.Y, c.Y, 2*noise)
		near(t, "dia", k.Dia, dia, 2*noise)
		if k.At.X != hn.All.Center.X {
			t.Fatal("another circle than was judged")
		}
		s, dof := known.S, known.Dof
		if noise > 0.01 {
			s, dof = hn.All.S.V, float64(n-3)
		}
		near(t, "dof", k.Dof, dof, 0)
		var normal, cov mat.Dense
		normal.Mul(rows.T(), rows)
		if err := cov.Inverse(&normal); err != nil {
			t.Fatalf("%v", err)
		}
		for i := range 2 {
			for j := range 2 {
				near(t, "covariance", k.Cov[i][j], s*s*cov.At(i, j), 0.02*s*s)
			}
			near(t, "of even hits", CircleU(s, n), s*math.Sqrt(cov.At(i, i)), 1e-9)
		}
	})
	arc := []fit.Point{{X: 5}, {X: 5 * math.Cos(0.5), Y: 5 * math.Sin(0.5)}, {X: 5 * math.Cos(1), Y: 5 * math.Sin(1)}, {X: 5 * math.Cos(1.9), Y: 5 * math.Sin(1.9)}}
	if _, _, err := Circle(arc, false, 1, budget.Spread{S: 0.001, Dof: 30}); err == nil || err.Error() != "the hits lie on 109 deg of the circle; spread them over the whole" {
		t.Errorf("short arc: %v", err)
	}
	if _, _, err := Circle(arc[:2], false, 1, budget.Spread{S: 0.001, Dof: 30}); err == nil {
		t.Error("two hits")
	}
	if k, _, err := Circle([]fit.Point{{X: 5}, {Y: 5}, {X: -5}}, true, 1, budget.Spread{S: 0.001, Dof: 30}); err != nil || k.Dof != 30 || math.Abs(k.Dia-8) > 1e-9 {
		t.Errorf("three hits: %+v %v", k, err)
	}
}

// A dial carried round in a bore by a spindle that stands off its centre: how far axis and
// wall lie apart on either side is geometry.
func TestSweeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spindle, off := draw(t, "at", -300, 300), draw(t, "off", -0.05, 0.05)
		v := rapid.SampledFrom([]float64{0.9, -0.9}).Draw(t, "scale")
		scale := fit.Scale{V: v, Rel: 0.01}
		// A surface that lies farther toward + at X+ moves the needle by movement/scale, and at X- by as much the other way.
		plus, minus := off/v, -off/v
		c, u := HalfSweep(spindle, plus, minus, scale, 0.002, 0.001)
		near(t, "centre", c, spindle+off, 1e-9)
		near(t, "u", u, math.Hypot(math.Max(0.001, math.Abs(off)*0.01), 0.001/math.Sqrt(12)), 1e-12)
		sw, err := fit.ToSwept(fit.Point{X: spindle, Y: 5}, fit.SweptReadings{XPlus: plus, XMinus: minus}, scale, 0.002)
		if err != nil {
			t.Fatalf("%v", err)
		}
		sw.U = fit.Point{X: 0.004, Y: 0.0002}
		k := SweptCentre(sw, 0.002, 0.001)
		near(t, "whole sweep", k.At.X, spindle+off, 1e-9)
		near(t, "whole sweep, y", k.At.Y, 5, 1e-9)
		near(t, "its u in X", math.Sqrt(k.Cov[0][0]), math.Hypot(0.004, 0.001/math.Sqrt(12)), 1e-12)
		near(t, "its u in Y", math.Sqrt(k.Cov[1][1]), math.Hypot(0.001, 0.001/math.Sqrt(12)), 1e-12)
		near(t, "its tie", k.Cov[0][1]+k.Cov[1][0], 0, 0)
		near(t, "its dof", k.Dof, TypeB, 0)
	})
}
