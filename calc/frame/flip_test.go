package frame

import (
	"math"
	"testing"

	"fliptrue/calc/unit"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// A part 84 x 54 x 14 and a point in it; computed here.
func TestFlipWorked(t *testing.T) {
	size, p := Vec3{84, 54, 14}, Vec3{10, 12, -3}
	for _, c := range []struct {
		name string
		f    Flip
		want Vec3
	}{
		{"about X", OverTop(AboutX, size), Vec3{10, 42, -11}},
		{"about Y", OverTop(AboutY, size), Vec3{74, 12, -11}},
		{"pin line 0.010 off", OverTop(AboutX, size).OnPins(27.010), Vec3{10, 42.020, -11}},
		{"floor, seat is side 1's zero", OverFloor(AboutX, size, 0), Vec3{10, 42, 3}},
		{"floor, shoulder at -2", OverFloor(AboutX, size, -2), Vec3{10, 42, 1}},
	} {
		got := c.f.Apply(p)
		nearVec(t, c.name, got.Plan(), c.want.Plan(), 1e-12)
		near(t, c.name+" z", got.Z, c.want.Z, 1e-12)
		back := c.f.Apply(got)
		nearVec(t, c.name+" back", back.Plan(), p.Plan(), 1e-12)
		near(t, c.name+" back z", back.Z, p.Z, 1e-12)
	}
}

func TestFlipProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func() Vec3 {
			p := drawVec(t, "p", 300)
			return Vec3{p.X, p.Y, rapid.Float64Range(-100, 100).Draw(t, "z")}
		}
		axis := Axis(rapid.IntRange(0, 1).Draw(t, "axis"))
		f := OverTop(axis, draw())
		if rapid.Bool().Draw(t, "floor") {
			f = OverFloor(axis, draw(), rapid.Float64Range(-50, 50).Draw(t, "seat"))
		}
		if rapid.Bool().Draw(t, "pins") {
			f = f.OnPins(rapid.Float64Range(-100, 100).Draw(t, "line"))
		}
		p, q := draw(), draw()
		// Twice is nothing. The sums are exact to one rounding of each coordinate.
		b := f.Apply(f.Apply(p))
		nearVec(t, "twice", b.Plan(), p.Plan(), 1e-12)
		near(t, "twice z", b.Z, p.Z, 1e-12)
		// Differences go through the matrix, whose determinant is +1 (gonum) and whose square is the identity.
		m := f.Matrix()
		d := mat.NewDense(3, 3, []float64{m[0][0], m[0][1], m[0][2], m[1][0], m[1][1], m[1][2], m[2][0], m[2][1], m[2][2]})
		if det := mat.Det(d); math.Abs(det-1) > 1e-15 {
			t.Fatalf("determinant %v", det)
		}
		var sq mat.Dense
		sq.Mul(d, d)
		if !mat.Equal(&sq, mat.NewDiagDense(3, []float64{1, 1, 1})) {
			t.Fatal("squared is not the identity")
		}
		fp, fq := f.Apply(p), f.Apply(q)
		v := mat.NewVecDense(3, []float64{p.X - q.X, p.Y - q.Y, p.Z - q.Z})
		var w mat.VecDense
		w.MulVec(d, v)
		near(t, "dx", fp.X-fq.X, w.AtVec(0), 1e-12)
		near(t, "dy", fp.Y-fq.Y, w.AtVec(1), 1e-12)
		near(t, "dz", fp.Z-fq.Z, w.AtVec(2), 1e-12)
		// A direction's angle on side 2 is that of the flipped direction.
		dir := p.Plan().Sub(q.Plan())
		if dir.Len() > 1e-3 {
			to := f.Plan(p.Plan()).Sub(f.Plan(q.Plan()))
			got := f.Angle(unit.Angle(math.Atan2(dir.Y, dir.X)))
			near(t, "angle", math.Remainder(float64(got)-math.Atan2(to.Y, to.X), 2*math.Pi), 0, 1e-9)
			if got <= -math.Pi || got > math.Pi {
				t.Fatalf("angle %v outside (-π, π]", got)
			}
		}
	})
}

func TestFlipAngles(t *testing.T) {
	x, y := Flip{Axis: AboutX}, Flip{Axis: AboutY}
	near(t, "about X", float64(x.Angle(30*deg)), -30*deg, 1e-15)
	near(t, "about Y", float64(y.Angle(30*deg)), 150*deg, 1e-15)
	near(t, "half turn", float64(x.Angle(math.Pi)), math.Pi, 1e-15)
}

func TestFlipWall(t *testing.T) {
	x, y := Flip{Axis: AboutX}, Flip{Axis: AboutY}
	for _, c := range []struct{ w, aboutX, aboutY Wall }{
		{Left, Left, Right}, {Right, Right, Left}, {Toward, Away, Toward}, {Away, Toward, Away},
	} {
		if got := x.Wall(c.w); got != c.aboutX {
			t.Errorf("about X %v -> %v", c.w, got)
		}
		if got := y.Wall(c.w); got != c.aboutY {
			t.Errorf("about Y %v -> %v", c.w, got)
		}
	}
}

func TestMirrored(t *testing.T) {
	f := OverTop(AboutX, Vec3{96, 64, 16})
	side1 := [3]Vec{{12, 12}, {84, 12}, {12, 52}}
	var turned, mirrored [3]Vec
	for i, p := range side1 {
		turned[i] = f.Plan(p)
		mirrored[i] = Vec{96 - turned[i].X, turned[i].Y}
	}
	for _, c := range []struct {
		side2 [3]Vec
		want  bool
	}{{turned, false}, {mirrored, true}, {side1, true}} {
		got, err := f.Mirrored(side1, c.side2)
		if err != nil || got != c.want {
			t.Errorf("Mirrored(%v) = %v, %v", c.side2, got, err)
		}
	}
	for _, bad := range [][3]Vec{{{0, 0}, {10, 0}, {20, 0.005}}, {{1, 1}, {1, 1}, {5, 5}}, {{0, 0}, {math.NaN(), 0}, {0, 1}}} {
		if _, err := f.Mirrored(bad, turned); err == nil {
			t.Errorf("%v has no sense of rotation", bad)
		}
		if _, err := f.Mirrored(side1, bad); err == nil {
			t.Errorf("%v has no sense of rotation", bad)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		f := Flip{Axis(rapid.IntRange(0, 1).Draw(t, "axis")), rapid.Float64Range(-100, 100).Draw(t, "across"), 0}
		tri := [3]Vec{drawVec(t, "a", 50), drawVec(t, "b", 50), drawVec(t, "c", 50)}
		// wherever the program has its zero, and turned by any amount, it is no mirror
		m := drawMotion(t, "program")
		var to [3]Vec
		for i, p := range tri {
			to[i] = m.Apply(f.Plan(p))
		}
		if got, err := f.Mirrored(tri, to); err == nil && got {
			t.Fatal("a turned program was called a mirror")
		}
		for i := range to {
			to[i].X = -to[i].X
		}
		if got, err := f.Mirrored(tri, to); err == nil && !got {
			t.Fatal("a mirrored program was not caught")
		}
	})
}

// A machine model shares no formula with Squareness: a machine whose X follows Y cuts side 1, the part is turned over and
// laid back into the same pocket, the same features are cut again and compared in the part. 0.02/300 over half widths of 27 gives
// 0.0036, 0.05/300 gives 0.0090, 0.010/100 gives 0.0054, about X and about Y alike (computed here).
func TestSquarenessDoubles(t *testing.T) {
	const L, W = 84.0, 54.0
	corners := []Vec{{0, 0}, {L, 0}, {L, W}, {0, W}}
	for _, c := range []struct{ eps, want float64 }{{0.02 / 300, 0.0036}, {0.05 / 300, 0.0090}, {0.010 / 100, 0.0054}} {
		machine := func(p Vec) Vec { return Vec{p.X + c.eps*p.Y, p.Y} }
		for _, turn := range []func(Vec) Vec{
			func(p Vec) Vec { return Vec{p.X, W - p.Y} },
			func(p Vec) Vec { return Vec{L - p.X, p.Y} },
		} {
			// in side-2 coordinates: where side 1's feature came to stand, and where side 2 cuts it
			var diff []Vec
			var mean Vec
			for _, p := range corners { // p as side 2 sees it
				part, cut := turn(machine(turn(p))), machine(p)
				diff = append(diff, part.Sub(cut))
				mean = mean.Add(part.Sub(cut).Times(1.0 / 4)) // the pickup centres the two sides on each other
			}
			for i, p := range corners {
				got := Squareness(unit.Slope(c.eps), p, Vec{L / 2, W / 2})
				nearVec(t, "squareness", got, diff[i].Sub(mean), 1e-12)
				near(t, "size", math.Abs(got.X), c.want, 1e-12)
				near(t, "found again", float64(SquarenessOf(diff[2].X-diff[1].X, W)), c.eps, 1e-12)
			}
		}
	}
}

// Turned over, the seat face of side 1 stands on the floor: that is the zero, or one thickness below it.
func TestZ0(t *testing.T) {
	size := Vec3{96, 64, 14}
	for z, floor := range map[Z0]float64{Floor: 0, FinishedTop: -14} {
		near(t, "seat", z.Over(AboutX, size, 0).Apply(Vec3{20, 20, 0}).Z, floor, 1e-12)
		near(t, "finished top", z.Over(AboutX, size, 0).Apply(Vec3{0, 0, -14}).Z, floor+14, 1e-12)
	}
}
