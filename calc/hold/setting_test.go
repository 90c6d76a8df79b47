package hold

import (
	"math"
	"testing"

	"fliptrue/calc/unit"

	"pgregory.net/rapid"
)

// Level pull; gram figures computed apart, by dividing by the standard fall (ISO 80000-3).
func TestLevelPull(t *testing.T) {
	for _, c := range []struct{ torque, arm, newton, gram float64 }{{29, 40, 0.725, 73.93}, {58.1, 40, 1.4525, 148.11}, {4000, 150, 26.667, 2719.24}} {
		f, err := LevelPull(unit.Torque(c.torque), unit.Length(c.arm))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "level pull", float64(f), c.newton, 5e-4)
		near(t, "grams on the string", Grams(f), c.gram, 0.05)
	}
	if _, err := LevelPull(29, 0); err == nil {
		t.Error("no arm was taken")
	}
}

// An estimate of the springs round an M2 through 2.5 of wood, in series, N/mm: 10 degrees set its working preload, and a
// quarter turn is some 516 N. So no angle is right for every joint.
func TestAQuarterTurnIsNoPreload(t *testing.T) {
	screw, thread := 193000*math.Pi/4*math.Pow((1.740+1.509)/2, 2)/4.6, 2*math.Pi*(3000/2.76)*4.2/math.Log(6)
	k := 1 / (1/screw + 1/thread + 1/25000.0 + 1/12500.0)
	near(t, "springs in series", k, 5156, 1)
	near(t, "turn for the working preload, deg", 360*58.1/(0.4*k), 10.14, 0.01)
	near(t, "a quarter turn is", 0.1*k, 515.6, 0.1)
}

// What gives first: the screw of a metal joint, the thread of a plastic one.
func TestWhatGivesFirst(t *testing.T) {
	j := example(t)
	g, err := j.Gives()
	if err != nil || g.Screw {
		t.Fatalf("%+v %v", g, err)
	}
	near(t, "M2 in acrylic strips at", float64(g.Torque), 240.9006063221193, exact)
	m4, _ := ThreadNamed("M4")
	j.Thread, j.Engaged, j.Shear, j.Crush, j.Bearing = m4, 6, 207, 276, ring(9, 4.5)
	if g, err = j.Gives(); err != nil || !g.Screw {
		t.Fatalf("%+v %v", g, err)
	}
	p, _ := j.Working()
	if p.StripTorque < 2*g.Torque {
		t.Errorf("strips at %g, yields at %g: this joint is no example", float64(p.StripTorque), float64(g.Torque))
	}
	near(t, "M4 A2-70 yields at, N m", float64(g.Torque)/1000, 0.25*0.004*450*math.Pi/4*math.Pow((3.545+3.141)/2, 2), 1e-9)
	near(t, "M4 A2-70 yields near 4 N m", float64(g.Torque)/1000, 4, 0.1)
}

// The lid: crush limits the screw, so 200 degrees to strip give 23, not 50.
func TestAngleIsScaledByForce(t *testing.T) {
	c := lid(t, 0.2)
	s, err := c.Setting(Stripped{})
	if err != nil || s.Angle != 0 || s.Apart {
		t.Fatalf("an angle without a stripped thread: %+v %v", s, err)
	}
	near(t, "torque without a test", float64(s.Torque), 29.059732, 1e-5)
	s, err = c.Setting(Stripped{Angle: deg(200)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share of the turn", degrees(s.Angle)/200, 58.119464/(3.441437233*4.2*35), 1e-8)
	near(t, "turn", degrees(s.Angle), 22.977, 1e-3)
	near(t, "force by angle, most", float64(s.ByAngle[1]), 58.119464, 1e-5)
	near(t, "torque and angle apart by", s.Factor, 2, 1e-9)
	if s.Apart {
		t.Error("a factor of just 2 is said to be more")
	}
	wide := c
	wide.Shear.Low = 12
	if s, _ = wide.Setting(Stripped{Angle: deg(200)}); !s.Apart {
		t.Errorf("a strip load known to a factor of 3 is not said: %+v", s)
	}
	// A weak thread limits itself: 1/3.9 of the turn, above a quarter never.
	thin := c
	thin.Joint.Engaged = 0.5
	s, _ = thin.Setting(Stripped{Angle: deg(200)})
	near(t, "the thread limits", degrees(s.Angle), 50, 1e-9)
	// A strip torque caps the torque at a quarter.
	r, _ := ShearFromTest(m2(t), 4.2, 100, 0.25)
	tested := c
	tested.Shear = r
	s, _ = tested.Setting(Stripped{Torque: 100, Angle: deg(200)})
	near(t, "a quarter of the strip torque", float64(s.Torque), 25, 1e-9)
	near(t, "the same share of the turn", degrees(s.Angle), 50, 1e-6)
	near(t, "and both mean one force", s.Factor, 1, 1e-6)
}

// Where the screw yields first its stretch takes the turn: no share of it is a preload.
func TestNoAngleWhereTheScrewYields(t *testing.T) {
	c := lid(t, 0.2)
	c.Shear = span(190, 207, 207, "aluminium", Given)
	s, err := c.Setting(Stripped{Angle: deg(200)})
	if err != nil || s.Angle != 0 || s.NoAngle == "" || s.Torque == 0 {
		t.Errorf("%+v %v", s, err)
	}
}

// Neither way sets more than the weakest bears, and a quarter is never passed.
func TestSettingIsSafe(t *testing.T) {
	base := lid(t, 0.2)
	rapid.Check(t, func(t *rapid.T) {
		c := base
		r := func(label string, lo, hi float64) Range {
			a, b := rapid.Float64Range(lo, hi).Draw(t, label), rapid.Float64Range(lo, hi).Draw(t, label)
			a, b = min(a, b), max(a, b)
			return Range{a, (a + b) / 2, b, "drawn", Given}
		}
		c.Shear, c.Crush = r("shear", 5, 120), r("crush", 2, 300)
		c.Joint.Engaged = unit.Length(rapid.Float64Range(0.5, 8).Draw(t, "le"))
		strip := deg(rapid.Float64Range(20, 900).Draw(t, "strip"))
		s, err := c.Setting(Stripped{Angle: strip})
		if err != nil {
			t.Fatal(err)
		}
		if s.Angle > strip/4*(1+1e-12) {
			t.Fatalf("%g of %g", float64(s.Angle), float64(strip))
		}
		for _, shear := range []float64{c.Shear.Low, c.Shear.High} { // whatever the thread truly bears
			j := c.Joint
			j.Shear, j.Crush = unit.Stress(shear), unit.Stress(c.Crush.Low)
			w, _ := j.Working()
			if f := float64(s.Angle/strip) * float64(w.Strip); f > float64(w.F)*(1+1e-9) {
				t.Fatalf("by angle %g N, the weakest bears %g", f, float64(w.F))
			}
		}
	})
}

func degrees(a unit.Angle) float64 { return float64(a) * 180 / math.Pi }
