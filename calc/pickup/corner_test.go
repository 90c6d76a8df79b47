package pickup

import (
	"math"
	"testing"

	"fliptrue/calc/fit"
	"fliptrue/calc/frame"
	"pgregory.net/rapid"
)

// A corner that is not square, worked by another program: two touches a face, ball 0.991.
func TestCornerWorked(t *testing.T) {
	at := func(x, y float64, d fit.Direction) Touch {
		again := x
		if !d.AlongX() {
			again = y
		}
		return Touch{At: fit.Point{X: x, Y: y}, Again: again, Moved: d}
	}
	ts := []Touch{at(-1.0000, 10, fit.XPlus), at(-0.9300, 50, fit.XPlus), at(10, -1.0100, fit.YPlus), at(70, -0.9200, fit.YPlus)}
	k, err := Corner(ts, frame.Vec{}, fit.EvenBall(0.991), 0.002, [2]float64{84, 54})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "x", k.Zero.X, -0.026558, 5.1e-7)
	near(t, "y", k.Zero.Y, -0.034039, 5.1e-7)
	near(t, "skew", k.Skew*180/math.Pi, 0.085944, 5.1e-7)
	near(t, "lean", k.Lean*180/math.Pi, -0.100268, 5.1e-7)
	near(t, "interior", k.Interior*180/math.Pi, 89.813789, 5.1e-7)
	near(t, "direction of the long face", k.FaceU, math.Sqrt2*0.002/math.Sqrt2/60, 1e-8) // √2·s/L, s of two readings
}

// A stock turned by an angle, its near left corner at the zero, touched from any two sides
// with a ball that stands off the axis.
func TestCornerOfTurnedStock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		skew := draw(t, "skew", -0.01, 0.01)
		zero := frame.Vec{X: draw(t, "x", -300, 300), Y: draw(t, "y", -200, 200)}
		off := frame.Vec{X: draw(t, "ex", -0.05, 0.05), Y: draw(t, "ey", -0.05, 0.05)}
		r := draw(t, "r", 0.5, 3)
		w, h := 84.0, 54.0
		right, rear := rapid.Bool().Draw(t, "right"), rapid.Bool().Draw(t, "rear")
		corner := frame.Vec{}
		if right {
			corner.X = w
		}
		if rear {
			corner.Y = h
		}
		// of the corner that is touched the place is true; the zero is a size away along the machine's axes
		put := func(along, out frame.Vec, s float64, d fit.Direction) Touch {
			p := zero.Add(corner).Add(turned(along.Times(s), skew)).Add(turned(out.Times(r), skew)).Add(off)
			q := Touch{At: fit.Point{X: p.X, Y: p.Y}, Moved: d}
			e := draw(t, "repeat", -0.003, 0.003)
			if d.AlongX() {
				q.At.X, q.Again = p.X+e, p.X-e
			} else {
				q.At.Y, q.Again = p.Y+e, p.Y-e
			}
			return q
		}
		dx, dy := fit.XPlus, fit.YPlus
		up, to := frame.Vec{Y: 1}, frame.Vec{X: 1} // from the corner along the faces
		outX, outY := frame.Vec{X: -1}, frame.Vec{Y: -1}
		if right {
			dx, outX, to = fit.XMinus, frame.Vec{X: 1}, frame.Vec{X: -1}
		}
		if rear {
			dy, outY, up = fit.YMinus, frame.Vec{Y: 1}, frame.Vec{Y: -1}
		}
		ts := []Touch{put(up, outX, 10, dx), put(up, outX, 43, dx), put(to, outY, 17, dy), put(to, outY, 67, dy)}
		const s = 0.002
		k, err := Corner(ts, off, fit.EvenBall(r), s, [2]float64{w, h})
		if err != nil {
			t.Fatalf("%v", err)
		}
		near(t, "x", k.Zero.X, zero.X, 1e-8)
		near(t, "y", k.Zero.Y, zero.Y, 1e-8)
		near(t, "skew", k.Skew, skew, 1e-8)
		near(t, "interior", k.Interior, math.Pi/2, 1e-6)
		at := make([]float64, 8)
		for i, q := range ts {
			at[2*i], at[2*i+1] = q.Pair()[0], q.Pair()[1]
		}
		cov := byDifferences(func(v []float64) []float64 {
			us := append([]Touch(nil), ts...)
			for i := range us {
				if us[i].Moved.AlongX() {
					us[i].At.X = v[2*i]
				} else {
					us[i].At.Y = v[2*i]
				}
				us[i].Again = v[2*i+1]
			}
			k, _ := Corner(us, off, fit.EvenBall(r), s, [2]float64{w, h})
			return []float64{k.Zero.X, k.Zero.Y, k.Skew}
		}, at, all(s*s, 8))
		for i := range 2 {
			for j := range 2 {
				near(t, "covariance", k.Cov[i][j], cov.At(i, j), 0.02*math.Sqrt(cov.At(i, i)*cov.At(j, j)))
			}
		}
		near(t, "u of skew", k.USkew/math.Sqrt(cov.At(2, 2)), 1, 0.02)
	})
	if _, err := Corner(nil, frame.Vec{}, fit.EvenBall(1), 0.001, [2]float64{}); err == nil {
		t.Error("no touches")
	}
}

// A piece between its faces, its front and rear turned a little.
func TestSides(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		zero := frame.Vec{X: draw(t, "x", -300, 300), Y: draw(t, "y", -200, 200)}
		off := frame.Vec{X: draw(t, "ex", -0.05, 0.05), Y: draw(t, "ey", -0.05, 0.05)}
		skew, c := draw(t, "skew", -0.01, 0.01), Contact{Radius: draw(t, "r", 0.5, 3), S: 0.002}
		w, h, more := 84.0, 54.0, draw(t, "more", 0, 3) // stock beyond the part, evenly
		onRear := rapid.Bool().Draw(t, "rear")
		twice := func(v float64) [2]float64 { e := draw(t, "e", -0.003, 0.003); return [2]float64{v + e, v - e} }
		m := Sides{Left: twice(zero.X - more/2 - c.Radius + off.X), Right: twice(zero.X + w + more/2 + c.Radius + off.X), OnRear: onRear, Run: 25}
		// the ball against a face that leans by skew stands r/cos off it
		front, rear := zero.Y-more/2-c.Radius/math.Cos(skew)+off.Y, zero.Y+h+more/2+c.Radius/math.Cos(skew)+off.Y
		m.Front, m.Rear = twice(front), twice(rear)
		m.Third = front + m.Run*math.Tan(skew)
		if onRear {
			m.Third = rear + m.Run*math.Tan(skew)
		}
		k, err := m.Zero(off, c, [2]float64{w, h})
		if err != nil {
			t.Fatalf("%v", err)
		}
		near(t, "x", k.Zero.X, zero.X, 1e-9)
		near(t, "y", k.Zero.Y, zero.Y, 1e-9)
		near(t, "skew", k.Skew, skew, 1e-9)
		near(t, "width", k.Width[0], w+more, 1e-9)
		near(t, "depth", k.Width[1], (h+more)*math.Cos(skew), 1e-9)
		at := []float64{m.Left[0], m.Left[1], m.Right[0], m.Right[1], m.Front[0], m.Front[1], m.Rear[0], m.Rear[1], m.Third}
		cov := byDifferences(func(v []float64) []float64 {
			n := m
			n.Left, n.Right, n.Front, n.Rear, n.Third = [2]float64{v[0], v[1]}, [2]float64{v[2], v[3]}, [2]float64{v[4], v[5]}, [2]float64{v[6], v[7]}, v[8]
			k, _ := n.Zero(off, c, [2]float64{w, h})
			return []float64{k.Zero.X, k.Zero.Y, k.Skew}
		}, at, all(c.S*c.S, 9))
		for i := range 2 {
			for j := range 2 {
				near(t, "covariance", k.Cov[i][j], cov.At(i, j), 1e-10)
			}
		}
		near(t, "u of skew", k.USkew, math.Sqrt(cov.At(2, 2)), 1e-8)
	})
	if _, err := (Sides{Run: 20}).Zero(frame.Vec{}, Contact{Radius: 1}, [2]float64{}); err == nil {
		t.Error("all on one face")
	}
	if _, err := (Sides{Left: [2]float64{-50, -50}, Right: [2]float64{50, 50}, Run: 20}).Zero(frame.Vec{}, Contact{Radius: 1}, [2]float64{}); err == nil {
		t.Error("front on rear")
	}
}
