package frame

import (
	"math"
	"testing"
)

// A warm fixture whose pocket holds the part at its far corner: the wall moves with
// the fixture, the part hangs from it and has not grown. Simulated point by point.
func TestHeldPartDoesNotGrowWithTheFixture(t *testing.T) {
	v, held, q, turn := Vec{45, 20}, Vec{0, 64}, 1.0003, 0.0007
	f := Fixture{Bore: Vec{-312, -158}, V: v, Q: q, Skew: 0.0007, Held: held}
	// the wall corner is a point of the fixture, the part zero hangs from it by its own size
	corner := v.Add(held)
	wall := Vec{corner.X * q, corner.Y * q}
	c, s := math.Cos(turn), math.Sin(turn)
	part := Vec{wall.X - held.X, wall.Y - held.Y}
	want := Vec{-312 + c*part.X - s*part.Y, -158 + s*part.X + c*part.Y}
	got := f.Rotated().Offset
	if d := got.Sub(want).Len(); d > 1e-9 {
		t.Errorf("part zero %v, simulated %v", got, want)
	}
	// the sensitivities by differences
	p := Vec{96, 64}
	j := f.Jacobian(p)
	pl := f.Compromise(Vec{})
	const h = 1e-6
	for k, g := range []Fixture{
		{Bore: f.Bore.Add(Vec{h, 0}), V: v, Q: q, Skew: f.Skew, Held: held}, {Bore: f.Bore.Add(Vec{0, h}), V: v, Q: q, Skew: f.Skew, Held: held},
		{Bore: f.Bore, V: v, Q: q, Skew: f.Skew + h, Held: held}, {Bore: f.Bore, V: v, Q: q + h, Skew: f.Skew, Held: held},
	} {
		d := g.Error(pl, p).Sub(f.Error(pl, p)).Times(1 / h)
		if math.Abs(d.X-j[0][k]) > 1e-3 || math.Abs(d.Y-j[1][k]) > 1e-3 {
			t.Errorf("column %d: (%g, %g), by differences %v", k, j[0][k], j[1][k], d)
		}
	}
}
