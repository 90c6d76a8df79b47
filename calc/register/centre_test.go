package register

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/frame"
)

// By hand: features off by 10 and 30 µm along X with guards of 12 and 14: from -2 to 44, middle 21. Along Y
// -36 and -15 with 14 each: from -50 to -1, middle -25.5, which a control of 0.001 holds as -0.026 or -0.025.
func TestCentreByHand(t *testing.T) {
	ks := []Known{{Error: [2]float64{0.010, -0.036}, Guard: [2]float64{0.012, 0.014}},
		{Error: [2]float64{0.030, -0.015}, Guard: [2]float64{0.014, 0.014}}}
	c := Centre(ks, 0.001)
	if math.Abs(c.X-0.021) > 1e-9 || math.Abs(c.Y+0.0255) > 0.00051 {
		t.Errorf("%+v", c)
	}
	ks[0].Kink[0] = 0.010 // of either sign: from -12 to 44
	if c := Centre(ks, 0.001); math.Abs(c.X-0.016) > 1e-9 {
		t.Errorf("with a kink %+v", c)
	}
	if c := Centre(nil, 0.001); c != (frame.Vec{}) {
		t.Errorf("without features %+v", c)
	}
}

// No other shift on a fine grid makes the worst feature better, along either axis.
func TestNoShiftIsBetterThanTheCentre(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 7))
	for range 300 {
		ks := make([]Known, 1+r.IntN(5))
		for i := range ks {
			for a := range 2 {
				ks[i].Error[a], ks[i].Guard[a], ks[i].Kink[a] = 0.05*r.NormFloat64(), 0.02*r.Float64(), 0.005*r.Float64()
			}
		}
		c := Centre(ks, 1e-9)
		worst := func(c frame.Vec, axis int) float64 {
			w := 0.0
			for _, k := range Shifted(ks, c) {
				w = math.Max(w, math.Abs(k.Error[axis])+k.Kink[axis]+k.Guard[axis])
			}
			return w
		}
		for d := -0.2; d <= 0.2; d += 0.0005 {
			if best, by := worst(c, 0), worst(frame.Vec{X: d}, 0); by < best-1e-8 {
				t.Fatalf("X: %g by %g, %g by %g: %+v", best, c.X, by, d, ks)
			}
			if best, by := worst(c, 1), worst(frame.Vec{Y: d}, 1); by < best-1e-8 {
				t.Fatalf("Y: %g by %g, %g by %g: %+v", best, c.Y, by, d, ks)
			}
		}
	}
}

// The offset itself, shifted, leaves the error that Shifted says.
func TestAShiftedOffsetCutsWhereItSays(t *testing.T) {
	f := frame.Fixture{Bore: frame.Vec{X: -250, Y: -140}, V: frame.Vec{X: 30, Y: 24}, Q: 1.0001, Skew: 0.0003}
	s := Setup{Offset: Place(f, []frame.Vec{{X: 96, Y: 64}}, false, 0, 0.001, 10)}
	fs := []Feature{{At: frame.Vec{X: 10, Y: 5}}, {At: frame.Vec{X: 96, Y: 64}}}
	c := frame.Vec{X: 0.013, Y: -0.021}
	want := Shifted(s.All(fs), c)
	s.Offset.Place.Offset = s.Offset.Place.Offset.Add(c)
	for i, k := range s.All(fs) {
		for a := range 2 {
			if math.Abs(k.Error[a]-want[i].Error[a]) > 1e-12 {
				t.Errorf("%d, axis %d: %g, not %g", i, a, k.Error[a], want[i].Error[a])
			}
		}
	}
}
