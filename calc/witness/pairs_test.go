package witness

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
)

func TestPairs(t *testing.T) {
	s := Set{Rim: []float64{1, 1.002}, Reads: [][]float64{{5, 5.001}, {7}, nil, {2, 2.001, 1.995}}}
	if p := s.Pairs(); p.N != 5 || p.Spot != 3 || math.Abs(p.Largest-0.006) > 1e-12 {
		t.Errorf("%+v", p)
	}
	s.Rim[1] = 0.993
	if p := s.Pairs(); p.Spot != -1 || math.Abs(p.Largest-0.007) > 1e-12 {
		t.Errorf("%+v", p)
	}
	if p := (Set{}).Pairs(); p != (Pairs{Spot: -1}) {
		t.Errorf("%+v", p)
	}
	near(t, "y of the fixture", Set{Fixture: fit.Point3{X: 1, Y: 2, Z: 3}}.Of(fit.AxisY), 2, 0)
}

// Sound pairs, simulated: the worst of n is beyond the limit about once in 1/FalseRepeat sets, never more often.
func TestRepeatLimit(t *testing.T) {
	near(t, "one well-known pair", RepeatLimit(budget.Spread{S: 0.001, Dof: math.Inf(1)}, 1), 0.001*math.Sqrt2*2.967738, 1e-9) // normal quantile of 0.9985
	r := rand.New(rand.NewPCG(7, 7))
	const sets, pairs, dof = 20000, 9, 12
	beyond := 0
	for range sets {
		ss := 0.0
		for range dof {
			ss += sq(r.NormFloat64())
		}
		limit := RepeatLimit(budget.Spread{S: math.Sqrt(ss / dof), Dof: dof}, pairs)
		worst := 0.0
		for range pairs {
			worst = math.Max(worst, math.Abs(r.NormFloat64()-r.NormFloat64()))
		}
		if worst > limit {
			beyond++
		}
	}
	if share := float64(beyond) / sets; share > FalseRepeat*1.3 || share < FalseRepeat*0.5 {
		t.Errorf("beyond in %.4f of the sets", share)
	}
}

// Dials on posts stand on the fixture: their own scatter, and no reference. What was read once has the instrument's.
func TestDialsAndSingleReads(t *testing.T) {
	own := budget.Spread{S: 0.002, Dof: 30}
	one := Set{Rim: []float64{0}, Reads: [][]float64{{0}, {0}, {0}, {0}, {0}, {0}, {0}}}
	m, err := one.Baseline(spots, 1).Moved(spots, one, All, own)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "scatter of what was read once", m.S, 0.002, 0)
	near(t, "its dof", m.Dof, 30, 0)
	near(t, "a height: part and rim, once each and twice", m.Shifts[3].U, 0.002*math.Sqrt(1+1+1+1), 1e-15)
	one.Dial, one.Rim = budget.Spread{S: 0.003, Dof: 50}, nil
	if m, err = one.Baseline(spots, 1).Moved(spots, one, All, own); err != nil {
		t.Fatal(err)
	}
	near(t, "scatter of dials", m.S, 0.003, 0)
	near(t, "a dial, twice", m.Shifts[3].U, 0.003*math.Sqrt(2), 1e-15)
	m, err = one.Baseline(spots, 1).Moved(spots, Set{Reads: one.Reads[:3], Dial: one.Dial}, Plan, own)
	if err != nil || len(m.Shifts) != 3 || !m.Plan || m.Lifted {
		t.Errorf("in plan alone: %v %+v", err, m)
	}
}

func TestRiseOf(t *testing.T) {
	real := func(d float64) fit.Shifted {
		return fit.Shifted{Difference: fit.Difference{Axis: fit.AxisZ, D: d}, Real: true}
	}
	quiet := func(d float64) fit.Shifted { return fit.Shifted{Difference: fit.Difference{Axis: fit.AxisZ, D: d}} }
	side := fit.Shifted{Difference: fit.Difference{Axis: fit.AxisX, D: 9}, Real: true}
	for _, c := range []struct {
		name string
		s    []fit.Shifted
		r    Rise
		at   int
		most float64
	}{
		{"nothing", nil, Still, 0, 0},
		{"sideways only", []fit.Shifted{side}, Still, 0, 0},
		{"scatter", []fit.Shifted{side, quiet(3), quiet(-2)}, Still, 0, 3},
		{"all up", []fit.Shifted{side, real(1), real(3), real(2)}, Rose, 1, 3},
		{"all down", []fit.Shifted{real(-1), side, real(-3), real(-2)}, Sank, 0, -3},
		{"a corner", []fit.Shifted{quiet(1), side, real(2), real(5), real(-6)}, RoseAt, 2, -6},
		{"a higher one within the scatter", []fit.Shifted{quiet(9), real(2), real(1)}, RoseAt, 1, 9},
		{"settled", []fit.Shifted{quiet(1), real(-5), quiet(2)}, SankInPart, 0, -5},
	} {
		m := fit.Motion{Shifts: c.s}
		if r, at := RiseOf(m); r != c.r || at != c.at {
			t.Errorf("%s: %v at %d", c.name, r, at)
		}
		near(t, c.name+": most", Lifted(m).D, c.most, 0)
	}
}

func TestCrept(t *testing.T) {
	step, most, last := Crept([]float64{0.002, -0.003, -0.007, -0.001})
	near(t, "step", step, 0.006, 1e-15)
	near(t, "most", most, 0.007, 0)
	near(t, "last", last, -0.001, 0)
	step, _, _ = Crept([]float64{-0.004, -0.005})
	near(t, "from zero", step, 0.004, 0)
	near(t, "two readings", DialU(0.01), math.Hypot(0.01/math.Sqrt(12), 0.01/math.Sqrt(12)), 1e-15)
}
