package pickup

import (
	"math"
	"testing"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// touches are on a plane of height z at mid, at the corners of a box and its middle.
func touches(mid frame.Vec, w, h, z, tx, ty float64) (ps []fit.Point3) {
	for _, s := range [][2]float64{{-.4, -.4}, {.4, -.4}, {.4, .4}, {-.4, .4}, {0, 0}} {
		ps = append(ps, fit.Point3{X: mid.X + s[0]*w, Y: mid.Y + s[1]*h, Z: z + tx*s[0]*w + ty*s[1]*h})
	}
	return ps
}

func plane(t failer, ps []fit.Point3) fit.Plane {
	p, err := fit.ToPlane(ps)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return p
}

// A floor and a rim on a fixture that leans, touched over a block by a tool of some length.
func TestFloor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mid := frame.Vec{X: draw(t, "x", -60, 60), Y: draw(t, "y", -60, 60)}
		tx, ty, z, depth := draw(t, "tx", -1e-3, 1e-3), draw(t, "ty", -1e-3, 1e-3), draw(t, "z", -300, -100), draw(t, "depth", 3, 15)
		l, block := Length{V: draw(t, "l", 50, 120), Var: 9e-6}, draw(t, "block", 0, 20)
		add := l.V + block
		a, b := frame.Vec{X: mid.X - 50, Y: mid.Y + 4}, frame.Vec{X: mid.X + 50, Y: mid.Y - 4}
		rimZ := func(q frame.Vec) float64 { return z + depth + tx*(q.X-mid.X) + ty*(q.Y-mid.Y) }
		rim := [2]float64{rimZ(a) + add, rimZ(b) + add}
		p := plane(t, touches(mid, 80, 50, z+add, tx, ty))
		f := FloorOf(p, mid, rim, l, block, 0.002)
		near(t, "z", f.Z, z, 1e-9)
		near(t, "tilt x", f.TiltX, tx, 1e-11)
		near(t, "tilt y", f.TiltY, ty, 1e-11)
		near(t, "rim", f.Rim, z+depth, 1e-9)
		near(t, "u", f.U, math.Hypot(0.002*math.Sqrt(p.Cofactor[0][0]), 0.003), 1e-9)
		for _, q := range []frame.Vec{a, b} {
			near(t, "rim as it reads", f.RimAt(q, mid), rimZ(q)+block, 1e-9)
			near(t, "floor there", f.At(q, mid), rimZ(q)-depth, 1e-9)
		}
		level := FloorByRim([2]float64{z + depth + add + 0.01, z + depth + add - 0.01}, depth, l, block, 0.002)
		near(t, "by the rim", level.Z, z, 1e-9)
		near(t, "its rim", level.Rim, z+depth, 1e-9)
		near(t, "its block", level.RimAt(a, mid), z+depth+block, 1e-9)
		near(t, "its u", level.U, math.Sqrt(0.002*0.002/2+0.005*0.005/3+9e-6), 1e-12)
		if level.TiltX != 0 || level.TiltY != 0 {
			t.Fatal("tilt out of nothing")
		}
		near(t, "over", Over(tx, ty, 80, 50), math.Max(math.Abs(tx*80+ty*50), math.Abs(tx*80-ty*50)), 1e-12)
		// u of the rise over either diagonal by the normal equations in matrices
		rows := mat.NewDense(5, 3, nil)
		for i, q := range touches(mid, 80, 50, 0, 0, 0) {
			rows.SetRow(i, []float64{1, q.X - mid.X, q.Y - mid.Y})
		}
		var normal, cov mat.Dense
		normal.Mul(rows.T(), rows)
		_ = cov.Inverse(&normal)
		j := mat.NewDense(1, 3, []float64{0, 80, -50})
		near(t, "u", OverU(p, 80, 50, 0.002), 0.002*math.Sqrt(product(j, &cov, j.T()).At(0, 0)), 1e-9)
	})
}

// A part that lies on a leaning floor, itself a wedge, with a chip under one end: what is left of its lean is the chip's.
func TestSeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := 84.0, 54.0
		f := Floor{Z: -200, TiltX: draw(t, "fx", -1e-3, 1e-3), TiltY: draw(t, "fy", -1e-3, 1e-3), Block: draw(t, "block", 0, 20)}
		wx, wy := draw(t, "wx", -1e-3, 1e-3), draw(t, "wy", -1e-3, 1e-3)
		cx, cy := draw(t, "cx", -1e-3, 1e-3), draw(t, "cy", -1e-3, 1e-3)
		thick, l := draw(t, "thick", 3, 20), Length{V: 90}
		mid := frame.Vec{X: w / 2, Y: h / 2}
		top := plane(t, touches(mid, w, h, f.Z+thick+l.V+f.Block, f.TiltX+wx+cx, f.TiltY+wy+cy))
		s := SeatOf(top, f, wx, wy, l, [2]float64{w, h})
		near(t, "over the floor", s.Over, thick, 1e-9)
		near(t, "x", s.TiltX, cx, 1e-10)
		near(t, "y", s.TiltY, cy, 1e-10)
		near(t, "lean", s.Lean, math.Abs(cx)*w+math.Abs(cy)*h, 1e-9)
		// the side on which a tilt is highest is the one whose middle rises most
		rise := map[frame.Wall]float64{frame.Right: cx * w, frame.Left: -cx * w, frame.Away: cy * h, frame.Toward: -cy * h}
		for _, r := range rise {
			if r > rise[HighSide(cx*w, cy*h)]+1e-12 {
				t.Fatalf("high at %v, rises %v", HighSide(cx*w, cy*h), rise)
			}
		}
		// the highest touch over the floor: over a chip, the highest by the chip's lean
		ps := touches(mid, w, h, 0, f.TiltX+cx, f.TiltY+cy)[:4]
		over := func(q fit.Point3) float64 { return cx*(q.X-mid.X) + cy*(q.Y-mid.Y) }
		for _, q := range ps {
			if over(q) > over(ps[Highest(ps, f.TiltX, f.TiltY)])+1e-9 {
				t.Fatalf("%v stands higher than touch %d", q, Highest(ps, f.TiltX, f.TiltY))
			}
		}
		if Highest(nil, 0, 0) != -1 {
			t.Fatal("highest of none")
		}
	})
}

// The thickness of a turned part at a place is that at the place it came from: half turns as matrices.
func TestWedge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sx, sy := draw(t, "sx", -1e-3, 1e-3), draw(t, "sy", -1e-3, 1e-3)
		for _, flipX := range []bool{true, false} {
			back := mat.NewDense(2, 2, []float64{1, 0, 0, -1}) // the half turn undoes itself
			if !flipX {
				back = mat.NewDense(2, 2, []float64{-1, 0, 0, 1})
			}
			thick := func(x, y float64) float64 { // by the place on side 2
				var p mat.VecDense
				p.MulVec(back, mat.NewVecDense(2, []float64{x, y}))
				return 10 + sx*p.AtVec(0) + sy*p.AtVec(1)
			}
			x, y := Wedge(sx, sy, flipX)
			near(t, "x", x, (thick(1, 0)-thick(-1, 0))/2, 1e-12)
			near(t, "y", y, (thick(0, 1)-thick(0, -1))/2, 1e-12)
		}
	})
}

// No place of a raw top gets less than its skin, one gets just that, and the finished part fits into what stays.
func TestTop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := 84.0, 54.0
		tx, ty := draw(t, "tx", -0.01, 0.01), draw(t, "ty", -0.01, 0.01)
		skin, l, block := draw(t, "skin", 0.2, 1), Length{V: 90, Var: 4e-6}, draw(t, "block", 0, 20)
		ps := touches(frame.Vec{X: w / 2, Y: h / 2}, w, h, -100, tx, ty)
		for i := range ps {
			ps[i].Z += draw(t, "rough", -0.05, 0.05)
		}
		if rapid.Bool().Draw(t, "dent") {
			ps[4].Z -= 1
		}
		p := plane(t, ps)
		top := TopOf(p, ps, skin, l, block, 0.003, [2]float64{w, h})
		lowest, heights := math.Inf(1), []float64{}
		for _, q := range ps {
			heights = append(heights, q.Z)
		}
		touched := len(heights)
		for _, c := range [][2]float64{{0, 0}, {w, 0}, {w, h}, {0, h}} {
			heights = append(heights, p.A+p.B*c[0]+p.C*c[1])
		}
		at := 0
		for i, z := range heights {
			if z < lowest {
				lowest, at = z, i
			}
		}
		near(t, "lowest", top.Lowest, lowest, 1e-9)
		near(t, "where", float64(top.At), float64(at%touched), 0)
		zero := top.Zero + l.V + block // in machine Z, as touched
		thickest := 0.0
		for i, z := range heights[:touched] {
			if z-zero < skin-1e-9 {
				t.Fatalf("place %d gets %g of skin", i, z-zero)
			}
			near(t, "skin", top.Skin(z, skin), z-zero, 1e-9)
			thickest = math.Max(thickest, z-zero)
			bottom := z - 16 // stock of 16
			near(t, "left", top.Left(z, skin, 16, 14), zero-14-bottom, 1e-9)
		}
		near(t, "thickest", top.Thickest, thickest, 1e-9)
		near(t, "u", top.U, math.Hypot(0.003, 0.002), 1e-12)
	})
}
