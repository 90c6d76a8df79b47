package jaws

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/frame"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-44s %14.7f %14.7f %10.2g", name, want, got, got-want)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

func deg(d float64) unit.Angle { return unit.Angle(d * math.Pi / 180) }

// diameter is the change of the diameter at an angle from the jaws by the Fourier series of the
// pressure, an inextensional ring: (4/π) Σ sin nβ/(n sin β) cos nθ/(n²-1)², n even. Another way than the closed form.
func diameter(beta, theta float64) float64 {
	s := 0.0
	for n := 2.0; n < 4000; n += 2 {
		load := 1.0
		if beta > 0 {
			load = math.Sin(n*beta) / (n * math.Sin(beta))
		}
		s += load * math.Cos(n*theta) / ((n*n - 1) * (n*n - 1))
	}
	return -4 / math.Pi * s
}

// Roark, table 9.2 case 1 (from memory, exact π/4 - 2/π and 2/π - 1/2): 0.1488 and 0.1366. Over arcs computed here:
// 0.124881, 0.099806, 0.069349, 0.035497 at 30, 45, 60, 75 degrees; spread at 75: 0.0736, at two points 0.2854.
func TestShares(t *testing.T) {
	along, across, err := Shares(0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "two points, along", -along, 0.148779, 1e-6)
	near(t, "printed", -along, 0.1488, 5e-5)
	near(t, "two points, across: printed", across, 0.1366, 5e-5)
	near(t, "spread", across-along, 0.2854, 5e-5)
	for d, k := range map[float64]float64{30: 0.124881, 45: 0.099806, 60: 0.069349, 75: 0.035497} {
		along, across, err := Shares(deg(d))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "along", -along, k, 1e-6)
		if d == 75 {
			near(t, "spread at 75", across-along, 0.0736, 5e-5)
		}
	}
	full, over, _ := Shares(deg(90))
	near(t, "all round: nothing bends", full, 0, 1e-12)
	near(t, "all round: nothing bends", over, 0, 1e-12)
	small, _, _ := Shares(1e-4)
	near(t, "small wraps join", small, along, 1e-7)
	for _, bad := range []float64{-1, 91, math.NaN()} {
		if _, _, err := Shares(deg(bad)); err == nil {
			t.Errorf("wrap %g was taken", bad)
		}
	}
	rapid.Check(t, func(t *rapid.T) { // closed form against the series; no other diameter is larger or smaller
		b := rapid.Float64Range(0, math.Pi/2).Draw(t, "wrap")
		along, across, err := Shares(unit.Angle(b))
		if err != nil || math.Abs(along-diameter(b, 0)) > 1e-6 || math.Abs(across-diameter(b, math.Pi/2)) > 1e-6 {
			t.Fatalf("%g %g %v, series %g %g", along, across, err, diameter(b, 0), diameter(b, math.Pi/2))
		}
		if d := diameter(b, rapid.Float64Range(0, math.Pi).Draw(t, "theta")); d < along-1e-6 || d > across+1e-6 {
			t.Fatalf("another diameter changes by %g", d)
		}
	})
}

// R 30, t 2, b 12, acrylic 2900: 0.010 along at 0.058 N by two points, 0.24 N over 75 degrees; of roundness by
// two-point measure 0.030 and 0.117 N.
func TestRing(t *testing.T) {
	r := Ring{Radius: 30, Wall: 2, Height: 12, E: 2900}
	o, err := r.Pressed(0.0578, 0)
	if err != nil || o.Thick {
		t.Fatalf("%+v %v", o, err)
	}
	near(t, "along at 0.0578 N", float64(o.Along), -0.010, 5e-5)
	o, _ = r.Pressed(0.2421, deg(75))
	near(t, "along at 0.2421 N, 75 deg", float64(o.Along), -0.010, 5e-5)
	near(t, "spread", float64(o.Spread), float64(o.Across-o.Along), 1e-15)
	for d, want := range map[float64]float64{0: 0.0301, 75: 0.1168} {
		f, err := r.Allowed(0.010, deg(d))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "allowed, N", float64(f), want, 1e-4)
		o, _ := r.Pressed(f, deg(d))
		near(t, "and gives the limit", float64(o.Spread), 0.010, 1e-12)
		w, err := r.Wrap(f, 0.010)
		near(t, "wrap for it, deg", float64(w)*180/math.Pi, d, 1e-4)
		if err != nil {
			t.Error(err)
		}
	}
	if w, err := r.Wrap(0.01, 0.010); w != 0 || err != nil {
		t.Error(w, err)
	}
	if f, err := r.Allowed(0.01, deg(90)); !math.IsInf(float64(f), 1) || err != nil {
		t.Error(f, err)
	}
	thick := Ring{Radius: 30, Wall: 3.1, Height: 12, E: 2900}
	if o, _ := thick.Pressed(1, 0); !o.Thick {
		t.Error("3.1 of 30 is thick")
	}
	for _, bad := range []Ring{{}, {30, 2, 12, 0}, {30, 60, 12, 2900}, {-30, 2, 12, 2900}} {
		if _, err := bad.Pressed(1, 0); err == nil {
			t.Errorf("%+v was taken", bad)
		}
		if _, err := bad.Allowed(1, 0); err == nil {
			t.Errorf("%+v was taken", bad)
		}
		if _, err := bad.Wrap(1, 1); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
	if _, err := r.Pressed(0, 0); err == nil {
		t.Error("no force")
	}
	if _, err := r.Pressed(1, 2); err == nil {
		t.Error("wrap")
	}
	if _, err := r.Allowed(0, 0); err == nil {
		t.Error("no limit")
	}
	if _, err := r.Allowed(1, 2); err == nil {
		t.Error("wrap")
	}
	if _, err := r.Wrap(0, 1); err == nil {
		t.Error("no force")
	}
}

func TestNest(t *testing.T) {
	near(t, "gap at 75 deg of 0.02", float64(Gap(30.02, 30, deg(75))), 0.02*(1-math.Cos(75*math.Pi/180)), 1e-12)
	// Drawn: circles that touch at the bottom, measured across at the end of the arc.
	n, p, b := 30.5, 30.0, 1.2
	end := [2]float64{p * math.Sin(b), p - p*math.Cos(b)} // on the part, height over the bottom
	near(t, "drawn", n-math.Hypot(end[0], n-end[1]), float64(Gap(30.5, 30, 1.2)), 5e-3)
	g, err := ToGrip(10, 0.2, 60)
	if err != nil || !g.Gentle {
		t.Errorf("%+v %v", g, err)
	}
	near(t, "needed", float64(g.Needed), 50, 1e-9)
	if g, _ = ToGrip(10, 0.2, 49); g.Gentle {
		t.Errorf("%+v", g)
	}
	for _, bad := range [][3]float64{{0, 0.2, 1}, {1, 0, 1}, {1, 0.2, -1}, {1, 0.2, math.NaN()}} {
		if _, err := ToGrip(unit.Force(bad[0]), bad[1], unit.Force(bad[2])); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
	if !WidthEnters(frame.AboutX) || WidthEnters(frame.AboutY) {
		t.Error("width")
	}
}

func TestClosed(t *testing.T) {
	c, err := ToClosed([]float64{0.002, 0.005, 0.000})
	if err != nil || !c.Keeps {
		t.Errorf("%+v %v", c, err)
	}
	near(t, "range", c.Range, 0.005, 1e-12)
	near(t, "s", c.Spread.S, 0.0025166, 1e-6)
	if c, _ = ToClosed([]float64{0, -0.006}); c.Keeps {
		t.Errorf("%+v", c)
	}
	for _, bad := range [][]float64{nil, {1}, {1, math.NaN()}} {
		if _, err := ToClosed(bad); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// An error names the reading by its number from 1.
func TestErrorsName(t *testing.T) {
	if _, err := ToClosed([]float64{0, math.NaN()}); err == nil || !strings.Contains(err.Error(), "closing 2 ") {
		t.Error(err)
	}
}

// Statics by hand: 300 N at friction 0.15 bears 90 N sideways; over a grip of 5, cut at 14, its arm is 11.5.
func TestClamped(t *testing.T) {
	cut := hold.Cut{Dia: 4, Teeth: 2, Ae: 1.5, Ap: 0.2, Fz: 0.02, Helix: math.Pi / 6, Kc11: 100, Mc: 0.2, Wear: 1.3, Corner: 2}
	l, err := cut.Load()
	if err != nil {
		t.Fatal(err)
	}
	c := Clamped{Force: 300, Mu: 0.15, Grip: 5}
	h, err := c.Against(cut, 14)
	if err != nil {
		t.Fatal(err)
	}
	fh, fa := 2*float64(l.Fh), 2*float64(l.Fa)
	near(t, "slip", h.Slip, 90/math.Sqrt(fh*fh+fa*fa), 1e-9)
	near(t, "tip", h.Tip, 1500/(fh*11.5), 1e-9)
	deep := cut // at the ceiling the lesser of both is GripSF
	deep.Ap = h.Ceiling
	d, _ := c.Against(deep, 14)
	near(t, "at its ceiling", math.Min(d.Slip, d.Tip), GripSF, 1e-6)
	if low, _ := c.Against(cut, 2); !math.IsInf(low.Tip, 1) {
		t.Error("cut under the middle of the grip tips nothing")
	}
	for _, bad := range []Clamped{{0, 0.1, 5}, {1, 0, 5}, {1, 0.1, 0}} {
		if _, err := bad.Against(cut, 14); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}
