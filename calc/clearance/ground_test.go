package clearance

import (
	"math"
	"math/rand/v2"
	"testing"
)

func rect(t *testing.T, x0, y0, x1, y1 float64) Outline {
	t.Helper()
	o, err := Rectangle(x0, y0, x1, y1)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// A frame of four bars that only abut bears as one piece: the corner where two bars meet
// is as solid as the middle of a bar.
func TestAbuttingRegionsBearAsOne(t *testing.T) {
	frame := []Outline{rect(t, 45, 20, 141, 32), rect(t, 45, 72, 141, 84), rect(t, 45, 32, 57, 72), rect(t, 129, 32, 141, 72)}
	g := NewGround(frame...)
	for _, c := range []struct {
		name string
		at   Point
		pad  float64
		want float64
	}{
		{"middle of a bar", Point{51, 52}, 0, 6},
		{"on the seam of two bars", Point{51, 32}, 3, 3},
		{"beside the seam", Point{51, 33}, 0, 6},
		{"inner corner", Point{57, 32}, 0, 0},
		{"outer corner", Point{45, 20}, 0, 0},
		{"beside the inner corner, in the bar below", Point{60, 30}, 0, 2},
		{"over the hollow", Point{93, 52}, 0, -20},
		{"outside", Point{40, 52}, 1, -6},
	} {
		near(t, c.name, g.Footing(c.at, c.pad), c.want, 1e-9)
	}
	// Half a micrometre between bars is no gap, a hundredth of a millimetre is one.
	near(t, "hair between", NewGround(rect(t, 0, 0, 10, 10), rect(t, 10.0005, 0, 20, 10)).Footing(Point{10, 5}, 2), 3, 2e-3)
	if f := NewGround(rect(t, 0, 0, 10, 10), rect(t, 10.01, 0, 20, 10)).Footing(Point{10, 5}, 2); f > -1.9 {
		t.Errorf("a gap of 0.01 bears: footing %v", f)
	}
	// The span over the hollow is the short way across.
	span, over, held := g.Span(Point{93, 50})
	if near(t, "span", span, 40, 1e-9); !held {
		t.Error("solid on both sides is not seen")
	}
	near(t, "longer part", over, 22, 1e-9)
	if s, _, held := NewGround(frame[0]).Span(Point{93, 52}); held || math.Abs(s-20) > 0.2 {
		t.Errorf("one bar alone: span %v, held %v", s, held)
	}
}

// A disc is solid when samples of it are, and only then.
func TestFootingAgainstSamples(t *testing.T) {
	rng := rand.New(rand.NewPCG(20260301, 7))
	for n := range 400 {
		var os []Outline
		for range 2 + rng.IntN(4) {
			x, y := float64(rng.IntN(12)), float64(rng.IntN(12)) // whole numbers: many abut
			os = append(os, rect(t, x, y, x+1+float64(rng.IntN(6)), y+1+float64(rng.IntN(6))))
		}
		g := NewGround(os...)
		at := Point{rng.Float64() * 16, rng.Float64() * 16}
		solid := func(p Point) bool {
			for _, o := range os {
				if o.Signed(p) <= 0 {
					return true
				}
			}
			return false
		}
		f := g.Footing(at, 0)
		if (f >= 0) != solid(at) && math.Abs(f) > abut {
			t.Fatalf("case %d: footing %v at %v, solid %v", n, f, at, solid(at))
		}
		if f <= 4*abut {
			continue
		}
		hole := false
		for i := range 2000 {
			s, c := math.Sincos(float64(i))
			r := f * math.Sqrt(float64(i)/2000)
			if p := (Point{at.X + (r-2*abut)*c, at.Y + (r-2*abut)*s}); !solid(p) {
				t.Fatalf("case %d: footing %v at %v, but %v is hollow", n, f, at, p)
			}
			hole = hole || !solid(Point{at.X + (f+0.05)*c, at.Y + (f+0.05)*s})
		}
		if !hole {
			t.Fatalf("case %d: footing %v at %v, and it is solid farther out all round", n, f, at)
		}
	}
}

func TestAround(t *testing.T) {
	o, err := Around(Point{0, 0}, Point{5, 3}, Point{10, 0}, Point{10, 6}, Point{0, 6})
	if err != nil || len(o.Corners()) != 4 || math.Abs(o.Area()-60) > 1e-12 {
		t.Errorf("%v %v", o, err)
	}
	for _, bad := range [][]Point{nil, {{0, 0}, {1, 1}}, {{0, 0}, {1, 1}, {2, 2}}, {{0, 0}, {math.NaN(), 1}, {2, 0}}} {
		if _, err := Around(bad...); err == nil {
			t.Errorf("%v makes an outline", bad)
		}
	}
}
