package frame

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"pgregory.net/rapid"
)

// A fixture turned by 0.05 degrees and 4 K warmer; expected values computed here by another program.
var lid = Fixture{Bore: Vec{-312.4450, -158.2210}, V: Vec{45, 20}, Skew: 0.05 * deg, Q: Growth(70e-6, 0, 4)}

func TestOffsetWorked(t *testing.T) {
	near(t, "q", lid.Q, 1.000280, 1e-12)
	near(t, "machine's own growth", 45*(Growth(72e-6, 11.7e-6, 2)-1), 0.005427, 1e-12) // over 45 mm, 2 K
	near(t, "mrad", float64(lid.Skew)*1e3, 0.872664626, 1e-9)
	nearVec(t, "offset", lid.Rotated().Offset, Vec{-267.449875317, -138.176126719}, 1e-8)
	nearVec(t, "offset, straight", lid.Compromise(Vec{}).Offset, Vec{-267.449875317, -138.176126719}, 1e-8)
	nearVec(t, "nominal", Fixture{Bore: lid.Bore, V: lid.V, Q: 1}.Compromise(Vec{}).Offset, Vec{-267.445, -138.221}, 1e-9)
	mid := Middle([]Vec{{0, 0}, {84, 0}, {84, 54}, {0, 54}})
	nearVec(t, "compromise", lid.Compromise(mid).Offset, Vec{-267.473453251, -138.139485090}, 1e-8)
	nearVec(t, "bore's own coordinates", lid.BoreAt(lid.Compromise(Vec{})), Vec{-44.995124683, -20.044873281}, 1e-8)

	for _, c := range []struct{ p, straight, compromise Vec }{
		{Vec{0, 0}, Vec{0, 0}, Vec{0.023578, -0.036642}},
		{Vec{84, 0}, Vec{-0.000032, 0.073304}, Vec{0.023546, 0.036662}},
		{Vec{84, 54}, Vec{-0.047156, 0.073283}, Vec{-0.023578, 0.036642}},
		{Vec{0, 54}, Vec{-0.047124, -0.000021}, Vec{-0.023546, -0.036662}},
		{Vec{42, 27}, Vec{-0.023578, 0.036642}, Vec{0, 0}},
	} {
		const tol = 5.1e-7 // printed to six decimals
		nearVec(t, "straight", lid.Error(lid.Compromise(Vec{}), c.p), c.straight, tol)
		nearVec(t, "compromise", lid.Error(lid.Compromise(mid), c.p), c.compromise, tol)
		nearVec(t, "rotated", lid.Error(lid.Rotated(), c.p), Vec{}, 1e-12)
	}
	near(t, "worst straight", lid.Error(lid.Compromise(Vec{}), Vec{84, 54}).Len(), 0.087144, 5e-7)
	near(t, "worst compromise", lid.Error(lid.Compromise(mid), Vec{84, 54}).Len(), 0.043572, 5e-7)
}

func TestAgainst(t *testing.T) {
	v, err := Against(Vec{45, 20}, 0.030, Left, Away)
	if err != nil {
		t.Fatal(err)
	}
	nearVec(t, "biased", v, Vec{44.970, 20.030}, 1e-12)
	for _, c := range [][2]Wall{{Left, Right}, {Away, Away}, {Toward, Away}} {
		if _, err := Against(Vec{}, 0.03, c[0], c[1]); err == nil {
			t.Errorf("%v and %v were accepted", c[0], c[1])
		}
	}
	for w := Left; w <= Away; w++ {
		if got, err := ParseWall(" " + strings.ToUpper(w.String())); err != nil || got != w {
			t.Errorf("ParseWall(%v) = %v, %v", w, got, err)
		}
	}
	if _, err := ParseWall("rear"); err == nil || !strings.Contains(err.Error(), `"rear"`) {
		t.Errorf("rear: %v", err)
	}
}

func TestCentreOneCorrection(t *testing.T) {
	m := AsMade{Bias: Vec{-0.0040, 0.0010}, Eccentricity: Vec{-0.0027, -0.0002}}
	truth, machine := Vec{50, 30}, m.Bias.Sub(m.Eccentricity)
	// Same mounting: the hit carries machine and that day's eccentricity.
	c, how := m.Centre(truth.Add(m.Eccentricity).Add(machine), true, Vec{9, 9})
	nearVec(t, "same mounting", c, truth, 1e-12)
	if how != LessBias {
		t.Errorf("correction %v", how)
	}
	// Another mounting: the machine's part stays, the eccentricity is today's.
	today := Vec{0.0031, -0.0012}
	c, how = m.Centre(truth.Add(today).Add(machine), false, today)
	nearVec(t, "other mounting", c, truth, 1e-12)
	if how != LessEccentricity {
		t.Errorf("correction %v", how)
	}
}

// Two bores 120 apart as made; computed here.
func TestTwoBoresWorked(t *testing.T) {
	b1 := Vec{-312.445, -158.221}
	skew, q, _, err := TwoBores(b1, b1.Add(Vec{120.0310, 0.1130}), Vec{120, 0}, Cov2{}, Cov2{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "q", q, 1.0002587766, 1e-9)
	near(t, "skew, deg", float64(skew)/deg, 0.0539395754, 1e-9)
	near(t, "as kelvin of 70e-6", (q-1)/70e-6, 3.6968, 1e-4)
	// two pins 80.000 apart, found at (0, 0) and (79.998, 0.060)
	skew, _, _, err = TwoBores(Vec{}, Vec{79.998, 0.060}, Vec{80, 0}, Cov2{}, Cov2{})
	near(t, "pins, deg", float64(skew)/deg, 0.0429729009, 1e-9)
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range [][2]Vec{{{}, {120, 0}}, {{120, 0}, {}}, {{math.NaN(), 0}, {120, 0}}, {{math.Inf(1), 0}, {120, 0}}} {
		if _, _, _, err := TwoBores(Vec{}, bad[0], bad[1], Cov2{}, Cov2{}); err == nil {
			t.Errorf("%v was accepted", bad)
		}
	}
}

// Rotate and back: whatever the fixture was turned and grown by comes out of its two bores, for any as-made vector.
func TestTwoBoresBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawMotion(t, "m")
		m.Turn /= 2 // within ±2 rad: an angle is known but for whole turns
		q := rapid.Float64Range(0.99, 1.01).Draw(t, "q")
		made := drawVec(t, "made", 150)
		if made.Len() < 1 {
			t.Skip("no spacing")
		}
		skew, got, _, err := TwoBores(m.Apply(Vec{}), m.Apply(made.Times(q)), made, Cov2{}, Cov2{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "skew", float64(skew), float64(m.Turn), 1e-9)
		near(t, "q", got, q, 1e-9)
	})
}

// The whole job on a simulated table, moved rigidly: the error is about part and tool only, so where the fixture
// is bolted must not matter, and with control rotation nothing is left anywhere.
func TestErrorInvariance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Fixture{
			Bore: drawVec(t, "bore", 400), V: drawVec(t, "v", 100),
			Skew: unit.Angle(rapid.Float64Range(-0.008, 0.008).Draw(t, "skew")), Q: rapid.Float64Range(0.999, 1.001).Draw(t, "q"),
		}
		p, c := drawVec(t, "p", 100), drawVec(t, "c", 100)
		shift := drawVec(t, "shift", 200)
		g := f
		g.Bore = g.Bore.Add(shift)
		nearVec(t, "shifted", g.Error(g.Compromise(Vec{}), p), f.Error(f.Compromise(Vec{}), p), tiny)
		nearVec(t, "shifted compromise", g.Error(g.Compromise(c), p), f.Error(f.Compromise(c), p), tiny)
		nearVec(t, "rotated", f.Error(f.Rotated(), p), Vec{}, tiny)
		// The definition, written out: feature on the machine minus tool on the machine.
		zero := f.Bore.Add(f.V.Times(f.Q).Turned(float64(f.Skew)))
		for _, pl := range []Placement{f.Rotated(), f.Compromise(Vec{}), f.Compromise(c)} {
			want := zero.Add(p.Turned(float64(f.Skew))).Sub(pl.Offset.Add(p.Turned(float64(pl.Rotation))))
			nearVec(t, "definition", f.Error(pl, p), want, tiny)
		}
		nearVec(t, "exact at its centre", f.Error(f.Compromise(c), c), Vec{}, tiny)
	})
}

func TestJacobian(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := lid
		f.Skew = unit.Angle(rapid.Float64Range(-0.008, 0.008).Draw(t, "skew"))
		f.V = drawVec(t, "v", 100)
		p := drawVec(t, "p", 100)
		j := f.Jacobian(p)
		const h = 1e-5
		for k := range 4 {
			at := func(d float64) Vec {
				g := f
				switch k {
				case 0:
					g.Bore.X += d
				case 1:
					g.Bore.Y += d
				case 2:
					g.Skew += unit.Angle(d)
				case 3:
					g.Q += d
				}
				return g.Error(f.Compromise(Vec{}), p) // the placement stays what was keyed in
			}
			nearVec(t, "jacobian", Vec{j[0][k], j[1][k]}, at(h).Sub(at(-h)).Times(1/(2*h)), 1e-5)
		}
	})
}

// Monte Carlo with a fixed seed: two bores are measured with noise, offset and skew follow from them, and the
// scatter of the error at a feature is what CovAt says, the correlation of bore and skew included.
func TestCovAtScatter(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	const n, s = 20000, 0.002
	truth := Fixture{Bore: Vec{-300, -150}, V: Vec{45, 20}, Skew: 0.001, Q: 1.0002}
	made := Vec{120, 5}
	noise := Cov2{{s * s, 0.5 * s * s}, {0.5 * s * s, s * s}} // correlated, to exercise the cross terms
	draw := func() Vec {
		a, b := rng.NormFloat64(), rng.NormFloat64()
		return Vec{s * a, s * (0.5*a + math.Sqrt(0.75)*b)}
	}
	b2 := truth.Bore.Add(made.Times(truth.Q).Turned(float64(truth.Skew)))
	features := []Vec{{0, 0}, {96, 64}, {-45, -20}}
	var sum [3]Cov2
	for range n {
		b := truth.Bore.Add(draw())
		skew, q, _, err := TwoBores(b, b2.Add(draw()), made, noise, noise)
		if err != nil {
			t.Fatal(err)
		}
		pl := Fixture{Bore: b, V: truth.V, Skew: skew, Q: q}.Rotated()
		for i, p := range features {
			e := truth.Error(pl, p)
			sum[i][0][0] += e.X * e.X / n
			sum[i][0][1] += e.X * e.Y / n
			sum[i][1][1] += e.Y * e.Y / n
		}
	}
	var err error
	f := truth
	if _, _, f.Cov, err = TwoBores(truth.Bore, b2, made, noise, noise); err != nil {
		t.Fatal(err)
	}
	for i, p := range features {
		c := f.CovAt(p)
		// A variance of n draws has a relative standard deviation of √(2/n) = 1 %; four of them.
		for _, ab := range [][2]int{{0, 0}, {0, 1}, {1, 1}} {
			near(t, "covariance", sum[i][ab[0]][ab[1]], c[ab[0]][ab[1]], 0.04*math.Sqrt(c[0][0]*c[1][1]))
		}
		if c[0][1] != c[1][0] {
			t.Errorf("not symmetric at %v: %v", p, c)
		}
	}
	// Without the correlation of bore and skew the far corner would come out wrong by far more than that.
	blind := f
	for i := range 2 {
		for k := 2; k < 4; k++ {
			blind.Cov[i][k], blind.Cov[k][i] = 0, 0
		}
	}
	if a, b := blind.CovAt(features[1])[1][1], f.CovAt(features[1])[1][1]; math.Abs(a-b) < 0.2*b {
		t.Errorf("the correlation does not show: %v and %v", a, b)
	}
}

// At the bore itself neither skew nor scale matter; there the covariance is the bore's.
func TestCovAtBore(t *testing.T) {
	f := Fixture{V: Vec{45, 20}, Q: 1, Cov: Independent(0.001, 0.002, 1e-4, 0)}
	c := f.CovAt(Vec{-45, -20})
	near(t, "x", c.U().X, 0.001, 1e-12)
	near(t, "y", c.U().Y, 0.002, 1e-12)
	near(t, "covariance", c[0][1], 0, 1e-18)
	c = f.CovAt(Vec{}) // the offset: lever 20 in X, 45 in Y
	near(t, "offset x", c.U().X, math.Hypot(0.001, 0.002), 1e-12)
	near(t, "offset y", c.U().Y, math.Hypot(0.002, 0.0045), 1e-12)
}

// Machine minus offset is work, turned back by a control rotation where there is one.
func TestPlacementMotion(t *testing.T) {
	for _, pl := range []Placement{lid.Compromise(Vec{}), lid.Rotated()} {
		m := pl.Motion()
		nearVec(t, "origin", m.Apply(Vec{}), pl.Offset, 0)
	}
	nearVec(t, "straight", lid.Compromise(Vec{}).Motion().Apply(Vec{84, 54}), lid.Compromise(Vec{}).Offset.Add(Vec{84, 54}), 1e-12)
}

// A part that moved on its seat by 0.0042, 0.0013 and 0.100 mrad, seen at its corners; computed here.
func TestMoveWorked(t *testing.T) {
	m := Motion{1e-4, Vec{0.0042, 0.0013}}
	for _, c := range [][2]Vec{
		{{0, 0}, {0.0042, 0.0013}}, {{84, 0}, {0.0042, 0.0097}}, {{84, 54}, {-0.0012, 0.0097}}, {{0, 54}, {-0.0012, 0.0013}},
	} {
		nearVec(t, "corner", m.Move(c[0]), c[1], 1e-6)
	}
}

func BenchmarkCovAt(b *testing.B) {
	f := lid
	f.Cov = Independent(0.001, 0.001, 1e-5, 1e-5)
	b.ReportAllocs()
	for b.Loop() {
		f.CovAt(Vec{96, 64})
	}
}

func TestCheckSkew(t *testing.T) {
	for _, c := range []struct {
		deg float64
		ok  bool
	}{{0, true}, {0.5, true}, {-0.499, true}, {0.501, false}, {-2, false}, {math.NaN(), false}} {
		f := lid
		f.Skew = unit.Angle(c.deg * deg)
		if err := f.CheckSkew(); (err == nil) != c.ok {
			t.Errorf("%v deg: %v", c.deg, err)
		}
	}
}
