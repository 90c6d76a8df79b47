package clearance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func lidClamp(t testing.TB) (Clamp, []Outline) {
	rect := func(a, b, c, d float64) Outline {
		o, err := Rectangle(a, b, c, d)
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	left := Clamp{Obstacle: Obstacle{"left", rect(-50, 26, 8, 38), 28}, Tip: Point{6, 32}}
	support := []Outline{rect(0, 0, 96, 12), rect(0, 52, 96, 64), rect(0, 12, 12, 52), rect(84, 12, 96, 52)}
	return left, support
}

func hole(t testing.TB, x, y float64) Sweep {
	tool, err := NewTool("drill 2.4", Dims{Dia: 2.4, Flute: 24, Shank: 2.4, Stickout: 30, Holder: 24})
	if err != nil {
		t.Fatal(err)
	}
	s, err := NewSweep("hole", tool, -1, Point{x, y})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestMoveAClamp(t *testing.T) {
	c, support := lidClamp(t)
	if s, ok := c.Move(Usual, []Sweep{hole(t, 60, 32)}, nil, nil, support); !ok || s.By != (Point{}) {
		t.Errorf("a clamp that is clear was moved: %+v %v", s, ok)
	}
	// A hole at (6, 24): holder at 29 is below 28 + 2, so 12 + 2 = 14 are needed in plan. The
	// clamp's side at y 26 must go to y 38: 12 up. The left end of the hole is level with it.
	s, ok := c.Move(Usual, []Sweep{hole(t, 6, 24)}, nil, nil, support)
	if !ok {
		t.Fatal("no place found")
	}
	near(t, "moved by", s.Far, 12, 2*moveStep)
	near(t, "moved in y", s.By.Y, 12, 2*moveStep)
	// The way up is barred by another clamp: it must go elsewhere or nowhere.
	bar := Obstacle{"bar", must[Outline](t)(Rectangle(-60, 42, 20, 60)), 28}
	s2, ok := c.Move(Usual, []Sweep{hole(t, 6, 24)}, []Obstacle{bar}, nil, support)
	if ok && s2.Far < s.Far {
		t.Errorf("with another clamp in the way the move became shorter: %+v", s2)
	}
	// Holes all along the only support: none.
	var many []Sweep
	for y := 2.0; y < 64; y += 10 {
		for x := 4.0; x < 96; x += 10 {
			many = append(many, hole(t, x, y))
		}
	}
	if s, ok := c.Move(Usual, many, nil, nil, support); ok {
		t.Errorf("a place among holes everywhere: %+v", s)
	}
	if _, ok := c.Move(Usual, nil, nil, nil, nil); ok {
		t.Error("a place without any support")
	}
}

func TestMovedClampIsClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rect := func(a, b, c, d float64) Outline {
			o, err := Rectangle(a, b, c, d)
			if err != nil {
				t.Fatal(err)
			}
			return o
		}
		c := Clamp{Obstacle: Obstacle{"left", rect(-50, 26, 8, 38), 28}, Tip: Point{6, 32}}
		support := []Outline{rect(0, 0, 96, 12), rect(0, 52, 96, 64), rect(0, 12, 12, 52), rect(84, 12, 96, 52)}
		tool, _ := NewTool("d", Dims{Dia: 2.4, Flute: 24, Shank: 2.4, Stickout: rapid.SampledFrom([]float64{28, 40}).Draw(t, "stick-out"), Holder: 24})
		var sweeps []Sweep
		for range rapid.IntRange(1, 5).Draw(t, "holes") {
			s, err := NewSweep("h", tool, -1, Point{rapid.Float64Range(0, 96).Draw(t, "x"), rapid.Float64Range(0, 64).Draw(t, "y")})
			if err != nil {
				t.Fatal(err)
			}
			sweeps = append(sweeps, s)
		}
		table := rect(-120, -60, 200, 120)
		other := Obstacle{"right", rect(88, 26, 146, 38), 28}
		// fine tells by the public distances alone whether the clamp may stand at t, with slack.
		fine := func(by Point, slack float64) bool {
			o := c.Outline.Shift(by)
			f, err := NewField(Margins{Usual.XY + slack, Usual.Z}, Obstacle{"left", o, 28})
			if err != nil {
				t.Fatal(err)
			}
			worst := Nothing()
			for _, s := range sweeps {
				at := Point3{s.Over[0].X, s.Over[0].Y, s.Z}
				worst = f.Line(&s.Tool, at, at, worst)
			}
			on := false
			for _, s := range support {
				on = on || s.Signed(Point{c.Tip.X + by.X, c.Tip.Y + by.Y}) <= 1e-6-slack
			}
			apart := len(Overlaps([]Outline{o, other.Outline})) == 0 && (slack == 0 || separation(o.p, other.Outline.p) > slack)
			return worst.Clear() && on && table.Holds(o) && apart
		}
		s, ok := c.Move(Usual, sweeps, []Obstacle{other}, &table, support)
		if ok && !fine(s.By, 0) {
			t.Fatalf("moved by %+v is not clear", s)
		}
		for x := -10.0; x <= 95; x += 5 {
			for y := -35.0; y <= 35; y += 5 {
				if by := (Point{x, y}); fine(by, 0.02) && (!ok || math.Hypot(x, y) < s.Far-2*moveStep) {
					t.Fatalf("(%g, %g) is clear and nearer than %+v %v", x, y, s, ok)
				}
			}
		}
	})
}

func TestMoveOntoSupport(t *testing.T) {
	c, support := lidClamp(t)
	c.Tip = Point{20, 32}
	s, ok := c.Move(Usual, nil, nil, nil, support)
	if !ok {
		t.Fatal("none")
	}
	near(t, "onto the support", s.Far, 8, 2*moveStep)
	c.Pad = 3
	s, ok = c.Move(Usual, nil, nil, nil, support)
	if !ok {
		t.Fatal("none with a pad")
	}
	near(t, "with a pad of 3", s.Far, 11, 2*moveStep)
	c.Pad = 7 // wider than any bar of the frame: only where two of them meet is there room
	if s, ok := c.Move(Usual, nil, nil, nil, support); !ok || NewGround(support...).Footing(Point{c.Tip.X + s.By.X, c.Tip.Y + s.By.Y}, 7) < -1e-9 {
		t.Errorf("a pad of 14 in the corner of bars of 12: %+v %v", s, ok)
	}
	c.Pad = 7.1 // from the outer sides to the inner corner it takes 12/(1 + 1/sqrt 2) = 7.029
	if s, ok := c.Move(Usual, nil, nil, nil, support); ok {
		t.Errorf("a pad of 14.2 on bars of 12: %+v", s)
	}
	// Off the table by 30: back onto it.
	c.Pad = 0
	table := must[Outline](t)(Rectangle(-20, -50, 200, 150))
	c.Tip = Point{-28, 32}
	wide := []Outline{must[Outline](t)(Rectangle(-100, 0, 96, 64))}
	s, ok = c.Move(Usual, nil, nil, &table, wide)
	if !ok {
		t.Fatal("none onto the table")
	}
	near(t, "onto the table", s.Far, 30, 2*moveStep)
}

func TestMoveToTheFarEnd(t *testing.T) {
	c, _ := lidClamp(t)
	support := []Outline{must[Outline](t)(Rectangle(300, 30, 302, 34)), must[Outline](t)(Rectangle(0, 100, 2, 102))}
	block := Obstacle{"block", must[Outline](t)(Rectangle(-60, 90, 10, 110)), 28}
	s, ok := c.Move(Usual, nil, []Obstacle{block}, nil, support)
	if !ok {
		t.Fatal("none")
	}
	near(t, "to the far end", s.Far, 294, 2*moveStep)
}
