package frame

import (
	"math"
	"testing"

	"fliptrue/calc/unit"
	"pgregory.net/rapid"
)

// pushed is, with the turn that it took, where a part's feature p ends up minus where the tool cuts it, by pushing the
// part itself: its outline as a machine out of square cut it on side 1, turned over in space, laid
// flat against one pocket wall that the same machine cut, then moved until it touches both.
func pushed(eps float64, axis Axis, size Vec, walls [2]Wall, flatX bool, p Vec) (moved Vec, turn float64) {
	cut := func(q Vec) Vec { return Vec{q.X + eps*q.Y, q.Y} }
	part := func(q Vec) Vec { // side-2 program coordinates to where the solid is
		if axis == AboutX {
			r := cut(Vec{q.X, size.Y - q.Y})
			return Vec{r.X, size.Y - r.Y}.Turned(turn)
		}
		r := cut(Vec{size.X - q.X, q.Y})
		return Vec{size.X - r.X, r.Y}.Turned(turn)
	}
	corners := []Vec{{}, {size.X, 0}, size, {0, size.Y}}
	if !flatX { // the part's wall along Y laid along the pocket's
		a, b := part(Vec{}), part(Vec{0, size.Y})
		c, d := cut(Vec{}), cut(Vec{0, size.Y})
		turn = math.Atan2(b.Sub(a).Cross(d.Sub(c)), b.Sub(a).Dot(d.Sub(c)))
	}
	var shift Vec
	for _, w := range walls { // first the wall along X, which shows no move along it, then the other
		if w.Dir().Y == 0 {
			continue
		}
		most := math.Inf(-1)
		for _, q := range corners {
			wall := 0.0
			if w == Away {
				wall = size.Y
			}
			most = math.Max(most, (part(q).Y-wall)*w.Dir().Y)
		}
		shift.Y = -most * w.Dir().Y
	}
	for _, w := range walls {
		if w.Dir().X == 0 {
			continue
		}
		most := math.Inf(-1)
		for _, q := range corners {
			r := part(q).Add(Vec{0, shift.Y})
			wall := cut(Vec{0, r.Y}).X
			if w == Right {
				wall = cut(Vec{size.X, r.Y}).X
			}
			most = math.Max(most, (r.X-wall)*w.Dir().X)
		}
		shift.X = -most * w.Dir().X
	}
	return part(p).Add(shift).Sub(cut(p)), turn
}

// Whichever wall it lies flat against and whatever the sign of eps, it lies within what is said: with its turn
// measured, and with a turn that may be anything up to twice eps.
func TestLeaningOfAPushedPart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		eps := rapid.Float64Range(-3e-4, 3e-4).Draw(t, "eps")
		size := Vec{rapid.Float64Range(20, 150).Draw(t, "l"), rapid.Float64Range(20, 150).Draw(t, "w")}
		s := Seat{Size: size, Walls: [2]Wall{rapid.SampledFrom([]Wall{Left, Right}).Draw(t, "x"), rapid.SampledFrom([]Wall{Toward, Away}).Draw(t, "y")}}
		if rapid.Bool().Draw(t, "swap") {
			s.Walls[0], s.Walls[1] = s.Walls[1], s.Walls[0]
		}
		p := Vec{rapid.Float64Range(0, 1).Draw(t, "px") * size.X, rapid.Float64Range(0, 1).Draw(t, "py") * size.Y}
		axis := rapid.SampledFrom([]Axis{AboutX, AboutY}).Draw(t, "axis")
		const second = 1e-4 // eps² times the part, and what the bearing corner slides along its wall
		for _, flatX := range []bool{true, false} {
			want, turn := pushed(eps, axis, size, s.Walls, flatX, p)
			for _, known := range [][2]float64{{turn, 0}, {0, 2*math.Abs(eps) + 1e-9}} {
				got, err := s.Leaning(unit.Slope(eps), unit.Angle(known[0]), unit.Angle(known[1]), p)
				if err != nil {
					t.Fatal(err)
				}
				if math.Abs(want.X-got.Value.X) > got.Half.X+second || math.Abs(want.Y-got.Value.Y) > got.Half.Y+second {
					t.Fatalf("flat along X %v, turn %g ± %g: %v lies outside %+v", flatX, known[0], known[1], want, got)
				}
			}
		}
	})
}

// One-sided, 0 to 2 eps W at both ends of the wall and 0 to eps W on its middle line, where a centred part has none.
func TestLeaningIsOneSided(t *testing.T) {
	s := Seat{Size: Vec{96, 64}, Walls: [2]Wall{Left, Away}}
	for y, most := range map[float64]float64{0: 2 * 1e-4 * 64, 32: 1e-4 * 64, 64: 2 * 1e-4 * 64} {
		for _, eps := range []unit.Slope{1e-4, -1e-4} { // a card's sign makes no half-width negative
			for off, x := range map[float64]Wall{1: Left, -1: Right} {
				s.Walls[0] = x
				o, err := s.Leaning(eps, 0, 0, Vec{10, y})
				if err != nil {
					t.Fatal(err)
				}
				nearVec(t, "mean", o.Value, Vec{off * most / 2, 0}, 1e-12)
				nearVec(t, "half", o.Half, Vec{most / 2, 0}, 1e-12)
			}
		}
	}
	s.Walls[0] = Left
	o, _ := s.Leaning(0, 1e-4, 0, Vec{10, 5}) // turned alone: it touches at the upper end of the left wall, at the left of the far one
	nearVec(t, "turned", o.Value, Vec{1e-4 * (64 - 5), -1e-4 * (96 - 10)}, 1e-12)
	nearVec(t, "no doubt", o.Half, Vec{}, 1e-15)
	for _, bad := range []Seat{{Size: Vec{96, 64}, Walls: [2]Wall{Left, Right}}, {Size: Vec{0, 64}, Walls: [2]Wall{Left, Away}}, {Size: Vec{96, 64}, Walls: [2]Wall{Left, 7}}} {
		if _, err := bad.Leaning(1e-4, 0, 0, Vec{}); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
	for _, bad := range [][3]float64{{math.NaN(), 0, 0}, {0, math.NaN(), 0}, {0, 0, math.NaN()}} {
		if _, err := s.Leaning(unit.Slope(bad[0]), unit.Angle(bad[1]), unit.Angle(bad[2]), Vec{}); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

func TestTurnAtWalls(t *testing.T) {
	a, err := TurnAtWalls(0.02, 96)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "0.02 strips 96 apart, mrad", 1e3*float64(a), 0.208333, 1e-6)
	for _, bad := range [][2]float64{{0, 96}, {0.02, 0}, {math.NaN(), 96}} {
		if _, err := TurnAtWalls(bad[0], bad[1]); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// The line against screws drawn within the standard's meaning: travel that varies by at most per300 within 300 mm.
func TestLeadError(t *testing.T) {
	near(t, "grade 7, 100 mm moved by 200", LeadError(LeadPreset, 100, 200), 0.052/3, 1e-12)
	near(t, "not moved", LeadError(LeadPreset, 100, 0), 0, 0)
	near(t, "far", LeadError(-LeadPreset, 900, 900), 0.052, 0)
	rapid.Check(t, func(t *rapid.T) {
		// A screw of even pieces, each with its own lead error of at most v/2 in 300 either way.
		const v, piece = 0.052, 10.0
		slopes := make([]float64, 120)
		for i := range slopes {
			slopes[i] = rapid.Float64Range(-v/600, v/600).Draw(t, "lead")
		}
		off := func(x float64) (sum float64) {
			for i, s := range slopes {
				sum += s * math.Max(0, math.Min(piece, x-float64(i)*piece))
			}
			return sum
		}
		reach, moved, at := rapid.Float64Range(0, 300).Draw(t, "reach"), rapid.Float64Range(0, 300).Draw(t, "moved"), rapid.Float64Range(0, 500).Draw(t, "at")
		made, now := off(at+reach)-off(at), off(at+moved+reach)-off(at+moved)
		if d := math.Abs(now - made); d > LeadError(v, reach, moved)+1e-12 {
			t.Fatalf("%g made at %g, moved by %g: off by %g, line %g", reach, at, moved, d, LeadError(v, reach, moved))
		}
	})
}

// A corner of 88.57 degrees over 64: 1.6 mm of air at one end.
func TestCornerOfStock(t *testing.T) {
	lean := unit.Angle(-1.43 * deg)
	cs, err := Covers(Vec{96, 64}, []StockSide{{Wall: Left, At: Vec{0, 0}, Lean: lean}, {Wall: Toward, At: Vec{0, -1}}, {Wall: Right, At: Vec{98, 30}, Lean: lean}, {Wall: Away, At: Vec{50, 66}, Lean: -lean}})
	if err != nil {
		t.Fatal(err)
	}
	w, _ := Worst(cs)
	near(t, "air at the left side", w.Least, -64*math.Tan(1.43*deg), 1e-12)
	near(t, "air at the left side", w.Least, -1.6, 0.01)
	nearVec(t, "its end", w.End, Vec{0, 64}, 0)
	near(t, "air all along", w.AirLength, 64, 1e-12)
	near(t, "even side", cs[1].Least, 1, 1e-12)
	near(t, "right side, where it leaves least", cs[2].Least, 2-30*math.Tan(1.43*deg), 1e-12)
	nearVec(t, "its end", cs[2].End, Vec{96, 0}, 0)
	near(t, "far side", cs[3].Least, 2-50*math.Tan(1.43*deg), 1e-12)
	nearVec(t, "its end", cs[3].End, Vec{0, 64}, 0)
	if _, err := Covers(Vec{96, 64}, []StockSide{{Wall: Left, Lean: 1.2}}); err == nil {
		t.Error("a side that leans by 69 degrees was taken")
	}
	if _, ok := Worst(nil); ok {
		t.Error("no sides have a worst one")
	}
	// Against the polygon: a point of the part's edge is inside the stock just where the side says so.
	rapid.Check(t, func(t *rapid.T) {
		size := drawVec(t, "size", 100)
		size = Vec{10 + math.Abs(size.X), 10 + math.Abs(size.Y)}
		s := StockSide{Wall: Wall(rapid.IntRange(0, 3).Draw(t, "wall")), Lean: unit.Angle(float64(rapid.IntRange(-1000, 1000).Draw(t, "lean")) / 1e4)} // a count of points knows no finer lean
		s.At = drawVec(t, "at", 6)
		s.At = Vec{math.Round(1000*s.At.X) / 1000, math.Round(1000*s.At.Y) / 1000}
		switch s.Wall {
		case Right:
			s.At.X += size.X
		case Away:
			s.At.Y += size.Y
		}
		cs, _ := Covers(size, []StockSide{s})
		along := s.Wall.Dir().Left().Turned(float64(s.Lean))
		inside := func(p Vec) bool { return along.Cross(p.Sub(s.At)) > -1e-12 } // the stock lies left of its face, seen along it
		n, air := 2000, 0
		for i := range n {
			f := (float64(i) + 0.5) / float64(n)
			p := Vec{f * size.X, f * size.Y}
			switch s.Wall {
			case Left:
				p.X = 0
			case Right:
				p.X = size.X
			case Toward:
				p.Y = 0
			case Away:
				p.Y = size.Y
			}
			if !inside(p) {
				air++
			}
		}
		near(t, "air counted", float64(air)/float64(n), cs[0].AirLength/cs[0].EdgeLength, 1e-3)
	})
}
