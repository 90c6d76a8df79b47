package bench_test

import (
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

// What the desk calls not to be proven passes in no walk, and what passes in half or more the desk passes: of 6 walks each.
func TestDeskAgreesWithWalks(t *testing.T) {
	for _, c := range []struct {
		finds     string
		allowance unit.Length
		floating  bool
		walks     bool // half or more are released
	}{{"probe", 0.02, false, false}, {"probe", 0.05, false, true}, {"probe", 0.02, true, false}, {"probe", 0.03, true, true},
		{"dial", 0.02, false, false}, {"dial", 0.05, false, true}, {"edge finder", 0.02, false, false}, {"edge finder", 0.05, false, true}, {"pin", 0.05, false, false}} {
		p := lidWith(t, func(j *jobs.Job, s *jobs.Setup) {
			j.Allowance, j.Fixture.Material = c.allowance, "aluminium-6061-t6" // no damp moves it
			if c.floating {
				s.Floating, s.Against = true, nil
			}
			if s.Finds = c.finds; c.finds != "probe" {
				j.Machine.Probe, j.Machine.Finder = nil, &jobs.EdgeFinder{Dia: 5, Repeat: 0.003}
			}
		})
		if c.finds == "edge finder" { // a set that it reads without a level shows motions to 0.009 only, and the limit is 0.010
			p = p.AtLevel(fold.Irreplaceable)
		}
		released := 0
		for seed := uint64(1); seed <= 6; seed++ {
			res, err := bench.Auto(p, bench.Options{Seed: seed})
			if err != nil {
				t.Fatal(err)
			}
			if res.State == "released" {
				released++
			}
		}
		d := desk.AtDesk(p)
		says := d.Verdict()
		if says == fold.Pass != c.walks || c.walks && released < 3 || !c.walks && released > 0 {
			t.Errorf("%s, %v, floating %v: the desk says %v, %d of 6 walks are released", c.finds, c.allowance, c.floating, says, released)
		}
	}
}
