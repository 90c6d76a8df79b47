package hold

import (
	"math"
	"testing"

	"fliptrue/calc/unit"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"
)

func ones(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 1
	}
	return out
}

func without(ps [][2]float64, k int) [][2]float64 {
	return append(append([][2]float64{}, ps[:k]...), ps[k+1:]...)
}

// asStatics is the largest force in a direction that friction bears at a place, by a static
// linear programme: forces at the points within polygons of the given number of sides
// inside their friction circles, in balance with the load in X, Y and moment. It shares
// nothing with Slides but the points, and is below the truth by at most 1 - cos(pi/sides).
func asStatics(t interface{ Fatal(...any) }, ps [][2]float64, at [2]float64, dir float64, sides int) float64 {
	n := len(ps)
	cols := n*sides + n + 1
	a := mat.NewDense(3+n, cols, nil)
	for i, p := range ps {
		x, y := p[0]-at[0], p[1]-at[1]
		for k := range sides {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(sides))
			a.Set(0, i*sides+k, cos)
			a.Set(1, i*sides+k, sin)
			a.Set(2, i*sides+k, (x*sin-y*cos)/50)
			a.Set(3+i, i*sides+k, 1)
		}
		a.Set(3+i, n*sides+i, 1)
	}
	sin, cos := math.Sincos(dir)
	a.Set(0, cols-1, cos)
	a.Set(1, cols-1, sin)
	b, c := make([]float64, 3+n), make([]float64, cols)
	for i := range n {
		b[3+i] = 1
	}
	c[cols-1] = -1
	f, _, err := lp.Simplex(c, a, b, 1e-10, nil)
	if err != nil {
		t.Fatal(err)
	}
	return -f
}

// byPoles is the least over a grid of poles and the points themselves, refined round the
// best of the grid: an upper bound that shares only the quotient with Slides.
func byPoles(ps [][2]float64, at [2]float64) float64 {
	value := func(c [2]float64) float64 {
		var s float64
		for _, p := range ps {
			s += math.Hypot(p[0]-c[0], p[1]-c[1])
		}
		return s / math.Hypot(at[0]-c[0], at[1]-c[1])
	}
	best, b := float64(len(ps)), [2]float64{}
	try := func(c [2]float64) {
		if v := value(c); v < best { // NaN at the place itself is never less
			best, b = v, c
		}
	}
	for i := -150; i <= 150; i++ {
		for k := -150; k <= 150; k++ {
			try([2]float64{2 * float64(i), 2 * float64(k)})
		}
	}
	for _, p := range ps {
		try(p)
	}
	for w := 2.0; w > 1e-7; w /= 2 {
		o := b
		for i := -4; i <= 4; i++ {
			for k := -4; k <= 4; k++ {
				try([2]float64{o[0] + w*float64(i)/2, o[1] + w*float64(k)/2})
			}
		}
	}
	return best
}

// Slip and turning together, in units of mu N; by a grid of poles and by a linear programme.
func TestSlipAndTurningTogether(t *testing.T) {
	for _, c := range []struct {
		name      string
		x, y      float64 // of the screws
		px, py    float64 // of the force
		all, lost float64
		alone     float64 // turning alone, an upper bound; slip alone is 4
	}{
		{"lid", 42, 26, 48, 32, 2.192888, 1.270196, 3.425021},
		{"70 x 46", 35, 23, 42, 27, 2.175825, 1.263485, 3.355163},
	} {
		h := Holding{Screws: [][2]float64{{c.x, c.y}, {-c.x, c.y}, {-c.x, -c.y}, {c.x, -c.y}},
			Forces: [][2]float64{{c.px, c.py}, {-c.px, c.py}, {-c.px, -c.py}, {c.px, -c.py}}}
		g := h.Grip()
		near(t, c.name+": all screws", g.All, c.all, 1e-6)
		near(t, c.name+": one lost", g.AllLost, c.lost, 1e-6)
		sum, d := h.levers(-1)
		near(t, c.name+": turning alone", sum/d, c.alone, 1e-5)
		at := h.Forces[0]
		for k, ps := range [][][2]float64{h.Screws, without(h.Screws, 0), without(h.Screws, 1), without(h.Screws, 2), without(h.Screws, 3)} {
			s := Slides(ps, ones(len(ps)), at)
			near(t, c.name+": by a grid of poles", byPoles(ps, at), s.Force, 1e-6)
			if !s.Turns {
				t.Fatalf("%s %d: slips without turning", c.name, k)
			}
			const sides = 60
			worst := math.Atan2(s.Pole[0]-at[0], -(s.Pole[1] - at[1])) // square to the way to the pole
			for i := range 12 {
				f := asStatics(t, ps, at, worst+float64(i)*math.Pi/6, sides)
				if f < s.Force*math.Cos(math.Pi/sides)-1e-9 {
					t.Errorf("%s %d: statics bear %.6f in direction %d, less than %.6f", c.name, k, f, i, s.Force)
				}
				if i == 0 && f > s.Force*(1+1e-9) {
					t.Errorf("%s %d: statics bear %.6f in the worst direction, more than %.6f", c.name, k, f, s.Force)
				}
			}
		}
	}
}

// A pole need not stand on a screw nor at infinity: three screws round a force.
func TestPoleBetweenTheScrews(t *testing.T) {
	tri := [][2]float64{{40, 0}, {-20, 34.641016}, {-20, -34.641016}}
	at := [2]float64{5, 3}
	s := Slides(tri, ones(3), at)
	near(t, "three screws: by a grid of poles", byPoles(tri, at), s.Force, 1e-6)
	atScrew := 3.0 // or at infinity
	for _, p := range tri {
		var sum float64
		for _, q := range tri {
			sum += math.Hypot(p[0]-q[0], p[1]-q[1])
		}
		atScrew = min(atScrew, sum/math.Hypot(at[0]-p[0], at[1]-p[1]))
	}
	if !s.Turns || s.Force > atScrew-1e-3 {
		t.Errorf("%.6f about %v; at a screw or at infinity %.6f", s.Force, s.Pole, atScrew)
	}
	if mid := Slides(tri, ones(3), [2]float64{}); math.Abs(mid.Force-3) > 1e-12 || mid.Turns {
		t.Errorf("a force on the middle of three screws: %+v", mid)
	}
}

// The least torque that turns: two points that press alike bear it about any pole between
// them, unlike ones about the stronger; an equilateral triangle about its middle. It is the limit
// of Slides for a far force of which only the moment is left.
func TestSpins(t *testing.T) {
	two := [][2]float64{{0, 0}, {50, 0}}
	near(t, "two alike", Spins(two, []float64{1, 1}), 50, 1e-9)
	near(t, "one three times the other", Spins(two, []float64{1, 3}), 50, 1e-9)
	near(t, "one alone", Spins(two[:1], []float64{1}), 0, 0)
	near(t, "triangle", Spins([][2]float64{{40, 0}, {-20, 20 * math.Sqrt(3)}, {-20, -20 * math.Sqrt(3)}}, ones(3)), 120, 1e-9)
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(-60, 60)
		n := rapid.IntRange(2, 6).Draw(t, "n")
		ps, grip := make([][2]float64, n), make([]float64, n)
		for i := range ps {
			ps[i], grip[i] = [2]float64{coord.Draw(t, "x"), coord.Draw(t, "y")}, rapid.Float64Range(0.1, 3).Draw(t, "grip")
		}
		least := Spins(ps, grip)
		c := [2]float64{coord.Draw(t, "cx"), coord.Draw(t, "cy")}
		var about float64
		for i, p := range ps {
			about += grip[i] * math.Hypot(p[0]-c[0], p[1]-c[1])
		}
		if about < least*(1-1e-9) {
			t.Fatalf("about %v it bears %g, least %g", c, about, least)
		}
		const far = 1e7
		if f := Slides(ps, grip, [2]float64{far, 0}).Force * far; math.Abs(f-least) > 1e-4*least+1e-3 {
			t.Fatalf("a far force %g, a torque %g", f, least)
		}
	})
	straps := []Strap{{Bolt: 6, Torque: 2000, K: 0.2, Heel: 30, Tip: 20, Mu: 0.15}, {Bolt: 6, Torque: 1000, K: 0.2, Heel: 30, Tip: 20, Mu: 0.15}}
	d := DrillLoad{Torque: 100, Lift: 10}
	held, err := DrillHeld(straps, two, d)
	if err != nil {
		t.Fatal(err)
	}
	weak, _ := straps[1].Force()
	near(t, "two straps, one weak", held.Turn, float64(weak.SideLow)*50/100, 1e-9)
	if old, _ := HoldDrill(straps, two, d); !(held.Turn < old.Turn) || held.Lift != old.Lift {
		t.Errorf("%+v, about the centroid %+v", held, old)
	}
}

// A screw under the force bears all it can whatever the pole: with one more beside it the part
// turns about that one, or slips.
func TestForceOnAScrew(t *testing.T) {
	near(t, "on one of two", Slides([][2]float64{{0, 0}, {50, 0}}, []float64{2, 1}, [2]float64{0, 0}).Force, 2, 1e-12)
	near(t, "on the only one", Slides([][2]float64{{7, 3}}, []float64{2}, [2]float64{7, 3}).Force, 2, 1e-12)
	near(t, "beside the only one", Slides([][2]float64{{7, 3}}, []float64{2}, [2]float64{8, 3}).Force, 0, 1e-12)
}

// With many screws it is all of them that govern, for their factor is the higher one.
func TestManyScrewsGovernTogether(t *testing.T) {
	h := bench(t, 2)
	h.Screws = nil
	for i := range 12 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 12)
		h.Screws = append(h.Screws, [2]float64{40 * cos, 26 * sin})
	}
	c, _, err := h.Together()
	if err != nil || c.Governs != GovernsAll || c.Least != c.All || !(c.All < c.AllLost) {
		t.Fatalf("%+v %v", c, err)
	}
	h.Cut.Ap = (c.All + c.AllLost) / 2
	if _, r, _ := h.Together(); r.Enough {
		t.Errorf("between the two it is said to hold: %+v", r)
	}
}

func TestSlidesProperties(t *testing.T) {
	coord := rapid.Float64Range(-60, 60)
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "n")
		ps := make([][2]float64, n)
		for i := range ps {
			ps[i] = [2]float64{coord.Draw(t, "x"), coord.Draw(t, "y")}
		}
		at := [2]float64{coord.Draw(t, "ax"), coord.Draw(t, "ay")}
		for _, p := range ps {
			if math.Hypot(p[0]-at[0], p[1]-at[1]) < 0.01 {
				t.Skip("a screw under the force but for a hair: its direction has no digits")
			}
		}
		grip := make([]float64, n)
		total := 0.0
		for i := range grip {
			grip[i] = rapid.Float64Range(0, 3).Draw(t, "grip")
			total += grip[i]
		}
		value := func(c [2]float64) float64 {
			var s float64
			for i, p := range ps {
				s += grip[i] * math.Hypot(p[0]-c[0], p[1]-c[1])
			}
			return s / math.Hypot(at[0]-c[0], at[1]-c[1])
		}
		s := Slides(ps, grip, at)
		if s.Force > total*(1+1e-12) {
			t.Fatalf("bears %g, slip alone %g", s.Force, total)
		}
		for range 20 { // no pole does better
			c := [2]float64{coord.Draw(t, "cx"), coord.Draw(t, "cy")}
			if v := value(c); v < s.Force*(1-1e-9)-1e-12 {
				t.Fatalf("pole %v gives %g, less than %g about %v", c, v, s.Force, s.Pole)
			}
		}
		for _, c := range ps {
			if v := value(c); v < s.Force*(1-1e-9)-1e-12 {
				t.Fatalf("the pole on point %v gives %g, less than %g", c, v, s.Force)
			}
		}
		if s.Turns && math.Hypot(s.Pole[0]-at[0], s.Pole[1]-at[1]) < 1e4 {
			if v := value(s.Pole); math.Abs(v-s.Force) > 1e-6*(1+s.Force) {
				t.Fatalf("its own pole %v gives %g, not %g", s.Pole, v, s.Force)
			}
		}
		// The same turned, moved and enlarged; one more point or more grip never bears less.
		sin, cos := math.Sincos(rapid.Float64Range(-3, 3).Draw(t, "turn"))
		k := rapid.Float64Range(0.3, 3).Draw(t, "k")
		move := func(p [2]float64) [2]float64 {
			return [2]float64{k*(cos*p[0]-sin*p[1]) + 7, k*(sin*p[0]+cos*p[1]) - 11}
		}
		moved := make([][2]float64, n)
		for i, p := range ps {
			moved[i] = move(p)
		}
		if m := Slides(moved, grip, move(at)); math.Abs(m.Force-s.Force) > 1e-9*(1+s.Force) {
			t.Fatalf("moved %g, not moved %g", m.Force, s.Force)
		}
		more := append(append([]float64{}, grip...), 1)
		if m := Slides(append(append([][2]float64{}, ps...), [2]float64{coord.Draw(t, "nx"), coord.Draw(t, "ny")}), more, at); m.Force < s.Force*(1-1e-9)-1e-12 {
			t.Fatalf("one more point bears %g, without it %g", m.Force, s.Force)
		}
	})
}

// Of all places within an outline a corner is the worst.
func TestACornerIsTheWorstPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := anyHolding(t)
		if len(h.Forces) < 2 {
			return
		}
		worst := h.slides(-1)
		a, b, s := h.Forces[0], h.Forces[1], rapid.Float64Range(0, 1).Draw(t, "s")
		h.Forces = [][2]float64{{a[0] + s*(b[0]-a[0]), a[1] + s*(b[1]-a[1])}}
		if between := h.slides(-1); between < worst-1e-9 {
			t.Fatalf("between the places %g, at them %g", between, worst)
		}
	})
}

// Together is never above slip alone or turning alone, and at its own depth just holds.
func TestTogetherIsTheLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := anyHolding(t)
		c, r, err := h.Together()
		if err != nil {
			t.Fatal(err)
		}
		over := func(got, bound, scale float64) bool { return got > bound*(1+1e-9)+1e-9*scale && !math.IsInf(scale, 1) }
		if s := float64(c.SlipAll); over(float64(c.All), s, s) || over(float64(c.All), float64(c.YawAll), s) ||
			over(float64(c.AllLost), float64(c.SlipLost), s) || over(float64(c.AllLost), float64(c.YawLost), s) {
			t.Fatalf("%+v", c)
		}
		if s := r.SlipAll; over(r.All, s, s) || over(r.All, r.YawAll, s) || over(r.AllLost, r.SlipLost, s) || over(r.AllLost, r.YawLost, s) {
			t.Fatalf("%+v", r)
		}
		if c.Least > 1e-6 && !math.IsInf(float64(c.Least), 1) {
			h.Cut.Ap = c.Least * (1 - 1e-9)
			if _, r, _ := h.Together(); !r.Enough {
				t.Fatalf("does not hold at its ceiling: %+v", r)
			}
			h.Cut.Ap = c.Least * (1 + 1e-6)
			if _, r, _ := h.Together(); r.Enough {
				t.Fatalf("holds above its ceiling: %+v", r)
			}
		}
	})
}

// The lid of the examples: 0.361 by slip and turning apart, 0.252 together.
func TestLidTogether(t *testing.T) {
	e, err := lid(t, 0.2).Together()
	if err != nil {
		t.Fatal(err)
	}
	// By hand: low preload 58.1195/2, mu 0.10, kc1.1 100 and mc 0.2 at the chip of 0.018580, worn edge, corner factor 2.
	l := e.Low
	chip := 2 * 0.02 * math.Sqrt(1/3.175*(1-1/3.175))
	ft := 100 * math.Pow(chip, 1-0.2) * 1.3
	byHand := func(g, n, sf float64) float64 {
		return 0.10 * g * 29.059732045705587 / (2 * (sf*ft*math.Sqrt(1.25) + 0.10*g*0.6*ft/n))
	}
	near(t, "lid, low end: all screws", float64(l.Ceiling.All), byHand(2.192888, 4, 1.5), 1e-6)
	near(t, "lid, low end: one lost", float64(l.Ceiling.AllLost), byHand(1.270196, 3, 1.2), 1e-6)
	near(t, "lid, low end: ceiling", float64(e.Deepest()), 0.252, 5e-4)
	near(t, "lid, low end: with all four", float64(l.Ceiling.All), 0.348, 5e-4)
	if l.Ceiling.Governs != GovernsLost {
		t.Errorf("governs %q", l.Ceiling.Governs)
	}
	for _, v := range []struct {
		ap   unit.Length
		want Verdict
	}{{0.2, Holds}, {0.25, Holds}, {0.26, NotProven}, {3, Fails}} {
		e, err := lid(t, v.ap).Together()
		if err != nil {
			t.Fatal(err)
		}
		if e.Register != v.want {
			t.Errorf("ap %g: register %v, want %v", float64(v.ap), e.Register, v.want)
		}
	}
	t.Logf("low %.6f nominal %.6f high %.6f best %.6f", float64(e.Low.Ceiling.Least), float64(e.Nominal.Ceiling.Least), float64(e.High.Ceiling.Least), float64(e.Best.Ceiling.Least))
}

// Together is one of its own screws and ends alone, as the case reckons it at each end.
func (h Holding) Together() (Ceiling, Register, error) {
	if err := h.Valid(); err != nil {
		return Ceiling{}, Register{}, err
	}
	return h.together(h.Grip())
}
