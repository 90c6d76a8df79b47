package hold

import (
	"math"
	"testing"

	"fliptrue/calc/unit"

	"pgregory.net/rapid"
)

// anyHolding draws screws, forces and a cut within what a shop does.
func anyHolding(t *rapid.T) Holding {
	coord := rapid.Float64Range(-60, 60)
	draw := func(n int, label string) [][2]float64 {
		out := make([][2]float64, n)
		for i := range out {
			out[i] = [2]float64{coord.Draw(t, label), coord.Draw(t, label)}
		}
		return out
	}
	dia := rapid.Float64Range(0.8, 12).Draw(t, "dia")
	f := rapid.Float64Range(1, 3000).Draw(t, "preload")
	h := Holding{
		Screws: draw(rapid.IntRange(1, 8).Draw(t, "n"), "screw"), Forces: draw(rapid.IntRange(1, 4).Draw(t, "m"), "force"),
		Preload: Preload{F: unit.Force(f), Low: unit.Force(0.5 * f), High: unit.Force(1.3 * f), Strip: unit.Force(4 * f)},
		Mu:      rapid.Float64Range(0.05, 0.5).Draw(t, "mu"), Factors: Usual,
		Cut: Cut{Dia: unit.Length(dia), Teeth: rapid.IntRange(1, 4).Draw(t, "teeth"), Ae: unit.Length(dia * rapid.Float64Range(0.05, 1).Draw(t, "ae")),
			Ap: unit.Length(rapid.Float64Range(0.01, 5).Draw(t, "ap")), Fz: unit.Length(rapid.Float64Range(0.005, 0.1).Draw(t, "fz")),
			Helix: unit.Angle(rapid.Float64Range(0, 0.8).Draw(t, "helix")), Down: rapid.Bool().Draw(t, "down"),
			Kc11: rapid.Float64Range(30, 2000).Draw(t, "kc"), Mc: rapid.Float64Range(0.1, 0.3).Draw(t, "mc"), Wear: 1.3, Corner: 2},
	}
	if h.Valid() != nil {
		t.Skip("screws at one place")
	}
	return h
}

// What holds falls when a screw is lost.
func TestCapacityFallsWhenAScrewIsLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := anyHolding(t)
		r, err := h.Register()
		if err != nil {
			t.Fatal(err)
		}
		if r.SlipLost > r.SlipAll || (r.SlipAll > 0 && r.SlipLost == r.SlipAll) {
			t.Fatalf("slip %g with all, %g with one lost", r.SlipAll, r.SlipLost)
		}
		// About a fixed centroid yaw capacity falls too: the moved centroid can only shorten the sum.
		all, _ := h.levers(-1)
		for k := range h.Screws {
			if lost, _ := h.levers(k); lost > all+1e-9 {
				t.Fatalf("sum of levers %g with all, %g without screw %d", all, lost, k)
			}
		}
		// The seat: a box round the screws. Prying about each edge with a lost screw is never better.
		lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
		for _, p := range h.Screws {
			for i := range 2 {
				lo[i], hi[i] = math.Min(lo[i], p[i]-3), math.Max(hi[i], p[i]+3)
			}
		}
		q, err := h.Retention(Seat{Corners: [][2]float64{lo, {hi[0], lo[1]}, hi, {lo[0], hi[1]}}, Height: 12})
		if err != nil {
			t.Fatal(err)
		}
		if q.PryLost > q.PryAll {
			t.Fatalf("prying %g with all, %g with one lost", q.PryAll, q.PryLost)
		}
		if q.Ceiling > 0 && !math.IsInf(float64(q.Ceiling), 1) {
			h.Cut.Ap = q.Ceiling * (1 - 1e-9)
			if under, _ := h.Retention(Seat{Corners: [][2]float64{lo, {hi[0], lo[1]}, hi, {lo[0], hi[1]}}, Height: 12}); !under.Enough {
				t.Fatalf("not retained at its own ceiling: %+v", under)
			}
		}
	})
}

// The ceiling never falls with preload or friction, nor rises with force or a corner factor.
func TestCeilingIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := anyHolding(t)
		base, err := h.Ceiling()
		if err != nil {
			t.Fatal(err)
		}
		k := unit.Force(rapid.Float64Range(1, 3).Draw(t, "k"))
		at := func(edit func(*Holding)) unit.Length {
			g := h
			edit(&g)
			c, err := g.Ceiling()
			if err != nil {
				t.Fatal(err)
			}
			return c.Least
		}
		const rel = 1 + 1e-12
		if at(func(g *Holding) { g.Preload.Low *= k })*rel < base.Least {
			t.Fatal("more preload, lower ceiling")
		}
		if at(func(g *Holding) { g.Mu *= float64(k) })*rel < base.Least {
			t.Fatal("more friction, lower ceiling")
		}
		if at(func(g *Holding) { g.Cut.Kc11 *= float64(k) }) > base.Least*rel {
			t.Fatal("harder material, higher ceiling")
		}
		if at(func(g *Holding) { g.Cut.Corner *= float64(k) }) > base.Least*rel {
			t.Fatal("corners, higher ceiling")
		}
		// At the ceiling the register just holds; a little deeper it does not.
		if base.Least > 1e-6 && !math.IsInf(float64(base.Least), 1) {
			h.Cut.Ap = base.Least * (1 - 1e-9)
			if r, _ := h.Register(); !r.Enough {
				t.Fatalf("does not hold at its ceiling: %+v", r)
			}
			h.Cut.Ap = base.Least * (1 + 1e-6)
			if r, _ := h.Register(); r.Enough {
				t.Fatalf("holds above its ceiling: %+v", r)
			}
		}
	})
}

// The low end never claims more than the high end, and a verdict falls only with depth.
func TestEndsAreOrdered(t *testing.T) {
	base := lid(t, 0.2)
	rapid.Check(t, func(t *rapid.T) {
		c := base
		r := func(label string, lo, hi float64) Range {
			a, b := rapid.Float64Range(lo, hi).Draw(t, label), rapid.Float64Range(lo, hi).Draw(t, label)
			a, b = min(a, b), max(a, b)
			return Range{a, (a + b) / 2, b, "drawn", Given}
		}
		c.Shear, c.Crush, c.Mu, c.Kc11 = r("shear", 5, 200), r("crush", 2, 50), r("mu", 0.05, 0.4), r("kc", 50, 500)
		last := Holds
		for _, ap := range []unit.Length{0.01, 0.05, 0.2, 0.5, 1, 3, 10} {
			c.Holding.Cut.Ap = ap
			e, err := c.Ends()
			if err != nil {
				t.Fatal(err)
			}
			const rel = 1 + 1e-12
			if e.Low.Ceiling.Least > e.Nominal.Ceiling.Least*rel || e.Nominal.Ceiling.Least > e.High.Ceiling.Least*rel || e.High.Ceiling.Least > e.Best.Ceiling.Least*rel {
				t.Fatalf("ceilings %g %g %g %g", float64(e.Low.Ceiling.Least), float64(e.Nominal.Ceiling.Least), float64(e.High.Ceiling.Least), float64(e.Best.Ceiling.Least))
			}
			if e.Register > last {
				t.Fatalf("deeper cut %g, better verdict %v", float64(ap), e.Register)
			}
			last = e.Register
			if l, h := e.Low.Preload, e.High.Preload; l.High > l.Crush*rel || l.High > l.Proof*rel || l.SFStrip*rel < Usual.Strip || h.F != l.F {
				t.Fatalf("the working preload of the low end is too much: %+v", e)
			}
		}
	})
}

func TestBadInput(t *testing.T) {
	h := bench(t, 2)
	for name, edit := range map[string]func(*Holding){
		"no screws":    func(h *Holding) { h.Screws = nil },
		"no forces":    func(h *Holding) { h.Forces = nil },
		"same place":   func(h *Holding) { h.Screws = [][2]float64{{1, 1}, {1, 1}} },
		"NaN place":    func(h *Holding) { h.Screws = [][2]float64{{math.NaN(), 1}} },
		"no friction":  func(h *Holding) { h.Mu = 0 },
		"no preload":   func(h *Holding) { h.Preload.Low = 0 },
		"ae above dia": func(h *Holding) { h.Cut.Ae = 4 },
		"negative dia": func(h *Holding) { h.Cut.Dia = -3 },
		"no teeth":     func(h *Holding) { h.Cut.Teeth = 0 },
		"no factors":   func(h *Holding) { h.Factors = Factors{} },
	} {
		g := h
		edit(&g)
		if _, err := g.Ceiling(); err == nil {
			t.Errorf("%s: taken by Ceiling", name)
		}
		if _, err := g.Register(); err == nil {
			t.Errorf("%s: taken by Register", name)
		}
		if _, err := g.Retention(seat84()); err == nil {
			t.Errorf("%s: taken by Retention", name)
		}
	}
	for name, s := range map[string]Seat{
		"two corners":   {Corners: [][2]float64{{0, 0}, {1, 1}}, Height: 1},
		"no height":     {Corners: seat84().Corners},
		"not convex":    {Corners: [][2]float64{{-42, -27}, {42, -27}, {0, 0}, {42, 27}, {-42, 27}}, Height: 1},
		"screw outside": {Corners: [][2]float64{{-30, -20}, {30, -20}, {30, 20}, {-30, 20}}, Height: 1},
		"on a line":     {Corners: [][2]float64{{0, 0}, {1, 1}, {2, 2}}, Height: 1},
	} {
		if _, err := h.Retention(s); err == nil {
			t.Errorf("seat %s: taken", name)
		}
	}
	// One screw alone: nothing resists yaw once it is lost.
	h.Screws = h.Screws[:1]
	if c, err := h.Ceiling(); err != nil || c.Least != 0 {
		t.Errorf("one screw: %+v %v", c, err)
	}
	h.Screws = bench(t, 2).Screws[:2]
	if c, err := h.Ceiling(); err != nil || c.YawLost != 0 || c.YawAll <= 0 {
		t.Errorf("two screws: %+v %v", c, err)
	}
	var unknown Range
	if err := unknown.Valid("shear strength"); err == nil {
		t.Error("an unknown number was taken")
	}
	if Decide(true, true) != Holds || Decide(false, true) != NotProven || Decide(false, false) != Fails || NotProven.String() != "not proven" {
		t.Error("verdict of the two ends")
	}
	if _, err := HolesOf(Thread{Name: "M10"}); err == nil {
		t.Error("holes of a thread that is not listed")
	}
	if _, err := HeadOf(Thread{Name: "M10"}); err == nil {
		t.Error("head of a thread that is not listed")
	}
	if _, err := BearingArea(2, 2.4); err == nil {
		t.Error("a head smaller than its hole was taken")
	}
}
