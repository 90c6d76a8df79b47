package dowel_test

import (
	"math"
	"slices"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// Demonstration: holes 4.010 and 4.008 on pins of 3.998, 84 apart, the part grown by 0.016128; computed elsewhere with
// numpy: turn at most 0.130952 mrad, two round pins bear 0.0110, a diamond with a land of 1.2 bears 0.022454.
func TestWorkedExample(t *testing.T) {
	for _, c := range []struct {
		land  float64
		bears float64
		named string
	}{{0, 0.011, "holes-apart"}, {1.2, 0.022454, ""}} {
		j := trial.Job(t, "testdata/cover/cover.job.yaml")
		j.Setups[0].Dowels.Land = c.land
		p := trial.Plan(t, j, j.Setups[0].Name, nil)
		pins := facts.Pins.Is(facts.PinsFact{D1: 3.998, D2: 3.998, Apart: 84, Cov: fold.NewCov("d1,d2,apart", [][]float64{{1e-6, 0, 0}, {0, 1e-6, 0}, {0, 0, 1e-6}})})
		// Gauge pins in steps of 0.001, so that their middles are the example's holes; over them half of each play is added.
		v := fold.Trial(p, "reamed", trial.When, []fold.Known{pins},
			[2]string{"go1", "4.0095"}, [2]string{"no1", "4.0105"}, [2]string{"go2", "4.0075"}, [2]string{"no2", "4.0085"}, [2]string{"over", "88.024378"})
		sp, _ := p.Spec("reamed")
		o := sp.Judge(v)
		want := map[string]float64{"play on the pin": 0.012, "play on the second pin": 0.010, "part may turn by": 0.130952e-3, "holes farther apart than pins": 0.016128, "they bear": c.bears}
		for _, r := range o.Lines {
			if w, ok := want[r.Label]; ok {
				t.Logf("land %.1f %-32s %12.7f %12.7f", c.land, r.Label, w, r.Value)
				if math.Abs(r.Value-w) > 1.0e-6 {
					t.Errorf("land %g: %s %.7f, want %.7f", c.land, r.Label, r.Value, w)
				}
				delete(want, r.Label)
			}
		}
		if len(want) > 0 || o.Named != c.named {
			t.Errorf("land %g: not shown %v; named %q", c.land, want, o.Named)
		}
	}
}

// Beside the measured holes stand the plays of the shelf: 4 H7/h6 0 to 0.020, H7/g6 0.004 to 0.024 (ISO 286-2, verified copy), and the
// fixed-fastener rule, 4 + 2·0.0x of play for both.
func TestPlaysOfTheShelf(t *testing.T) {
	j := trial.Job(t, "testdata/cover/cover.job.yaml")
	j.Fixture.AsMade.Bore.Dia, j.Fixture.AsMade.Bore2.Dia = 4, 4
	i := slices.IndexFunc(j.Setups, func(s jobs.Setup) bool { return s.Kind == "dowel-flip" })
	j.Setups[i].Dowels.Play = 0.01
	p := trial.Plan(t, j, j.Setups[i].Name, nil)
	sp, _ := p.Spec("reamed")
	rows := sp.Page(fold.Trial(p, "reamed", trial.When, nil)).Rows
	if len(rows) != 3 || rows[0].Text != "0.000 mm to 0.020 mm" || rows[1].Text != "0.004 mm to 0.024 mm" || math.Abs(rows[2].Value-4.02) > 1e-12 {
		t.Errorf("%+v", rows)
	}
}
