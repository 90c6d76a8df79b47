package dowel

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fliptrue/calc/frame"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-44s %14.7f %14.7f %10.2g", name, want, got, got-want)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

var worked = Pins{Hole1: 4.010, Pin1: 3.998, Hole2: 4.008, Pin2: 3.998, Apart: 84}

// Demonstration; computed here, the standard uncertainties simulated elsewhere as 0.003351 and 0.003102.
func TestPlay(t *testing.T) {
	j, err := worked.Play()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "turn, mrad", 1e3*j.Turn, 0.130952, 1e-6)
	at := frame.Vec{X: 90, Y: 30}
	u := j.U(at)
	near(t, "u X", u.X, 0.003348, 1e-6)
	near(t, "u Y", u.Y, 0.003100, 1e-6)
	p := j.Push(at, 1)
	near(t, "pushed away, Y", p.Shift.Y, (1-90.0/84)*0.006+90.0/84*0.005, 1e-12)
	near(t, "pushed away, X", p.Shift.X, -30*(0.005-0.006)/84, 1e-12)
	near(t, "pushed, u Y", p.U.Y, math.Hypot((1-90.0/84)*ContactU, 90.0/84*ContactU), 1e-12)
	near(t, "pushed, u X keeps pin 1's play", p.U.X, math.Hypot(0.003, 30.0/84*ContactU*math.Sqrt2), 1e-12)
	s, _ := worked.Fits(84, 0.016128, 1.2) // the warm part of the diamond's example
	warm := j.PushTo(at, 1, 0.006, s.Pushes)
	near(t, "pushed warm, Y", warm.Shift.Y, (1-90.0/84)*0.006+90.0/84*0.0020334, 1e-6)
	near(t, "pushed warm, X", warm.Shift.X, 30*(0.006-0.0020334)/84, 1e-6)
	q := j.Push(at, -3)
	near(t, "pushed toward", q.Shift.Y, -p.Shift.Y, 1e-15)
	near(t, "pushed toward", q.Shift.X, -p.Shift.X, 1e-15)
	for _, bad := range []Pins{{}, {4, 4.001, 4, 3.99, 84}, {4, 3.99, 4, 4, 84}, {4, 3.99, 4, 3.99, 0}, {4, 3.99, 4, math.NaN(), 84}} {
		if _, err := bad.Play(); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

// A part laid on its pins anywhere that they allow scatters as Lies says.
func TestPlaySimulated(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := Play{J1: rapid.Float64Range(0.002, 0.05).Draw(t, "j1"), J2: rapid.Float64Range(0.002, 0.05).Draw(t, "j2"),
			apart: rapid.Float64Range(20, 200).Draw(t, "L")}
		at := frame.Vec{X: rapid.Float64Range(-50, 250).Draw(t, "x"), Y: rapid.Float64Range(-100, 100).Draw(t, "y")}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		var sum frame.Vec
		const n = 4000
		for range n {
			f, rad := 2*math.Pi*r.Float64(), j.J1/2*math.Sqrt(r.Float64())
			a, b, c := rad*math.Cos(f), rad*math.Sin(f), j.J2*(r.Float64()-0.5)
			turn := (c - b) / j.apart
			d := frame.Vec{X: a - at.Y*turn, Y: b + at.X*turn}
			sum = sum.Add(frame.Vec{X: d.X * d.X, Y: d.Y * d.Y})
		}
		u := j.Lies().Motion.CovAt(at, j.Lies().Cov).U()
		if sx, sy := math.Sqrt(sum.X/n), math.Sqrt(sum.Y/n); math.Abs(sx/u.X-1) > 0.08 || math.Abs(sy/u.Y-1) > 0.08 {
			t.Fatalf("scatter %g %g, stated %v", sx, sy, u)
		}
	})
}

// Land 1.2 in 4.008: 0.016454 either way, by the short form of books 0.016700.
func TestDiamond(t *testing.T) {
	d := Diamond{Hole: 4.008, Pin: 3.998, Land: 1.2}
	f, err := d.Free()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "free", f, 0.016454, 1e-6)
	near(t, "short form", 0.010*4.008/(2*1.2), 0.016700, 1e-6)
	near(t, "parts grown apart by 6 K", Apart(84, 32e-6, 0, 6), 0.016128, 1e-6)
	near(t, "and the fixture with it", Apart(84, 40e-6, 8e-6, 6), 0.016128, 1e-6)
	round, err := worked.Fits(84, 0.016128, 0)
	if err != nil || round.GoesOn || round.Diamond {
		t.Errorf("%+v %v", round, err)
	}
	near(t, "two round pins bear", round.Bears, 0.011, 1e-9)
	dia, err := worked.Fits(84, 0.016128, 1.2)
	if err != nil || !dia.GoesOn || !dia.Diamond {
		t.Errorf("%+v %v", dia, err)
	}
	near(t, "diamond bears", dia.Bears, 0.022454, 1e-6)
	// Pushed across it does not come to bear fully: 0.010128 of the way along is used.
	near(t, "pushes at pin 2, of 0.005", dia.Pushes, 0.00205, 5e-5)
	if s, _ := worked.Fits(84.03, 0, 1.2); s.GoesOn || s.Pushes != 0 {
		t.Errorf("%+v", s)
	}
	if s, _ := worked.Fits(83.99, 0, 0); !s.GoesOn || math.Abs(s.Differ+0.01) > 1e-9 {
		t.Errorf("%+v", s)
	}
	for _, bad := range []Diamond{{}, {4, 4.1, 1}, {4, 3.9, 4}, {4, 3.9, -1}} {
		if _, err := bad.Free(); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
	if _, err := d.Across(0.02); err == nil {
		t.Error("beyond what it frees")
	}
	if _, err := (Diamond{}).Across(0); err == nil {
		t.Error("no diamond")
	}
	for _, bad := range [][3]float64{{0, 0, 1}, {84, math.NaN(), 1}, {84, 0, 9}, {84, 0, -1}} {
		if _, err := worked.Fits(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
	if _, err := (Pins{}).Fits(84, 0, 0); err == nil {
		t.Error("no pins")
	}
}

// The pin as drawn, by points on the outline of its land: all lie in the hole up to Free and Across, and not beyond.
func TestDiamondDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hole := rapid.Float64Range(2, 12).Draw(t, "hole")
		pin := hole - rapid.Float64Range(0.002, 0.05).Draw(t, "play")
		d := Diamond{Hole: hole, Pin: pin, Land: pin * rapid.Float64Range(0.05, 0.9).Draw(t, "land")}
		in := func(along, across float64) bool { // pin moved in its hole
			for i := range 401 {
				x := d.Land * (float64(i)/400 - 0.5)
				y := math.Sqrt(pin*pin/4 - x*x)
				for _, s := range []float64{1, -1} {
					if math.Hypot(x+along, s*y+across) > hole/2*(1+1e-12) {
						return false
					}
				}
			}
			return true
		}
		f, err := d.Free()
		if err != nil || !in(f*(1-1e-6), 0) || !in(-f*(1-1e-6), 0) || in(f*(1+1e-6)+1e-9, 0) {
			t.Fatalf("free %g %v", f, err)
		}
		g := f * rapid.Float64Range(-0.99, 0.99).Draw(t, "off")
		a, err := d.Across(g)
		if err != nil || !in(g, a*(1-1e-6)-1e-9) || in(g, a*(1+1e-3)+1e-6) && math.Abs(g) > 0 {
			t.Fatalf("off by %g, across %g %v", g, a, err)
		}
	})
}

// Two round pins: all ways of lying that both holes allow, drawn.
func TestTwoRoundPinsDrawn(t *testing.T) {
	s, err := worked.Fits(84, 0.009, 0)
	if err != nil || !s.GoesOn {
		t.Fatal(s, err)
	}
	// Pin 1 takes 0.006, pin 2 0.003 along, so that 0.004 is left across of 0.005.
	near(t, "pushes", s.Pushes, 0.004, 1e-9)
	s, _ = worked.Fits(84, 0.004, 0)
	near(t, "pin 1 takes it all", s.Pushes, 0.005, 1e-9)
}

// ISO 286-2 (verified copy): 4 H7/h6 plays 0 to 20 µm, 6 H7/g6 4 to 24.
func TestFitsOfISO286(t *testing.T) {
	for _, c := range []struct {
		size        float64
		hole, pin   string
		least, most float64
	}{{4, "H7", "h6", 0, 20}, {6, "H7", "g6", 4, 24}, {3, "H7", "m6", -8, 8}, {8, "H7", "m6", -15, 9}, {10, "H7", "f7", 13, 43}, {12, "H6",
		"h7", 0, 29}} {
		least, most, err := FitPlay(c.size, c.hole, c.pin)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.hole+"/"+c.pin, least*1000, c.least, 1e-6)
		near(t, c.hole+"/"+c.pin, most*1000, c.most, 1e-6)
	}
	for _, r := range fitRows {
		if r.over > 0 { // up to 3 mm the standard departs from its formulas
			d := math.Sqrt(r.over * r.to)
			i := 0.45*math.Cbrt(d) + 0.001*d // ISO 286-1, tolerance unit
			near(t, "IT6", r.h6, 10*i, 0.9)
			near(t, "IT7", r.h7, 16*i, 0.9)
			near(t, "g", -r.g6high, 2.5*math.Pow(d, 0.34), 0.9)
			near(t, "f", -r.f7high, 5.5*math.Pow(d, 0.41), 0.9)
		}
		near(t, "g6", r.g6high-r.g6low, r.h6, 0)
		near(t, "m6", r.m6hi-r.m6low, r.h6, 0)
		near(t, "f7", r.f7high-r.f7low, r.h7, 0)
		near(t, "holes and shafts of one grade", math.Abs(r.h7-r.h7shaft)+math.Abs(r.h6hole-r.h6), 0, 0)
		if r.over > 0 {
			near(t, "m is IT7 less IT6", r.m6low, r.h7-r.h6, 0)
		}
	}
	for i := 1; i < len(fitRows); i++ {
		if fitRows[i].over != fitRows[i-1].to {
			t.Errorf("row %d does not follow", i)
		}
	}
	for _, bad := range []struct {
		size float64
		c    string
	}{{0, "H7"}, {30.1, "H7"}, {4, "H8"}, {math.NaN(), "H7"}, {4, ""}} {
		if _, _, err := Limits(bad.size, bad.c); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
	if _, _, err := FitPlay(4, "H7", "x"); err == nil {
		t.Error("pin x")
	}
	if _, _, err := FitPlay(4, "x", "h6"); err == nil {
		t.Error("hole x")
	}
}

// Y14.5: H = F + 2T for equal tolerances. Drawn: at the limit the fastener just passes.
func TestFixedFastener(t *testing.T) {
	h, err := FixedFastener(4, 0.1, 0.1)
	near(t, "H = F + 2T", h, 4.2, 1e-12)
	if err != nil {
		t.Error(err)
	}
	h, _ = FixedFastener(4, 0.1, 0.3)
	near(t, "unequal: axes off by half of each", h/2, 4.0/2+0.1/2+0.3/2, 1e-12)
	for _, bad := range [][3]float64{{0, 0, 0}, {4, -1, 0}, {4, 0, -1}, {4, 0, math.NaN()}} {
		if _, err := FixedFastener(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}

// An error names the reading by its number from 1.
func TestErrorsName(t *testing.T) {
	if _, err := (Pins{4, 3.99, 4, 4.001, 84}).Play(); err == nil || !strings.Contains(err.Error(), "pin 2 is larger than its hole by 0.0010") {
		t.Error(err)
	}
}
