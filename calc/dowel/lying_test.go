package dowel

import (
	"math"
	"testing"

	"fliptrue/calc/frame"

	"pgregory.net/rapid"
)

// The motion says at any place what the formulas of the play say there, in the pins' frame and in a turned one.
func TestLyingIsThePlay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := Play{J1: rapid.Float64Range(0.002, 0.05).Draw(t, "j1"), J2: rapid.Float64Range(0.002, 0.05).Draw(t, "j2"),
			apart: rapid.Float64Range(20, 200).Draw(t, "L")}
		at := frame.Vec{X: rapid.Float64Range(-50, 250).Draw(t, "x"), Y: rapid.Float64Range(-100, 100).Draw(t, "y")}
		way := float64(rapid.SampledFrom([]int{-1, 1}).Draw(t, "way"))
		a := rapid.Float64Range(-3, 3).Draw(t, "turned")
		near := func(what string, got, want frame.Vec) {
			if turn := (j.J1 + j.J2) / (2 * j.apart); got.Sub(want).Len() > 1e-9+turn*turn*at.Len() { // of the second order
				t.Fatalf("%s: %v, want %v", what, got, want)
			}
		}
		std := func(c frame.Cov2) frame.Vec { return frame.Vec{X: math.Sqrt(c[0][0]), Y: math.Sqrt(c[1][1])} }
		near("u", std(j.Lies().Motion.CovAt(at, j.Lies().Cov)), j.U(at))
		l, p := j.LiesPushed(way, j.J1/2, j.J2/2, 0, 0), j.Push(at, way)
		near("pushed", l.Motion.Move(at), p.Shift)
		near("pushed, u", std(l.Motion.CovAt(at, l.Cov)), p.U)
		dir := frame.Vec{X: 1}.Turned(a)
		r := l.Turned(dir.Times(7))
		near("turned", r.Motion.Move(at.Turned(a)), p.Shift.Turned(a))
		// The variance along any direction is that of the same direction before.
		c, d := r.Motion.CovAt(at.Turned(a), r.Cov), l.Motion.CovAt(at, l.Cov)
		if got, want := c[0][0]+c[1][1], d[0][0]+d[1][1]; math.Abs(got-want) > 1e-7 {
			t.Fatalf("trace %g, want %g", got, want)
		}
		if got, want := dir.X*dir.X*c[0][0]+2*dir.X*dir.Y*c[0][1]+dir.Y*dir.Y*c[1][1], d[0][0]; math.Abs(got-want) > 1e-7 {
			t.Fatalf("along the line %g, want %g", got, want)
		}
	})
}

// What the diameters leave in doubt is in the shift.
func TestPushedByMeasuredPlays(t *testing.T) {
	j, _ := worked.Play()
	l := j.LiesPushed(1, 0.006, 0.005, 0.0009, 0.0012)
	near(t, "u at pin 1", math.Sqrt(l.Cov[1][1]), math.Hypot(0.002, 0.0009), 1e-12)
	at2 := l.Motion.CovAt(frame.Vec{X: 84}, l.Cov)
	near(t, "u at pin 2", math.Sqrt(at2[1][1]), math.Hypot(0.002, 0.0012), 1e-7)
}
