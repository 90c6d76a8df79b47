package judge_test

import (
	"math"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// planOf is a plan of nothing but its job: limits are derived from that alone.
func planOf(t *testing.T, j jobs.Job, finds string) *fold.Plan {
	t.Helper()
	j.Setups = []jobs.Setup{{Name: "s", Kind: "none", Finds: finds}}
	p, err := (&fold.House{Kinds: []*fold.Kind{{Name: "none"}}, Limits: judge.LimitRows}).Plan(&j, "s", nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func features(at ...[2]float64) []jobs.Feature {
	var out []jobs.Feature
	for _, q := range at {
		out = append(out, jobs.Feature{At: jobs.Point{X: q[0], Y: q[1]}})
	}
	return out
}

// The derived limits at numbers worked by hand from their rules in words: allowance 0.05, the farthest
// feature 50 from the part zero (30 and 40), so that a skew of 0.2 · 0.05 / 50 may stay.
func TestDerivedLimits(t *testing.T) {
	fine := jobs.Job{Allowance: 0.05, Machine: jobs.Machine{Readout: 0.001, Probe: &jobs.Probe{Repeat: 0.001, Dof: 30}}}
	fine.Machine.Dial.Graduation = 0.0015
	fine.Part.Features = features([2]float64{30, 40}, [2]float64{45, 5})
	coarse := fine
	coarse.Machine.Readout, coarse.Machine.Dial.Graduation = 0.005, 0.01
	coarse.Machine.Probe = &jobs.Probe{Repeat: 0.004, Dof: 30}
	for id, want := range map[string][2]float64{ // fine, coarse
		"repeat":           {0.0035, 0.014}, // 3.5 s over 0.003 and over 2 readout steps
		"square.closing":   {0.002, 0.01},
		"square.skew":      {0.0002, 0.0002},
		"bore.sweep":       {0.003, 0.02},
		"bore.centred":     {0.0015, 0.01},
		"bore.form":        {0.003, 0.008}, // 2 s
		"floor.tilt":       {0.01, 0.01},
		"floor.form":       {0.01, 0.014},
		"offset.register":  {0.025, 0.025},
		"drill.place":      {0.005, 0.01}, // 2 readout steps over a tenth of the allowance
		"screws.shift":     {0.01, 0.01},
		"shift.register":   {0.01, 0.01},
		"release.register": {0.05, 0.05},
		"check.seat":       {0.01, 0.01},
	} {
		for i, j := range []jobs.Job{fine, coarse} {
			if got := planOf(t, j, "").Limit(id).Max; math.Abs(got-want[i]) > 1e-12 {
				t.Errorf("%s, job %d: %g, want %g", id, i, got, want[i])
			}
		}
	}
	blind := coarse
	blind.Machine.Readout, blind.Machine.Probe = 0.05, &jobs.Probe{Repeat: 0.001, Dof: 30}
	if got, want := planOf(t, blind, "").Limit("repeat").Max, 0.1; math.Abs(got-want) > 1e-12 {
		t.Errorf("repeat under a readout of 0.05 is %g, want its 2 steps, %g", got, want)
	}
}

// What a wrong number costs the part is waived with that number typed, never by a reason alone.
func TestLimitsThatWantTheirNumber(t *testing.T) {
	hard := map[string]bool{"offset.register": true, "drill.place": true, "screws.shift": true, "shift.register": true, "release.register": true, "check.seat": true,
		"floor.rim": true, "seat.height": true, "baseline.height": true, "shift.lift": true, "shift.lean": true, "screws.lift": true}
	for _, r := range judge.LimitRows {
		if got := r.Class == fold.Hard; got != hard[r.ID] {
			t.Errorf("%s wants its number: %t", r.ID, got)
		}
	}
}

// The scatter of one contact is that of what finds, never finer than the readout shows; a rectangle of
// one step has s = step/√12 (JCGM 100:2008, 4.3.7).
func TestScatterOfAContact(t *testing.T) {
	m := jobs.Machine{Readout: 0.001}
	m.Dial.Graduation = 0.01
	probed, finder, coarse := m, m, m
	probed.Probe = &jobs.Probe{Repeat: 0.002, Dof: 12}
	finder.Finder = &jobs.EdgeFinder{Repeat: 0.004}
	coarse.Readout, coarse.Probe = 0.01, &jobs.Probe{Repeat: 0.001, Dof: 12}
	for name, c := range map[string]struct {
		m      jobs.Machine
		finds  string
		s, dof float64
	}{
		"probe":                      {probed, "", 0.002, 12},
		"probe under a coarse scale": {coarse, "", 0.01 / math.Sqrt(12), 12},
		"edge finder":                {finder, "edge finder", 0.004, judge.TypeB},
		"paper":                      {m, "paper", judge.PaperRepeat, judge.TypeB},
		"dial":                       {m, "", 0.01 / math.Sqrt(12), judge.TypeB},
	} {
		if s, dof := judge.ProbeS(planOf(t, jobs.Job{Machine: c.m}, c.finds)); math.Abs(s-c.s) > 1e-12 || dof != c.dof {
			t.Errorf("%s: s %g of %g, want %g of %g", name, s, dof, c.s, c.dof)
		}
	}
}

// The reach is that of the farthest feature, and of the part where it lists none; nearer than 1 mm it counts as 1.
func TestReach(t *testing.T) {
	j := jobs.Job{Allowance: 0.05}
	j.Part.Size = [3]float64{60, 80, 10}
	if got := judge.Reach(planOf(t, j, "")); got != 100 {
		t.Errorf("of a part without features %g, want 100", got)
	}
	j.Part.Features = features([2]float64{3, 4}, [2]float64{0.1, 0})
	if got := judge.Reach(planOf(t, j, "")); got != 5 {
		t.Errorf("%g, want 5", got)
	}
	j.Part.Features = features([2]float64{0.1, 0})
	if got := planOf(t, j, "").Limit("square.skew").Max; math.Abs(got-0.01) > 1e-12 {
		t.Errorf("the skew at 0.1 mm is %g, want that at 1 mm, 0.01", got)
	}
}

// Off counts both ways.
func TestOffEitherWay(t *testing.T) {
	m := fold.Limit{Max: 0.010, Unit: unit.KLength}
	for _, v := range []float64{-5.011, -4.989} {
		if c := judge.Off(m, v, -5, 0); c.Verdict != fold.Fail || c.Got < 0 {
			t.Errorf("%g, wanted -5 within 0.010: %v by %g", v, c.Verdict, c.Got)
		}
	}
}
