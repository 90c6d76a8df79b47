package rescue

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// A second look that knows no integral: parts are thrown into their pocket at random, those whose corners stand in a wall are thrown
// away; from one that lies to one that was pushed on to the walls the difference at a place is taken.
func TestLooseAgainstThrownParts(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for _, c := range [][3]float64{{96, 64, 0.05}, {20, 90, 0.2}, {50, 50, 0.1}} {
		w, h, room := c[0], c[1], c[2]
		m, beyond, err := Loose(w, h, room)
		if err != nil {
			t.Fatal(err)
		}
		lies := func(pushed bool) frame.Motion { // about the part zero
			for {
				even := func(half float64) float64 { return half * (2*r.Float64() - 1) }
				x, y, turn := even(room), even(room), even(3*room/math.Min(w, h))
				in := true
				for _, k := range [4][2]float64{{-w, -h}, {w, -h}, {w, h}, {-w, h}} {
					in = in && math.Abs(x-turn*k[1]/2) <= room && math.Abs(y+turn*k[0]/2) <= room
				}
				if in && pushed { // as it is turned, on until it meets a wall along X, and one along Y
					x, y = math.Copysign(room-math.Abs(turn)*h/2, x), math.Copysign(room-math.Abs(turn)*w/2, y)
				}
				if in {
					return frame.Motion{Shift: frame.Vec{X: x + turn*h/2, Y: y - turn*w/2}, Turn: unit.Angle(turn)}
				}
			}
		}
		const n = 60000
		mid, more := frame.Vec{X: w / 2, Y: h / 2}, frame.Vec{}
		places := []frame.Vec{{}, {X: w}, {X: w, Y: h}, {X: 0.3 * w, Y: 0.6 * h}}
		sum := make([][2]float64, len(places))
		for range n {
			a, b := lies(false), lies(true)
			x, y := a.Move(mid), b.Move(mid)
			more = more.Add(frame.Vec{X: (y.X*y.X - x.X*x.X) / n, Y: (y.Y*y.Y - x.Y*x.Y) / n})
			for i, q := range places {
				d := b.Move(q).Sub(a.Move(q))
				sum[i][0] += d.X * d.X
				sum[i][1] += d.Y * d.Y
			}
		}
		u := m.Motion.CovAt(mid, beyond).U()
		if !(math.Abs(u.X*u.X-more.X) <= 0.02*more.X && math.Abs(u.Y*u.Y-more.Y) <= 0.02*more.Y) {
			t.Errorf("%v: beyond its play in the middle %v, of thrown parts %v", c, u, more)
		}
		for i, q := range places {
			_, u := m.At(q)
			for axis, got := range [2]float64{u.X, u.Y} {
				if want := math.Sqrt(sum[i][axis] / n); !(math.Abs(got-want) <= 0.012*want) {
					t.Errorf("%v at %v, axis %d: u %.5f, of thrown parts %.5f", c, q, axis, got, want)
				}
			}
		}
	}
}

// No place moves further than twice the play, its doubt grows with the play alone and is least in the middle; the sides change places.
func TestLooseStaysInThePocket(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.Float64Range(5, 300).Draw(t, "width"), rapid.Float64Range(5, 300).Draw(t, "height")
		room := rapid.Float64Range(0.005, 0.5).Draw(t, "play")
		m, _, err := Loose(w, h, room)
		if err != nil {
			t.Fatal(err)
		}
		_, mid := m.At(frame.Vec{X: w / 2, Y: h / 2})
		q := frame.Vec{X: rapid.Float64Range(0, w).Draw(t, "x"), Y: rapid.Float64Range(0, h).Draw(t, "y")}
		d, u := m.At(q)
		if d != (frame.Vec{}) || !(u.X >= mid.X-1e-12 && u.Y >= mid.Y-1e-12 && u.X <= 2*room && u.Y <= 2*room) {
			t.Fatalf("%v: %v, middle %v", q, u, mid)
		}
		// In the middle of a pocket that is its own mirror image X, Y and turn have nothing in common.
		zero := m.Cov
		mx, my := w/2, h/2
		if both := zero[0][1] + mx*zero[0][2] - my*zero[1][2] - mx*my*zero[2][2]; !(math.Abs(both) <= 1e-9*room*room) {
			t.Fatalf("X and Y of the middle go together by %g: %v", both, zero)
		}
		for i := range zero {
			for k := range i {
				if zero[i][k] != zero[k][i] {
					t.Fatalf("a covariance that is not its own mirror: %v", zero)
				}
			}
		}
		twice, _, _ := Loose(w, h, 2*room)
		if _, v := twice.At(q); !(math.Abs(v.X-2*u.X) <= 1e-9 && math.Abs(v.Y-2*u.Y) <= 1e-9) {
			t.Fatalf("twice the play: %v, %v", v, u)
		}
		across, _, _ := Loose(h, w, room)
		if _, v := across.At(frame.Vec{X: q.Y, Y: q.X}); math.Abs(v.X-u.Y) > 1e-9 || math.Abs(v.Y-u.X) > 1e-9 {
			t.Fatalf("sides changed: %v, %v", v, u)
		}
	})
	for _, c := range [][3]float64{{0, 5, 1}, {5, -1, 1}, {5, 5, 0}, {math.NaN(), 5, 1}, {5, 5, math.Inf(1)}} {
		if _, _, err := Loose(c[0], c[1], c[2]); err == nil {
			t.Errorf("%v is taken", c)
		}
	}
}
