package canvas

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func draw(c *Canvas) string {
	ls := c.Lines(nil)
	for i := range ls {
		ls[i] = strings.TrimRight(ls[i], " ")
	}
	return "\n" + strings.Join(ls, "\n") + "\n"
}

func rect(x0, y0, x1, y1 float64) []Point {
	return []Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

func mm(v float64) string { return fmt.Sprintf("%.3f", v) }

// TestDrawn holds small pictures as they should look.
func TestDrawn(t *testing.T) {
	k := Inks{1, 2, 3, 4, 5}
	plan := func(ascii bool) *Canvas {
		c := New(30, 10, ascii)
		c.Look(Box{-15, -15, 111, 79})
		c.Polyline(rect(0, 0, 96, 64), true, Pen{Ink: 1})
		c.Circle(Point{12, 52}, 6, Pen{Ink: 2})
		c.Mark(Point{12, 30}, 'X', "3", 3)
		c.Hatch(rect(60, 20, 90, 50), 4, 4)
		c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD YOU", 0)
		return c
	}
	for _, c := range []struct {
		name string
		got  *Canvas
		want string
	}{
		{"plan", plan(false), planDrawn},
		{"plan, ascii", plan(true), planASCII},
		{"ring, hit 3 short", DrawRing(46, 13, Ring{Angle: []float64{0, math.Pi / 3, 2 * math.Pi / 3, math.Pi, 4 * math.Pi / 3, 5 * math.Pi / 3},
			Residual: []float64{.001, -.001, -.059, .002, .001, -.001}, Suspect: 2, Limit: .02}, k, mm, true), ringDrawn},
		{"run", DrawRun(60, 11, Run{At: []float64{0, 40, 80, 120}, Reading: []float64{0, .005, .012, .013}, Fitted: []float64{.0005, .005, .0095, .014}, Suspect: 2,
			Limit: .009, Ends: [2]string{"LEFT", "RIGHT"}, Up: "AWAY", Down: "TOWARD YOU"}, k, mm, true), runDrawn},
		{"bars", DrawBars(44, []Bar{{"clearance", .0115, "0.0115", 1, false}, {"skew", .006, "0.0060", 1, true}, {"ball", 0, "0.0000", 1, false}}, k, false), barsDrawn},
		{"tilt", DrawTilt(50, 14, Tilt{At: rect(0, 0, 96, 64), Residual: []float64{.001, -.001, .001, -.001}, RiseX: 1e-4, Suspect: -1, Limit: .005}, k, mm, true), tiltDrawn},
		{"target", DrawTarget(40, 12, Target{Allowed: .05, X: -.004, Y: -.003, UX: .022, UY: .016}, Pen{Ink: 1}, Pen{1, 1, 1}, Pen{Ink: 3}, 5, true), targetDrawn},
	} {
		if got := draw(c.got); got != c.want {
			t.Errorf("%s: got%s", c.name, got)
		}
	}
}

// TestCircleIsRound counts the dots a circle spans both ways.
func TestCircleIsRound(t *testing.T) {
	c := New(40, 20, false)
	c.Look(Box{-10, -10, 10, 10})
	c.Circle(Point{}, 10, Pen{})
	minX, maxX, minY, maxY := 1<<30, -1, 1<<30, -1
	for y := range 80 {
		for x := range 80 {
			if c.dots[y/4*40+x/2]&bit[y%4][x%2] != 0 {
				minX, maxX, minY, maxY = min(minX, x), max(maxX, x), min(minY, y), max(maxY, y)
			}
		}
	}
	if w, h := maxX-minX, maxY-minY; w != h || w != 79 {
		t.Errorf("a circle of 79 dots spans %d by %d", w, h)
	}
}

// TestAwayIsUp: y grows away from the person, so it must be drawn upwards, and x
// to the right.
func TestAwayIsUp(t *testing.T) {
	c := New(20, 10, false)
	c.Look(Box{0, 0, 10, 10})
	x0, y0, _ := c.Cell(Point{1, 1})
	x1, y1, _ := c.Cell(Point{9, 9})
	if x1 <= x0 || y1 >= y0 {
		t.Errorf("(1,1) at %d,%d and (9,9) at %d,%d", x0, y0, x1, y1)
	}
}

// TestNothingBreaks throws any numbers at every stroke and plot: no panic, always
// h lines of w cells.
func TestNothingBreaks(t *testing.T) {
	num := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-200, 200), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, 1e-300}))
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(-1, 60).Draw(t, "w"), rapid.IntRange(-1, 30).Draw(t, "h")
		ascii := rapid.Bool().Draw(t, "ascii")
		vs := rapid.SliceOfN(num, 12, 12).Draw(t, "v")
		ps := []Point{{vs[0], vs[1]}, {vs[2], vs[3]}, {vs[4], vs[5]}}
		c := New(w, h, ascii)
		if b, ok := Around(ps...); ok {
			c.Look(b)
		}
		c.Polyline(ps, true, Pen{1, 2, 2})
		c.Hatch(ps, 3, 2)
		c.Circle(ps[0], vs[6], Pen{})
		c.Arc(ps[1], vs[7], vs[8], 1, Pen{})
		c.Mark(ps[2], 'X', "hinge bore", 3)
		c.Label(ps[0], "far corner", 3)
		c.Arrow(ps[0], ps[1], Pen{})
		c.Swept([][]Point{ps}, Pen{1, 3, 2})
		c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD YOU", 0)
		k := Inks{1, 2, 3, 4, 5}
		sus := rapid.IntRange(-1, 5).Draw(t, "suspect")
		for i, c := range []*Canvas{c,
			DrawRun(w, h, Run{vs[:4], vs[4:8], vs[8:], sus, vs[0], [2]string{"LEFT", "RIGHT"}, "AWAY", "TOWARD YOU"}, k, mm, ascii),
			DrawRing(w, h, Ring{vs[:5], vs[5:10], sus, vs[1]}, k, mm, ascii),
			DrawTilt(w, h, Tilt{ps, vs[:3], vs[3], vs[4], sus, vs[5]}, k, mm, ascii),
			DrawTarget(w, h, Target{vs[0], vs[1], vs[2], vs[3], vs[4]}, Pen{}, Pen{}, Pen{}, 1, ascii),
			DrawBars(w, []Bar{{"a", vs[0], "1", 0, false}, {"b", vs[1], "2", 0, true}}, k, ascii),
		} {
			cw, ch := c.Size()
			ls := c.Lines(nil)
			if len(ls) != ch {
				t.Fatalf("picture %d: %d lines of %d", i, len(ls), ch)
			}
			for _, l := range ls {
				if utf8.RuneCountInString(l) != cw {
					t.Fatalf("picture %d: line %q is not %d cells", i, l, cw)
				}
				if strings.Contains(l, "NaN") || strings.Contains(l, "Inf") {
					t.Fatalf("picture %d: %q", i, l)
				}
				if ascii && strings.ContainsFunc(l, func(r rune) bool { return r > 126 }) {
					t.Fatalf("picture %d: %q is not ASCII", i, l)
				}
			}
		}
	})
}

// TestInksAreKept: the run of cells painted with an ink is what was drawn with it.
func TestInksAreKept(t *testing.T) {
	c := New(10, 1, true)
	c.Text(0, 0, "ab", 1)
	c.Text(4, 0, "cd", 2)
	got := c.Lines(func(k Ink, s string) string { return fmt.Sprintf("<%d%s>", k, s) })
	if got[0] != "<1ab><0  ><2cd><0    >" {
		t.Errorf("got %q", got[0])
	}
}

func BenchmarkPlan(b *testing.B) {
	for b.Loop() {
		c := New(74, 50, false)
		c.Look(Box{-50, -20, 150, 100})
		for i := range 20 {
			c.Polyline(rect(float64(i), 0, 96, 64), true, Pen{Ink: 1})
			c.Circle(Point{12, 52}, float64(i), Pen{Ink: 2})
		}
		c.Hatch(rect(-50, 26, 8, 38), 4, 4)
		c.Lines(nil)
	}
}

// TestNamesStandApart: with marks anywhere each name is whole, a blank or a line of the
// picture on both sides, or it is not there; none runs into another, a mark or a direction.
func TestNamesStandApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := New(40, 12, true)
		c.Look(Box{0, 0, 100, 50})
		c.Directions("LEFT", "RIGHT", "AWAY", "TOWARD", 0)
		var ps []Point
		for range rapid.IntRange(1, 9).Draw(t, "n") {
			p := Point{rapid.Float64Range(0, 100).Draw(t, "x"), rapid.Float64Range(0, 50).Draw(t, "y")}
			ps = append(ps, p)
			c.Mark(p, 'F', "", 1)
		}
		names := []string{"hinge", "corner", "pocket", "spigot", "jaw"}
		for i, p := range ps {
			switch n := names[i%len(names)]; i % 3 {
			case 2:
				c.Label(p, n, 1)
			default:
				c.Name(p, n, 1)
			}
		}
		ok := map[string]bool{"LEFT": true, "RIGHT": true, "AWAY": true, "TOWARD": true}
		for _, n := range names {
			ok[n] = true
		}
		for _, l := range c.Lines(nil) {
			for _, w := range strings.FieldsFunc(l, func(r rune) bool { return r == ' ' }) {
				if !ok[w] && strings.Trim(w, "F") != "" && !strings.ContainsAny(w, "LRAWT") { // a mark may lie on a direction
					t.Fatalf("%q in\n%s", w, strings.Join(c.Lines(nil), "\n"))
				}
			}
		}
	})
}
