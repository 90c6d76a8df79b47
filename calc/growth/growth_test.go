package growth

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/budget"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	t.Logf("%-44s %12.6f %12.6f %10.2g", name, want, got, got-want)
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

func emc(t *testing.T, c, rh float64) float64 {
	t.Helper()
	m, err := EMC(Air{C: c, RH: rh, Read: true})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// USDA Wood Handbook, FPL-GTR-190, chapter 4: the worked value printed for 140 F and 55 %
// (verified copy), and rows of the table of moisture content at 70 F (from memory).
func TestEMC(t *testing.T) {
	near(t, "140 F, 55 %: printed 8.4", emc(t, 60, 55), 8.4, 0.05)
	for rh, printed := range map[float64]float64{30: 6.2, 50: 9.2, 65: 12.0} {
		near(t, "70 F, printed", emc(t, (70-32)/1.8, rh), printed, 0.06)
	}
	near(t, "21 C, 45 %", emc(t, 21, 45), 8.465318, 1e-6)
	near(t, "24 C, 65 %", emc(t, 24, 65), 11.857974, 1e-6)
	near(t, "17 C, 30 %", emc(t, 17, 30), 6.235381, 1e-6)
	rapid.Check(t, func(t *rapid.T) { // damper is wetter, warmer is dryer
		c, rh := rapid.Float64Range(5, 40).Draw(t, "c"), rapid.Float64Range(5, 90).Draw(t, "rh")
		m, _ := EMC(Air{C: c, RH: rh})
		damp, _ := EMC(Air{C: c, RH: rh + 1})
		warm, _ := EMC(Air{C: c + 5, RH: rh})
		if !(damp > m) || !(warm < m+0.02) || m < 0 || m > 35 {
			t.Fatalf("%g C %g %%: %g, damper %g, warmer %g", c, rh, m, damp, warm)
		}
	})
	for _, a := range []Air{{C: 21, RH: 120}, {C: 21, RH: -1}, {C: 90, RH: 50}, {C: math.NaN(), RH: 50}} {
		if _, err := EMC(a); err == nil {
			t.Errorf("%+v was taken", a)
		}
	}
}

// Wood Handbook table 13-5 coefficients (verified copy): 120 mm of cherry, flat sawn, 8 to
// 11 %: 0.8928 mm; 100 mm of walnut up 4 %: 1.096 flat, 0.760 quarter sawn. The airs that
// give such contents are found by bisection on EMC.
func TestMovementOfWood(t *testing.T) {
	air := func(m float64) Air {
		lo, hi := 1.0, 95.0
		for range 60 {
			if emc(t, 21, (lo+hi)/2) < m {
				lo = (lo + hi) / 2
			} else {
				hi = (lo + hi) / 2
			}
		}
		return Air{C: 21, RH: lo, Read: true}
	}
	for _, c := range []struct {
		name         string
		length, beta float64
		from, to     float64
		want         float64
	}{{"cherry", 120, 0.00248, 8, 11, 0.8928}, {"walnut, flat", 100, 0.00274, 8, 12, 1.096}, {"walnut, quarter", 100, 0.00190, 8, 12, 0.760}, {"shrinks", 100, 0.00190, 12, 8, -0.760}} {
		g, err := Wood{PerPercent: Coef{c.beta, c.beta, c.beta}, Share: PlainShare, Thick: 16}.Moist(air(c.from), air(c.to), 0)
		if err != nil {
			t.Fatal(err)
		}
		v, lines := g.At(c.length)
		near(t, c.name, v, c.want, 1e-6)
		if r := budget.Combine(lines); !(r.Std > 0) {
			t.Errorf("%s: nothing is in doubt: %+v", c.name, lines)
		}
	}
	// 1 % on 96 across the grain of a stabilised wood of 0.353 for 1 %: 0.068; along it next to nothing.
	g, _ := Wood{PerPercent: Coef{0.00353, 0.00353, 0.00353}, Share: StabilisedPart, Thick: 16}.Moist(air(8), air(9), 0)
	near(t, "stabilised, 1 % on 96", g.Value*96, 0.0678, 1e-4)
}

// The time it takes: a week for 16 mm, 4 hours for 2.5; a hollowed part counts as settled after a day.
func TestSettling(t *testing.T) {
	near(t, "16 mm, hours", Tau(16), 168, 1e-9)
	near(t, "2.5 mm, hours", Tau(2.5), 4.1, 0.05)
	w := Wood{Thick: 16}
	near(t, "one time constant", w.Settled(168), 1-1/math.E, 1e-12)
	near(t, "hours not known", w.Settled(0), 1, 0)
	w.Hollowed = true
	near(t, "hollowed, a day", w.Settled(24), 1, 0)
	near(t, "hollowed, an hour", w.Settled(1), 1-math.Exp(-1.0/168), 1e-12)
}

// A hygrometer that was not read is 10 % either way, and the part's moisture key changes the line.
func TestMoistureIsAsked(t *testing.T) {
	w := Wood{PerPercent: Coef{0.00165, 0.0026, 0.00353}, Share: StabilisedPart, Thick: 16}
	g, err := w.Moist(Air{}, Air{C: 21, RH: 45, Read: true}, 0)
	if err != nil || g.Value != 0 || len(g.Lines) != 1 || !g.Lines[0].Assumed {
		t.Fatalf("%+v %v", g, err)
	}
	near(t, "not read, on 96", g.Lines[0].Value*96, 0.2*0.00353*96*(emc(t, 21, 55)-emc(t, 21, 45)), 1e-12)
	short, _ := w.Moist(Air{}, Air{}, 2)
	if !(short.Lines[0].Value < 0.02*g.Lines[0].Value) {
		t.Errorf("two hours %g, not known %g", short.Lines[0].Value, g.Lines[0].Value)
	}
	wet, _ := w.Moist(Air{C: 21, RH: 45, Read: true}, Air{C: 24, RH: 65, Read: true}, 0)
	most, dM := 0.2*0.00353, emc(t, 24, 65)-emc(t, 21, 45)
	per := math.Max((emc(t, 21, 46)-emc(t, 21, 44))/2, (emc(t, 24, 66)-emc(t, 24, 64))/2)
	if len(wet.Lines) != 3 {
		t.Fatalf("%+v", wet.Lines)
	}
	near(t, "hygrometer at side 1", wet.Lines[0].Value, most*per*3, 1e-15)
	near(t, "hygrometer now", wet.Lines[1].Value, most*per*3, 1e-15)
	near(t, "movement", wet.Value, 0.2*0.0026*dM, 1e-12)
	near(t, "material", wet.Lines[2].Value, 0.5*wet.Value, 1e-15)
	if !(wet.Value > 0) {
		t.Errorf("damper air shrinks wood: %g", wet.Value)
	}
	for _, bad := range []Wood{{}, {PerPercent: Coef{2, 1, 1}, Share: 1, Thick: 1}, {PerPercent: Coef{1, 1, 2}, Share: -1, Thick: 1}, {PerPercent: Coef{1, 1, math.NaN()}, Share: 1, Thick: 1}} {
		if _, err := bad.Moist(Air{}, Air{}, 0); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
	if _, err := w.Moist(Air{C: 21, RH: 145, Read: true}, Air{C: 21, RH: 45, Read: true}, 0); err == nil {
		t.Error("145 % of humidity was taken")
	}
}

// Wood of which little is known: what is in doubt is the range, not half of the value.
func TestPoorlyKnownWood(t *testing.T) {
	w := Wood{PerPercent: Coef{0.0003, 0.00055, 0.00274}, Share: PlainShare, Thick: 16}
	g, err := w.Moist(Air{C: 21, RH: 45, Read: true}, Air{C: 21, RH: 55, Read: true}, 0)
	if err != nil {
		t.Fatal(err)
	}
	dM := emc(t, 21, 55) - emc(t, 21, 45)
	near(t, "value", g.Value, 0.00055*dM, 1e-15)
	near(t, "in doubt", g.Lines[2].Value, (0.00274-0.00055)*dM, 1e-15)
}

// Aluminium Association typical 23.6e-6 (verified copy): 200 mm, 8 K: 0.03776.
func TestHeat(t *testing.T) {
	alu := Coef{23.6e-6, 23.6e-6, 23.6e-6}
	g, err := Since(Temp{20, true}, Temp{28, true}).Heat("part heat", alu, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "6061, 200 mm, 8 K", g.Value*200, 0.03776, 1e-12)
	near(t, "its thermometers", g.Lines[0].Value*200, 0.00472, 1e-12)
	if len(g.Lines) != 1 {
		t.Errorf("an expansion without a range has lines %+v", g.Lines)
	}
}

// An acrylic fixture made at 20.5 that stands at 28.5 (the machine's scales grow with it):
// 0.068 at 146 from the bore. Without a thermometer the budget must hold that; with it the
// value does.
func TestSinceTheDayItWasMade(t *testing.T) {
	acrylic := Coef{60e-6, 70e-6, 77e-6}
	const machine, reach = 11.7e-6, 146
	truth := (70e-6 - machine) * 8 * reach
	near(t, "true error", truth, 0.068, 5e-4)
	g, err := Since(Temp{}, Temp{28.5, true}).Heat("fixture heat", acrylic, machine)
	if err != nil {
		t.Fatal(err)
	}
	v, lines := g.At(reach)
	if r := budget.Combine(lines); v != 0 || r.U < truth || !lines[0].Assumed {
		t.Errorf("stated %g ± %g, true %g", v, r.U, truth)
	}
	g, _ = Since(Temp{20.5, true}, Temp{28.5, true}).Heat("fixture heat", acrylic, machine)
	v, lines = g.At(reach)
	near(t, "stated", v, truth, 1e-12)
	if r := budget.Combine(lines); r.U > truth || r.U < 0.005 {
		t.Errorf("with a thermometer ± %g", r.U)
	}
}

// Growth is odd in the difference of temperature and its doubt never shrinks with it.
func TestHeatProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(1e-6, 50e-6).Draw(t, "lo")
		e := Coef{lo, lo * rapid.Float64Range(1, 2).Draw(t, "n"), 0}
		e.High = e.Nominal * rapid.Float64Range(1, 2).Draw(t, "h")
		dt := rapid.Float64Range(-15, 15).Draw(t, "dt")
		at := func(dt float64) Growth {
			g, err := Since(Temp{20, true}, Temp{20 + dt, true}).Heat("heat", e, 11.7e-6)
			if err != nil {
				t.Fatal(err)
			}
			return g
		}
		up, down := at(dt), at(-dt)
		if math.Abs(up.Value+down.Value) > 1e-12 {
			t.Fatalf("%g and %g", up.Value, down.Value)
		}
		// Any true expansion of the range and any true difference lie within value and half-widths.
		a := e.Low + rapid.Float64Range(0, 1).Draw(t, "a")*(e.High-e.Low)
		d := dt + rapid.Float64Range(-1, 1).Draw(t, "d")
		half := 0.0
		for _, l := range up.Lines {
			half += l.Value
		}
		if truth := (a - 11.7e-6) * d; math.Abs(truth-up.Value) > half*(1+1e-9)+1e-15 {
			t.Fatalf("true %g, stated %g ± %g", truth, up.Value, half)
		}
	})
}

// Two micrometer readings replace heat and moisture: 96.012 where 95.996 came out.
func TestWidthMeasuredAgain(t *testing.T) {
	w := Width{Then: 95.996, Now: 96.012, UThen: MicrometerU, UNow: MicrometerU}
	g, err := w.Again()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "growth on 96", g.Value*95.996, 0.016, 1e-12)
	near(t, "u on 96", budget.Combine([]budget.Line{g.Lines[0].Times(96)}).Std, 0.00245, 1e-5)
	rapid.Check(t, func(t *rapid.T) { // the part that grew by q is found to have grown by q
		then, q := rapid.Float64Range(5, 300).Draw(t, "then"), rapid.Float64Range(-0.01, 0.01).Draw(t, "q")
		g, err := Width{Then: then, Now: then * (1 + q), UThen: 0.002, UNow: 0.002}.Again()
		if err != nil || math.Abs(g.Value-q) > 1e-12 {
			t.Fatalf("%g %v, want %g", g.Value, err, q)
		}
	})
	for _, bad := range []Width{{Then: 96, Now: 69}, {Then: 0, Now: 96}, {Then: 96, Now: -96}, {Then: math.NaN(), Now: 96}, {Then: 96, Now: 96, UNow: -1}} {
		if _, err := bad.Again(); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

// A place that the screws made less a width by micrometer, in the screws' mm: drawn, screws up to 3 K over a room of t, and scales
// that agree with the micrometer at 20 °C or anywhere between there and t. By hand: 110 at 23 °C, 1.29 µm a kelvin.
func TestWidthInScrews(t *testing.T) {
	const alpha, width = 11.7e-6, 110.0
	r := rand.New(rand.NewPCG(1, 2))
	for _, c := range []float64{14, 20, 23} {
		var sq float64
		const n = 40000
		for range n {
			screws := ScrewsWarm*(2*r.Float64()-1) + (c-20)*(2*r.Float64()-1)
			d := width/(1+alpha*screws) - width
			sq += d * d
		}
		s := math.Sqrt(sq / n)
		near(t, "u", InScrews(width, alpha, Temp{C: c, Read: true}), s, 0.02*s)
	}
	near(t, "at 23", InScrews(width, alpha, Temp{C: 23, Read: true}), 0.001287*math.Sqrt(18)/math.Sqrt(3), 1e-9)
	if a, b := InScrews(width, alpha, Temp{}), InScrews(width, alpha, Temp{C: 29, Read: true}); !(a > b) {
		t.Errorf("no thermometer %g, one that shows 29: %g", a, b)
	}
}

func TestDoesItGoIn(t *testing.T) {
	for _, c := range []struct {
		width, pocket, grown float64
		in, press            bool
	}{{96.000, 96.040, 0, true, false}, {96.030, 96.040, 0, false, false}, {96.050, 96.040, 0, false, true}, {96.030, 96.040, 0.0002, true, false}} {
		r := Fits(c.width, c.pocket, c.grown)
		if r.GoesIn != c.in || r.Pressed != c.press {
			t.Errorf("%g into %g grown %g: %+v", c.width, c.pocket, c.grown, r)
		}
	}
}

// Acrylic by a sheet maker's text, 0.2 % at 60 % of humidity (verified copy): 20 % on 64 mm are 0.043 at the most.
func TestDamp(t *testing.T) {
	per := 0.2 / 100 / 60
	g, err := Damp(Coef{per, per, per}, Air{C: 21, RH: 45, Read: true}, Air{C: 24, RH: 65, Read: true})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "acrylic 64 mm, 20 %, all of it", (g.Value+g.Lines[0].Value)*64, 0.0427, 5e-5)
	near(t, "acrylic 64 mm, 20 %, none of it", g.Value-g.Lines[0].Value, 0, 1e-15)
	dry, _ := Damp(Coef{per, per, per}, Air{C: 21, RH: 65, Read: true}, Air{C: 21, RH: 45, Read: true})
	near(t, "dryer shrinks", dry.Value, -g.Value, 1e-15)
	if g, _ = Damp(Coef{per, per, per}, Air{}, Air{}); g.Value != 0 || !g.Lines[0].Assumed {
		t.Errorf("%+v", g)
	}
	if _, err := Damp(Coef{2, 1, 1}, Air{}, Air{}); err == nil {
		t.Error("a falling range was taken")
	}
}

// A meter at side 1 does what two hygrometers do where it reads what the air then would have made: 100 mm of walnut from 8 to 12 %.
func TestMeteredWood(t *testing.T) {
	now := Air{C: 21, RH: 65, Read: true}
	w := Wood{PerPercent: Coef{0.0019, 0.0019, 0.0019}, Share: PlainShare, Thick: 16}
	m, err := w.Metered(8, 0.5, now, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "walnut, 8 % to the air of 65 %", m.Value*100, 0.19*(emc(t, 21, 65)-8), 1e-9)
	near(t, "its meter", m.Lines[0].Value*100, 0.19*0.5, 1e-12)
	then := Air{C: 21, RH: 30, Read: true}
	by, _ := w.Moist(then, now, 12)
	m, _ = w.Metered(emc(t, 21, 30), 0.5, now, 12)
	near(t, "as by two hygrometers", m.Value, by.Value, 1e-12)
	blind, _ := w.Metered(4, 0.2, Air{}, 0)
	near(t, "air now not read", blind.Lines[0].Value, 0.0019*(emc(t, 21, 55)-4+0.4), 1e-12)
	for _, bad := range [][3]float64{{-1, 0, 0}, {120, 0, 0}, {8, -1, 0}, {8, 0, -2}, {math.NaN(), 0, 0}} {
		if _, err := w.Metered(bad[0], bad[1], now, bad[2]); err == nil {
			t.Errorf("%v was taken", bad)
		}
	}
}
