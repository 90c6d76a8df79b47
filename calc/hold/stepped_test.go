package hold

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/unit"

	"pgregory.net/rapid"
)

// The steps of a necked cutter and of a long shank; the numbers by hand from the formulas in the doc.
func TestSteppedCutter(t *testing.T) {
	b, err := Cutter{Dia: 3, Flute: 4, Neck: 20, NeckDia: 1.9, Shank: 6, Stickout: 40}.Bending()
	if err != nil {
		t.Fatal(err)
	}
	inertia := func(d float64) float64 { return math.Pi * math.Pow(d, 4) / 64 }
	near(t, "necked: bending per newton", b.Total, (64/inertia(2.4)+(24*24*24-64)/inertia(1.9)+(64000-24*24*24)/inertia(6))/3/600000, 1e-12)
	near(t, "necked: bending per newton", b.Total, 0.01241, 5e-6)
	near(t, "necked: breaks at", float64(b.Break), 28.1, 0.05)
	near(t, "necked: breaks at", float64(b.Break), 1000*math.Pi*1.9*1.9*1.9/32/24, 1e-9)
	if b.Where() != "at the top of the neck" {
		t.Errorf("breaks %s", b.Where())
	}
	b, err = Cutter{Dia: 6, Flute: 10, Shank: 6, Stickout: 60}.Bending()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "long shank: breaks at", float64(b.Break), 353, 0.5)
	if b.Where() != "at the holder" {
		t.Errorf("breaks %s", b.Where())
	}
	// A ball of 1.0 with 8 of flute on a shank of 3.175, 12 free.
	b, _ = Cutter{Dia: 1, Flute: 8, Shank: 3.175, Stickout: 20}.Bending()
	near(t, "1.0 ball: flutes", b.Sections[0].Bend, 0.014147, 1e-6)
	near(t, "1.0 ball: shank", b.Sections[1].Bend, 0.000834, 1e-6)
	near(t, "1.0 ball: total", b.Total, 0.014981, 1e-6)
	near(t, "1.0 ball: breaks at", float64(b.Break), 6.2832, 1e-4)
	near(t, "1.0 ball: force for 0.010", float64(b.ForceFor(0.010)), 0.668, 5e-4)
	if b.Where() != "at the top of the flutes" {
		t.Errorf("breaks %s", b.Where())
	}
}

// The same by unit load: the integral of moment squared over E I, in thin slices; and no
// point of the tool bears less than the section that is said to break.
func TestSteppedCutterByUnitLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Cutter{Dia: unit.Length(rapid.Float64Range(0.5, 12).Draw(t, "dia")), Flute: unit.Length(rapid.Float64Range(1, 30).Draw(t, "flute")),
			Shank: unit.Length(rapid.Float64Range(1, 12).Draw(t, "shank"))}
		if rapid.Bool().Draw(t, "necked") {
			c.Neck, c.NeckDia = unit.Length(rapid.Float64Range(1, 30).Draw(t, "neck")), unit.Length(rapid.Float64Range(0.5, 12).Draw(t, "neckd"))
		}
		c.Stickout = c.Flute + c.Neck + unit.Length(rapid.Float64Range(0.1, 40).Draw(t, "free"))
		b, err := c.Bending()
		if err != nil {
			t.Fatal(err)
		}
		const n = 20000
		dx, energy, weakest := float64(c.Stickout)/n, 0.0, math.Inf(1)
		for i := range n {
			x := (float64(i) + 0.5) * dx
			d := float64(c.Shank)
			switch {
			case x < float64(c.Flute):
				d = 0.8 * float64(c.Dia)
			case x < float64(c.Flute+c.Neck):
				d = float64(c.NeckDia)
			}
			energy += x * x * dx / (600000 * math.Pi * math.Pow(d, 4) / 64)
			weakest = math.Min(weakest, 1000*math.Pi*d*d*d/32/x)
		}
		if math.Abs(energy-b.Total) > 2e-3*b.Total {
			t.Fatalf("by slices %g, in one %g", energy, b.Total)
		}
		if math.Abs(weakest-float64(b.Break)) > 2e-3*weakest {
			t.Fatalf("by slices it breaks at %g, said %g", weakest, float64(b.Break))
		}
	})
}

func TestBadCutter(t *testing.T) {
	for want, c := range map[string]Cutter{
		"has no diameter":           {Dia: 3, Flute: 4, Neck: 20, Shank: 6, Stickout: 40},
		"has no length":             {Dia: 3, Flute: 4, NeckDia: 2, Shank: 6, Stickout: 40},
		"longer than the stick-out": {Dia: 3, Flute: 44, Shank: 6, Stickout: 40},
		"flutes and neck of 54":     {Dia: 3, Flute: 4, Neck: 50, NeckDia: 2, Shank: 6, Stickout: 40},
		"tool diameter":             {Flute: 4, Shank: 6, Stickout: 40},
		"above 1":                   {Dia: 3, Flute: 4, Shank: 6, Stickout: 40, Core: 1.1},
	} {
		if _, err := c.Bending(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// A force in the middle of a cantilever: by the end slope of the loaded half, P a³/(3EI) + P a²/(2EI) (L - a).
func TestForceInTheMiddleOfACantilever(t *testing.T) {
	b := Beam{Length: 40, Width: 20, Thick: 3, E: 3200}
	ei, a := 3200*b.I(), 20.0
	near(t, "cantilever, middle", float64(b.Middle(Cantilever, 100)), 100*a*a*a/(3*ei)+100*a*a/(2*ei)*(40-a), 1e-12)
	for _, s := range []Support{Fixed, Simple} {
		near(t, "others as before", float64(b.Middle(s, 100)), float64(b.Centre(s, 100)), 0)
	}
}
