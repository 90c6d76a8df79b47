package clearance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-40s %14.6f %14.6f %12.3g", name, want, got, got-want)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func mill(t *testing.T, stickout float64) Tool {
	return must[Tool](t)(NewTool("flat 3.175", Dims{Dia: 3.175, Flute: 10, Shank: 3.175, Stickout: stickout, Holder: 24}))
}

// A clamp at x 95..115, y 20..40, top 12, and a cut from (60, 30) to (92, 30) at z -1;
// values computed here.
func TestCutBesideAClamp(t *testing.T) {
	clamp := Obstacle{"right clamp", must[Outline](t)(Rectangle(95, 20, 115, 40)), 12}
	f := must[*Field](t)(NewField(Usual, clamp))
	tool := mill(t, 20)
	a := f.Line(&tool, Point3{60, 30, -1}, Point3{92, 30, -1}, Nothing())
	near(t, "distance", a.Distance, 3, 1e-12)
	near(t, "needed", a.Needed, 3.5875, 1e-12)
	near(t, "short", a.Short(), 0.5875, 1e-12)
	if a.Part != "tool" || a.Obstacle != 0 || a.Clear() || a.At != (Point3{92, 30, -1}) {
		t.Errorf("got %+v", a)
	}
	short := mill(t, 12) // holder at 11, below 12 + 2: a strike
	a = f.Line(&short, Point3{60, 30, -1}, Point3{92, 30, -1}, Nothing())
	near(t, "holder short", a.Short(), 14-3, 1e-12)
	if a.Part != "holder" {
		t.Errorf("part %q, want holder", a.Part)
	}
	if a := f.Line(&tool, Point3{60, 30, 14}, Point3{120, 30, 14}, Nothing()); a.Obstacle != -1 || !a.Clear() {
		t.Errorf("over the top: %+v", a)
	}
	// A rapid past the corner is clear as a line, not as the box it spans.
	from, to := Point3{80, 10, 0}, Point3{125, 55, 0}
	low := must[Obstacle](t)(Obstacle{"stop", must[Outline](t)(Rectangle(85, 40, 90, 50)), 12}, nil)
	g := must[*Field](t)(NewField(Usual, low))
	if a := g.Line(&tool, from, to, Nothing()); !a.Clear() {
		t.Errorf("line: %+v", a)
	}
	if a := g.Rapid(&tool, from, to, Nothing()); a.Clear() {
		t.Errorf("rapid: %+v", a)
	}
}

// On a sloping move only the low stretch counts.
func TestSlopingMove(t *testing.T) {
	f := must[*Field](t)(NewField(Usual, Obstacle{"bolt", must[Outline](t)(Rectangle(0, 0, 10, 10)), 8}))
	tool := must[Tool](t)(NewTool("t", Dims{Dia: 4, Flute: 30, Shank: 4, Stickout: 40}))
	// z falls from 20 over the obstacle to 0 at x 40; it passes 10 at x 20, 10 from the obstacle.
	a := f.Line(&tool, Point3{0, 5, 20}, Point3{40, 5, 0}, Nothing())
	near(t, "sloping", a.Distance, 10, 1e-9)
	near(t, "at x", a.At.X, 20, 1e-9)
	b := f.Line(&tool, Point3{40, 5, 0}, Point3{0, 5, 20}, Nothing())
	near(t, "sloping, back", b.Distance, 10, 1e-9)
}

func anOutline(t *rapid.T, label string) Outline {
	n := rapid.IntRange(3, 9).Draw(t, label+" n")
	c := rapid.Custom(func(t *rapid.T) Point {
		return Point{rapid.Float64Range(-20, 20).Draw(t, "x"), rapid.Float64Range(-20, 20).Draw(t, "y")}
	})
	pts := make([]Point, n)
	for i := range pts {
		pts[i] = c.Draw(t, label)
	}
	o, err := NewOutline(hull(pts))
	if err != nil || o.box.MaxX-o.box.MinX < 0.1 || o.box.MaxY-o.box.MinY < 0.1 {
		t.Skip("flat")
	}
	return o
}

// Brute force: the outline's border and inside against samples of the path.
func brute(o Outline, path func(u float64) Point, n int) float64 {
	best := math.Inf(1)
	for i := range n + 1 {
		p := path(float64(i) / float64(n))
		in := true
		a := o.p[len(o.p)-1]
		for _, b := range o.p {
			if (b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X) < 0 {
				in = false
			}
			d2, _ := along(a, b, p)
			best = math.Min(best, math.Sqrt(d2))
			a = b
		}
		if in {
			return 0
		}
	}
	return best
}

func TestDistancesAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := anOutline(t, "o")
		f := rapid.Float64Range(-40, 40)
		a, b := Point{f.Draw(t, "ax"), f.Draw(t, "ay")}, Point{f.Draw(t, "bx"), f.Draw(t, "by")}
		const n = 400
		step := math.Hypot(b.X-a.X, b.Y-a.Y)/n/2 + 1e-9
		line := func(u float64) Point { return Point{a.X + u*(b.X-a.X), a.Y + u*(b.Y-a.Y)} }
		want := brute(o, line, n)
		d, at := segment(o.p, a, b)
		if d > want+1e-9 || d < want-step {
			t.Fatalf("segment %v %v: %g, brute %g", a, b, d, want)
		}
		if e := o.Distance(line(at)); math.Abs(e-d) > 1e-7 {
			t.Fatalf("segment: the place %g is %g away, not %g", at, e, d)
		}
		r := rapid.Float64Range(0.1, 30).Draw(t, "r")
		s := Arc{Centre: a, R: r, Start: rapid.Float64Range(-7, 7).Draw(t, "start"), Sweep: rapid.Float64Range(-2*math.Pi, 2*math.Pi).Draw(t, "sweep")}
		round := func(u float64) Point { return s.point(s.Start + u*s.Sweep) }
		want = brute(o, round, n)
		step = r*math.Abs(s.Sweep)/n/2 + 1e-9
		d, at = arc(o.p, s)
		if d > want+1e-7 || d < want-step {
			t.Fatalf("arc %+v: %g, brute %g", s, d, want)
		}
		if e := o.Distance(round(at)); math.Abs(e-d) > 1e-6 {
			t.Fatalf("arc: the place %g is %g away, not %g", at, e, d)
		}
		bx := s.box()
		for i := range 50 {
			if p := round(float64(i) / 49); p.X < bx.MinX-1e-9 || p.X > bx.MaxX+1e-9 || p.Y < bx.MinY-1e-9 || p.Y > bx.MaxY+1e-9 {
				t.Fatalf("arc leaves its box %v at %v", bx, p)
			}
		}
		q := anOutline(t, "q")
		d = math.Max(0, separation(o.p, q.p))
		want = math.Inf(1)
		for i, c := range q.p {
			e, _ := segment(o.p, c, q.p[(i+1)%len(q.p)])
			want = math.Min(want, e)
		}
		if o.Signed(q.p[0]) <= 0 || q.Signed(o.p[0]) <= 0 {
			want = 0
		}
		if math.Abs(d-want) > 1e-9 {
			t.Fatalf("outlines: %g, by sides %g", d, want)
		}
	})
}

// What the box filter leaves out can't be worse: the field equals the plain loop.
func TestFieldAgainstPlainLoop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tool, err := NewTool("t", Dims{Dia: 3, Flute: 6, Neck: 2.5, Necked: 10, Shank: 6, Stickout: 16, Holder: 20})
		if err != nil {
			t.Fatal(err)
		}
		var obs []Obstacle
		f := rapid.Float64Range(-60, 60)
		for range rapid.IntRange(1, 6).Draw(t, "obstacles") {
			o := anOutline(t, "o").Shift(Point{f.Draw(t, "dx"), f.Draw(t, "dy")})
			// Heights on a raster, so that no tie is decided by rounding.
			obs = append(obs, Obstacle{"o", o, float64(rapid.IntRange(-40, 240).Draw(t, "top"))/8 + 1.0/16})
		}
		field, err := NewField(Usual, obs...)
		if err != nil {
			t.Fatal(err)
		}
		p := func(l string) Point3 {
			return Point3{f.Draw(t, l), f.Draw(t, l), float64(rapid.IntRange(-80, 240).Draw(t, l)) / 8}
		}
		a, b := p("a"), p("b")
		got := field.Line(&tool, a, b, Nothing())
		want := math.Inf(-1)
		const n = 2000
		for i := range n + 1 {
			q := mix(a, b, float64(i)/n)
			for _, o := range obs {
				for _, c := range tool.parts {
					if q.Z+c.From < o.Top+Usual.Z {
						want = math.Max(want, c.R+Usual.XY-o.Outline.Distance(q.plan()))
					}
				}
			}
		}
		step := math.Hypot(b.X-a.X, b.Y-a.Y)/n + 1e-9
		if got.Short() < want-1e-9 || got.Short() > want+step {
			// A stretch shorter than a sample may be missed by the samples only.
			if !math.IsInf(want, -1) || got.Obstacle < 0 {
				t.Fatalf("line: %+v short %g, samples %g", got, got.Short(), want)
			}
		}
		r := field.Rapid(&tool, a, b, Nothing())
		if r.Short() < got.Short()-1e-9 {
			t.Fatalf("rapid %g is kinder than the line %g", r.Short(), got.Short())
		}
		c := field.Line(&tool, a, b, ConflictsOnly())
		if (c.Obstacle >= 0) != (got.Short() > 0) {
			t.Fatalf("conflicts only %+v, all %+v", c, got)
		}
	})
}

// A moved clamp is clear under dense sampling, its tip on support, and no shorter move on
// a grid is.
func TestQuestionsDoNotAllocate(t *testing.T) {
	var obs []Obstacle
	for i := range 20 {
		obs = append(obs, Obstacle{"o", must[Outline](t)(Rectangle(float64(i)*20, 0, float64(i)*20+10, 10)), 20})
	}
	f := must[*Field](t)(NewField(Usual, obs...))
	tool := mill(t, 20)
	region := must[Outline](t)(Rectangle(0, 12, 300, 40))
	n := testing.AllocsPerRun(100, func() {
		a := f.Line(&tool, Point3{0, 20, 0}, Point3{100, 12, 5}, Nothing())
		a = f.Rapid(&tool, Point3{0, 20, 0}, Point3{100, 12, 5}, a)
		a = f.Arc(&tool, Arc{Centre: Point{50, 30}, R: 20, Sweep: 6}, a)
		f.area(&tool, region.p, 0, a)
	})
	if n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func TestSweepsAreTheirShapes(t *testing.T) {
	f := must[*Field](t)(NewField(Usual, Obstacle{"jaw", must[Outline](t)(Rectangle(0, 0, 10, 10)), 20}))
	tool := mill(t, 20)
	for _, c := range []struct {
		over []Point
		want Approach
	}{
		{[]Point{{14, 5}}, f.Line(&tool, Point3{14, 5, -1}, Point3{14, 5, -1}, Nothing())},
		{[]Point{{14, 5}, {14, 5}}, f.Line(&tool, Point3{14, 5, -1}, Point3{14, 5, -1}, Nothing())},
		{[]Point{{14, 5}, {20, 30}}, f.Line(&tool, Point3{14, 5, -1}, Point3{20, 30, -1}, Nothing())},
		{[]Point{{14, 5}, {20, 5}, {20, 30}}, f.area(&tool, must[Outline](t)(NewOutline([]Point{{14, 5}, {20, 5}, {20, 30}})).p, -1, Nothing())},
	} {
		s := must[Sweep](t)(NewSweep("s", tool, -1, c.over...))
		got := f.Sweep(&s, Nothing())
		if math.Abs(got.Short()-c.want.Short()) > 1e-12 || got.Part != c.want.Part {
			t.Errorf("%v: %+v, want %+v", c.over, got, c.want)
		}
	}
	// A region round the obstacle: distance 0, and the place is inside the region.
	s := must[Sweep](t)(NewSweep("s", tool, -1, Point{-50, -50}, Point{50, -50}, Point{50, 50}, Point{-50, 50}))
	if a := f.Sweep(&s, Nothing()); a.Distance != 0 || a.At.plan() != (Point{0, 0}) {
		t.Errorf("%+v", a)
	}
}

func TestBadInput(t *testing.T) {
	good := Dims{Dia: 3, Flute: 10, Shank: 6, Stickout: 20, Holder: 24}
	for name, edit := range map[string]func(*Dims){
		"no diameter":         func(d *Dims) { d.Dia = 0 },
		"negative holder":     func(d *Dims) { d.Holder = -1 },
		"NaN":                 func(d *Dims) { d.Shank = math.NaN() },
		"flute past holder":   func(d *Dims) { d.Flute = 30 },
		"neck without length": func(d *Dims) { d.Neck = 2.8 },
		"neck below flutes":   func(d *Dims) { d.Neck, d.Necked = 2.8, 5 },
	} {
		d := good
		edit(&d)
		if _, err := NewTool("t", d); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	good.Neck, good.Necked = 2.8, 15
	tool := must[Tool](t)(NewTool("t", good))
	if p := tool.Parts(); len(p) != 4 || p[1] != (Cylinder{"neck", 1.4, 10}) || p[2] != (Cylinder{"shank", 3, 15}) || p[3] != (Cylinder{"holder", 12, 20}) {
		t.Errorf("%+v", p)
	}
	if _, err := NewSweep("s", Tool{}, 0, Point{}); err == nil {
		t.Error("a sweep without a tool")
	}
	if _, err := NewSweep("s", tool, 0); err == nil {
		t.Error("a sweep without a place")
	}
	if _, err := NewSweep("s", tool, math.NaN(), Point{}); err == nil {
		t.Error("a sweep without a height")
	}
	if _, err := NewSweep("s", tool, 0, Point{math.Inf(1), 0}); err == nil {
		t.Error("a sweep at infinity")
	}
	if _, err := NewSweep("s", tool, 0, Point{0, 0}, Point{1, 1}, Point{2, 2}); err == nil {
		t.Error("a region without area")
	}
	if _, err := NewField(Margins{-1, 2}); err == nil {
		t.Error("a negative margin")
	}
	for _, top := range []float64{math.NaN(), math.Inf(1)} {
		if _, err := NewField(Usual, Obstacle{"x", must[Outline](t)(Rectangle(0, 0, 1, 1)), top}); err == nil {
			t.Errorf("a top of %g", top)
		}
	}
	for _, p := range []Point{{math.Inf(1), 0}, {0, math.Inf(-1)}} {
		if _, err := NewOutline([]Point{{0, 0}, {1, 0}, p}); err == nil {
			t.Errorf("a corner at %v", p)
		}
	}
	if _, err := NewField(Usual, Obstacle{Name: "x"}); err == nil {
		t.Error("an obstacle without an outline")
	}
}

// Sides shorter than rounding have no direction: they must not decide what is inside.
// An arc, level or helical, against its chords.
func TestArcAgainstChords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, err := NewField(Usual, Obstacle{"o", anOutline(t, "o"), 10.0625})
		if err != nil {
			t.Fatal(err)
		}
		tool, err := NewTool("t", Dims{Dia: 3, Flute: 6, Shank: 6, Stickout: 16, Holder: 20})
		if err != nil {
			t.Fatal(err)
		}
		z := func(l string) float64 { return float64(rapid.IntRange(-40, 160).Draw(t, l)) / 8 }
		a := Arc{Centre: Point{rapid.Float64Range(-30, 30).Draw(t, "x"), rapid.Float64Range(-30, 30).Draw(t, "y")}, R: rapid.Float64Range(0.5, 40).Draw(t, "r"),
			Start: rapid.Float64Range(-4, 4).Draw(t, "start"), Sweep: rapid.Float64Range(-6.2, 6.2).Draw(t, "sweep"), Z0: z("z0"), Z1: z("z1")}
		const n = 300
		want := Nothing()
		at := func(i int) Point3 {
			u := float64(i) / n
			p := a.point(a.Start + u*a.Sweep)
			return Point3{p.X, p.Y, a.Z0 + u*(a.Z1-a.Z0)}
		}
		for i := range n {
			want = f.Line(&tool, at(i), at(i+1), want)
		}
		got := f.Arc(&tool, a, Nothing())
		sagitta := a.R * (1 - math.Cos(a.Sweep/n/2))
		// Where a cylinder dips under the top is placed on the chord to within its sagitta.
		if (got.Obstacle < 0) != (want.Obstacle < 0) || got.Obstacle >= 0 && math.Abs(got.Short()-want.Short()) > sagitta+1e-9 {
			t.Fatalf("arc %+v short %g, chords short %g, sagitta %g", got, got.Short(), want.Short(), sagitta)
		}
		if got.Obstacle >= 0 {
			if d := f.obstacles[0].Outline.Distance(got.At.plan()); math.Abs(d-got.Distance) > 1e-6 {
				t.Fatalf("the place %v is %g away, not %g", got.At, d, got.Distance)
			}
			if u, _ := a.place(got.At.plan()); math.Abs(a.Sweep) > 1e-3 && u > 0.001 && u < 0.999 && math.Abs(got.At.Z-(a.Z0+u*(a.Z1-a.Z0))) > 1e-6 {
				t.Fatalf("height %g at %g of %+v", got.At.Z, u, a)
			}
		}
	})
}

func TestRegionNamesItsNearestPlace(t *testing.T) {
	f := must[*Field](t)(NewField(Usual, Obstacle{"jaw", must[Outline](t)(Rectangle(0, 0, 10, 10)), 20}))
	tool := mill(t, 20)
	region := must[Outline](t)(NewOutline([]Point{{13, 5}, {30, -20}, {40, 30}}))
	a := f.area(&tool, region.p, -1, ConflictsOnly())
	if a.At != (Point3{13, 5, -1}) || a.Distance != 3 {
		t.Errorf("%+v", a)
	}
	if a := f.area(&tool, region.Shift(Point{12, 0}).p, -1, ConflictsOnly()); a.Obstacle != -1 || !a.Clear() {
		t.Errorf("clear of conflicts, yet %+v", a)
	}
}

// A tip off its support moves to the nearest solid place, whatever else there is.
// Whatever is accepted is convex, counter-clockwise, and holds every corner that was given.
// The whole of the support is searched: the only place left is at its far end.
