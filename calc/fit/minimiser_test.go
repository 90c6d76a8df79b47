package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/optimize"
)

// gonum's general minimiser is an independent reference for the circle.

// gonumCircle minimises the sum of squared distances by BFGS from the mean point and
// the mean distance, with an exact gradient.
func gonumCircle(ps []Point) ([]float64, error) {
	var x, y, r float64
	for _, p := range ps {
		x += p.X / float64(len(ps))
		y += p.Y / float64(len(ps))
	}
	for _, p := range ps {
		r += math.Hypot(p.X-x, p.Y-y) / float64(len(ps))
	}
	problem := optimize.Problem{
		Func: func(v []float64) float64 {
			var s float64
			for _, p := range ps {
				dx, dy := p.X-v[0], p.Y-v[1]
				e := math.Sqrt(dx*dx+dy*dy) - v[2]
				s += e * e
			}
			return s
		},
		Grad: func(g, v []float64) {
			g[0], g[1], g[2] = 0, 0, 0
			for _, p := range ps {
				dx, dy := p.X-v[0], p.Y-v[1]
				d := math.Sqrt(dx*dx + dy*dy)
				e := 2 * (d - v[2])
				g[0] -= e * dx / d
				g[1] -= e * dy / d
				g[2] -= e
			}
		},
	}
	res, err := optimize.Minimize(problem, []float64{x, y, r}, nil, &optimize.BFGS{})
	if res == nil {
		return nil, err
	}
	return res.X, nil // a line search that can go no lower has arrived
}

func TestCircleAgainstGonum(t *testing.T) {
	for _, c := range []struct {
		n      int
		arc, s float64
		tol    float64
	}{{6, 2 * math.Pi, 0.01, 1e-6}, {40, 2 * math.Pi, 0.2, 1e-6}, {1000, 2 * math.Pi, 0.002, 1e-6}, {60, 2, 0.01, 1e-5}, {200, 0.7, 0.001, 1e-3}} {
		for seed := range uint64(5) {
			ps := scatteredCircle(c.n, Point{-312.4, 158.2}, 4, c.arc, c.s, seed)
			f, err := ToCircle(ps)
			if err != nil {
				t.Fatal(err)
			}
			g, err := gonumCircle(ps)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "x", f.Center.X, g[0], c.tol)
			near(t, "y", f.Center.Y, g[1], c.tol)
			near(t, "R", f.Radius, g[2], c.tol)
			// never a larger sum of squares than the general minimiser's
			var sse float64
			for _, p := range ps {
				sse += sq(math.Hypot(p.X-g[0], p.Y-g[1]) - g[2])
			}
			if own := f.RMS * f.RMS * float64(c.n); own > sse*(1+1e-9) {
				t.Errorf("n %d arc %g: sum %.15g, gonum reaches %.15g", c.n, c.arc, own, sse)
			}
		}
	}
	g, err := gonumCircle(ggs)
	if err != nil {
		t.Fatal(err)
	}
	f, _ := ToCircle(ggs)
	near(t, "x of Gander, Golub, Strebel", f.Center.X, g[0], 1e-6)
	near(t, "R of Gander, Golub, Strebel", f.Radius, g[2], 1e-6)
}

func BenchmarkCircle1000Gonum(b *testing.B) {
	ps := scatteredCircle(1000, Point{50, 30}, 4, 2*math.Pi, 0.002, 1)
	for b.Loop() {
		if _, err := gonumCircle(ps); err != nil {
			b.Fatal(err)
		}
	}
}
