package frame

import (
	"math"
	"testing"

	"fliptrue/calc/fit"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// A part 84 x 54 turned over in space about the middle of its outline: half a turn by a matrix, which is no mirror.
func TestFlipIsHalfATurn(t *testing.T) {
	near(t, "about X", Over(AboutX, Vec{84, 54}).Plan(Vec{10, 12}).Y, 42, 1e-12)
	near(t, "about Y", Over(AboutY, Vec{84, 54}).Plan(Vec{10, 12}).X, 74, 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		size, p := drawVec(t, "size", 300), drawVec(t, "p", 300)
		axis := Axis(rapid.IntRange(0, 1).Draw(t, "axis"))
		half := mat.NewDense(3, 3, []float64{1, 0, 0, 0, -1, 0, 0, 0, -1})
		if axis == AboutY {
			half = mat.NewDense(3, 3, []float64{-1, 0, 0, 0, 1, 0, 0, 0, -1})
		}
		if det := mat.Det(half); math.Abs(det-1) > 1e-15 {
			t.Fatalf("determinant %v", det)
		}
		var to mat.VecDense
		to.MulVec(half, mat.NewVecDense(3, []float64{p.X - size.X/2, p.Y - size.Y/2, 7}))
		f := Over(axis, size)
		got := f.Plan(p)
		if axis == AboutX { // its own zero along the axis stays
			nearVec(t, "about X", got, Vec{p.X, to.AtVec(1) + size.Y/2}, 1e-12)
		} else {
			nearVec(t, "about Y", got, Vec{to.AtVec(0) + size.X/2, p.Y}, 1e-12)
		}
		nearVec(t, "twice is nothing", f.Plan(got), p, 1e-12)
	})
}

func TestMirrored(t *testing.T) {
	f := Over(AboutX, Vec{96, 64})
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
		f := Flip{Axis(rapid.IntRange(0, 1).Draw(t, "axis")), rapid.Float64Range(-100, 100).Draw(t, "across")}
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

// A machine model shares no formula with fit.OutOfSquare, by which the register reckons, nor with SquarenessOf: a machine whose X follows Y cuts side 1, the part is turned over and
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
				got := Vec{-fit.OutOfSquare(c.eps, p.Y, W/2), 0} // its sign: by how much side 2 is out
				nearVec(t, "squareness", got, diff[i].Sub(mean), 1e-12)
				near(t, "size", math.Abs(got.X), c.want, 1e-12)
				near(t, "found again", float64(SquarenessOf(diff[2].X-diff[1].X, W)), c.eps, 1e-12)
			}
		}
	}
}
