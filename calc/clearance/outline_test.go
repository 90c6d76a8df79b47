package clearance

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestOutlineFaults(t *testing.T) {
	for _, c := range []struct {
		name   string
		pts    []Point
		corner int
	}{
		{"two corners", []Point{{0, 0}, {1, 0}}, 0},
		{"same corner", []Point{{0, 0}, {1, 0}, {1, 0}, {0, 1}}, 2},
		{"bow tie", []Point{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, 2},
		{"on a line", []Point{{0, 0}, {5, 5}, {10, 10}}, 0},
		{"dart", []Point{{0, 0}, {10, 0}, {10, 10}, {8, 2}}, 3},
		{"ell, clockwise", []Point{{0, 0}, {0, 10}, {4, 10}, {4, 4}, {10, 4}, {10, 0}}, 3},
		{"not finite", []Point{{0, 0}, {1, math.NaN()}, {1, 1}}, 1},
	} {
		_, err := NewOutline(c.pts)
		var f *Fault
		if !errors.As(err, &f) || f.Corner != c.corner {
			t.Errorf("%s: %v, want a fault at corner %d", c.name, err, c.corner)
		}
	}
	o := must[Outline](t)(NewOutline([]Point{{0, 0}, {0, 10}, {5, 10}, {10, 10}, {10, 0}}))
	if got := len(o.Corners()); got != 4 {
		t.Errorf("a corner on a side was kept: %d", got)
	}
	// Two sides of a pentagram-like turn: five corners, every turn the same way, yet crossing.
	if _, err := NewOutline([]Point{{0, 0}, {10, 7}, {-2, 7}, {8, 0}, {4, 11}}); err == nil {
		t.Error("a star was taken as convex")
	}
}

func TestOverlapsAndTable(t *testing.T) {
	r := func(a, b, c, d float64) Outline { return must[Outline](t)(Rectangle(a, b, c, d)) }
	got := Overlaps([]Outline{r(0, 0, 10, 10), r(10, 0, 20, 10), r(9, 9, 12, 12), r(2, 2, 3, 3)})
	if len(got) != 3 || got[0] != [2]int{0, 2} || got[1] != [2]int{0, 3} || got[2] != [2]int{1, 2} {
		t.Errorf("overlaps %v", got)
	}
	table := r(0, 0, 100, 50)
	if !table.Holds(r(90, 40, 100, 50)) || table.Holds(r(90, 40, 101, 50)) {
		t.Error("table edge")
	}
}

func TestDiscHoldsItsCircle(t *testing.T) {
	d := must[Outline](t)(Disc(Point{3, -2}, 5))
	for i := range 1000 {
		s, c := math.Sincos(float64(i))
		if d.Signed(Point{3 + 5*c, -2 + 5*s}) > 1e-9 {
			t.Fatal("the circle leaves its outline")
		}
		if e := d.Distance(Point{3 + 5*1.009*c, -2 + 5*1.009*s}); e == 0 {
			t.Fatal("the outline stands out by more than 0.9 %")
		}
	}
	if _, err := Disc(Point{}, 0); err == nil {
		t.Error("a disc without radius")
	}
}

func TestCommon(t *testing.T) {
	part := must[Outline](t)(Rectangle(0, 0, 96, 64))
	clamp := must[Outline](t)(Rectangle(-50, 26, 8, 38))
	c, ok := Common(clamp, part)
	if !ok || c.Area() != 96 || c.Centroid() != (Point{4, 32}) {
		t.Errorf("%v %v %v", c, ok, c.Centroid())
	}
	if _, ok := Common(must[Outline](t)(Rectangle(-50, 26, 0, 38)), part); ok {
		t.Error("outlines that touch share area")
	}
	support := []Outline{must[Outline](t)(Rectangle(0, 12, 12, 52))}
	near(t, "footing of a 3 mm pad", NewGround(support...).Footing(c.Centroid(), 3), 1, 1e-12)
	near(t, "overhang", NewGround(support...).Footing(Point{11, 32}, 3), -2, 1e-12)
	if !math.IsInf(NewGround().Footing(Point{}, 0), -1) {
		t.Error("footing without support")
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := anOutline(t, "a"), anOutline(t, "b")
		c, ok := Common(a, b)
		// Count on a grid, each cell by its middle.
		const h = 0.5
		var count float64
		for x := -20.0; x < 20; x += h {
			for y := -20.0; y < 20; y += h {
				p := Point{x + h/2, y + h/2}
				if a.Signed(p) <= 0 && b.Signed(p) <= 0 {
					count += h * h
				}
			}
		}
		if !ok {
			if count > 0 {
				t.Fatalf("no common area, the grid counts %g", count)
			}
			return
		}
		rim := 0.0
		for i, p := range c.p {
			q := c.p[(i+1)%len(c.p)]
			rim += math.Hypot(q.X-p.X, q.Y-p.Y)
		}
		if math.Abs(count-c.Area()) > rim*h {
			t.Fatalf("area %g, grid %g", c.Area(), count)
		}
		if m := c.Centroid(); c.Area() > 1e-6 && (a.Signed(m) > 1e-6 || b.Signed(m) > 1e-6) {
			t.Fatalf("centroid %v outside", m)
		}
	})
}

func TestShortSides(t *testing.T) {
	pts := []Point{{1, 1}, {1, -1}, {20, 1.1102230246251565e-16}, {20, 5.551115123125783e-17}}
	if _, err := NewOutline(pts); err == nil {
		t.Error("two corners 6e-17 apart were taken as two")
	}
	o := must[Outline](t)(NewOutline(hull(pts)))
	if len(o.p) != 3 || o.Shift(Point{-1, 1}).Signed(Point{1, 1}) >= 0 {
		t.Errorf("%v", o.p)
	}
	// Sums of turned rectangles with parallel sides give corners that differ by rounding only.
	turned := func(a, w, h float64) []Point {
		s, c := math.Sincos(a)
		p := []Point{{0, 0}, {w * c, w * s}, {w*c - h*s, w*s + h*c}, {-h * s, h * c}}
		return p
	}
	for i := range 2000 {
		a := float64(i) * 0.0031
		d := difference(turned(a, 30, 7.3), turned(a, 11.7, 5.1))
		if len(d) != 4 {
			t.Fatalf("%d corners at %g: %v", len(d), a, d)
		}
		area := Outline{p: d}.Area()
		if math.Abs(area-41.7*12.4) > 1e-9 {
			t.Fatalf("area %g at %g", area, a)
		}
		m := Outline{p: d}.Centroid()
		if e := signed(d, m); math.Abs(e+12.4/2) > 1e-9 {
			t.Fatalf("depth of the middle %g at %g", e, a)
		}
	}
}

func TestSenseOfTurn(t *testing.T) {
	pts := []Point{{0, 0}, {10, 0}, {14, 6}, {8, 12}, {1, 9}, {-2, 4}}
	a := must[Outline](t)(NewOutline(pts))
	for i, k := 0, len(pts)-1; i < k; i, k = i+1, k-1 {
		pts[i], pts[k] = pts[k], pts[i]
	}
	b := must[Outline](t)(NewOutline(pts))
	for _, p := range []Point{{5, 5}, {20, 3}, {-9, -9}, {13, 11}} {
		if a.Signed(p) != b.Signed(p) {
			t.Errorf("%v: %g one way round, %g the other", p, a.Signed(p), b.Signed(p))
		}
	}
	if a.Area() <= 0 || a.Area() != b.Area() {
		t.Errorf("areas %g, %g", a.Area(), b.Area())
	}
	// Outlines that touch themselves: each kind of touch, and a side that runs back on another.
	for _, c := range [][]Point{
		{{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}},
		{{5, 0}, {0, 10}, {0, 0}, {10, 0}, {10, 10}},
		{{10, 10}, {5, 0}, {0, 10}, {0, 0}, {10, 0}},
		{{0, 0}, {10, 0}, {4, 0}, {4, 8}},
	} {
		if _, err := NewOutline(c); err == nil {
			t.Errorf("%v: taken", c)
		}
	}
	// Sides in line with each other that do not touch are no fault of their own.
	if cross(Point{0, 0}, Point{1, 0}, Point{2, 0}, Point{3, 0}) || cross(Point{0, 0}, Point{0, 1}, Point{0, 2}, Point{0, 3}) {
		t.Error("sides in line, apart, cross")
	}
	if !cross(Point{0, 0}, Point{2, 0}, Point{1, 0}, Point{3, 0}) || !cross(Point{0, 0}, Point{2, 2}, Point{0, 2}, Point{2, 0}) || cross(Point{0, 0}, Point{2, 2}, Point{0, 3}, Point{3, 4}) {
		t.Error("crossing of sides")
	}
}

func TestAcceptedOutlinesAreConvex(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pts := make([]Point, rapid.IntRange(0, 6).Draw(t, "n"))
		for i := range pts {
			pts[i] = Point{float64(rapid.IntRange(0, 4).Draw(t, "x")), float64(rapid.IntRange(0, 4).Draw(t, "y"))}
		}
		o, err := NewOutline(pts)
		if err != nil {
			return
		}
		var turned float64
		for i, a := range o.p {
			b, c := o.p[(i+1)%len(o.p)], o.p[(i+2)%len(o.p)]
			s := (b.X-a.X)*(c.Y-b.Y) - (b.Y-a.Y)*(c.X-b.X)
			if s <= 0 {
				t.Fatalf("%v: not convex at %v", o.p, b)
			}
			turned += math.Atan2(s, (b.X-a.X)*(c.X-b.X)+(b.Y-a.Y)*(c.Y-b.Y))
		}
		if math.Abs(turned-2*math.Pi) > 1e-9 {
			t.Fatalf("%v turns by %g", o.p, turned)
		}
		for _, p := range pts {
			if o.Signed(p) > 1e-9 {
				t.Fatalf("%v was given and lies outside %v", p, o.p)
			}
		}
	})
}
