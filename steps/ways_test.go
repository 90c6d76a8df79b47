package steps_test

import (
	"math"
	"slices"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/desk"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

func waysOf(t *testing.T, j *jobs.Job) map[string]steps.Way {
	t.Helper()
	i := slices.IndexFunc(j.Setups, func(s jobs.Setup) bool { return s.Second() })
	ws, err := steps.Ways(j, j.Setups[i].Name)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]steps.Way{}
	for _, w := range ws {
		out[w.Name] = w
	}
	return out
}

// The job's own way says what the desk says of the job; another way made of it says what a job that is made so says.
func TestWaysAreThoseOfJobsMadeSo(t *testing.T) {
	for own, file := range map[string]string{"T": "T", "M": "M", "S": "S", "dowels": "dowel-flip", "vacuum": "vacuum", "tape": "tape", "jaws": "soft-jaws"} {
		j, err := builtin.Job(file)
		if err != nil {
			t.Fatal(err)
		}
		before := jobs.Flatten(j)
		w := waysOf(t, j)[own]
		if now := jobs.Flatten(j); len(now) != len(before) || len(jobs.Changed(before, now)) > 0 {
			t.Errorf("%s: comparing changed the job: %v", own, jobs.Changed(before, now))
		}
		p := trial.Plan(t, j, j.Setups[0].Name, nil)
		_, _, v, g := kit.WorstFeature(desk.AtDesk(p).AsJob)
		if !w.Is || w.Takes != "" || math.Abs(w.Register-v-g) > 1e-12 {
			t.Errorf("%s: %+v, the desk says %.6f", own, w, v+g)
		}
		for name, x := range waysOf(t, j) {
			if x.Is != (name == own) || x.Why != "" || !(x.Register > 0) {
				t.Errorf("%s of %s: own %v, %q, register %g", name, own, x.Is, x.Why, x.Register)
			}
		}
	}
	j, err := builtin.Job("T")
	if err != nil {
		t.Fatal(err)
	}
	s, err := builtin.Job("S")
	if err != nil {
		t.Fatal(err)
	}
	a, b := waysOf(t, j)["S"], waysOf(t, s)["S"]
	if math.Abs(a.Register-b.Register) > 1e-12 || math.Abs(a.Deepest-b.Deepest) > 1e-9 || math.Abs(a.Leaves-b.Leaves) > 1e-9 {
		t.Errorf("S made of T: %g %g %g; S: %g %g %g", a.Register, a.Deepest, a.Leaves, b.Register, b.Deepest, b.Leaves)
	}
	if _, err := steps.Ways(j, "nowhere"); err == nil {
		t.Error("a setup that is not there was compared")
	}
}

// A thinner floor gives more, by the third power; without its thickness nothing is said of it.
func TestWhichFirst(t *testing.T) {
	j, err := builtin.Job("inspect")
	if err != nil {
		t.Fatal(err)
	}
	p := trial.Plan(t, j, j.Setups[1].Name, nil)
	if got := desk.WhichFirst(p); len(got) < 6 {
		t.Errorf("%q", got)
	}
	f := desk.FeedsOf(p)
	if f.Why != "" || f.Window.Thins >= 1 || f.Spins {
		t.Errorf("%+v", f)
	}
	j.Machine.Spindle = [2]float64{5000, 24000}
	if f = desk.FeedsOf(p); !f.Spins || f.Window.RPM[1] != 24000 {
		t.Errorf("a spindle of 24000: %+v", f.Window)
	}
	j.Tools[3] = func() jobs.Tool { x := j.Tools[3]; x.Runout = 0.02; return x }()
	if f = desk.FeedsOf(p); math.Abs(f.Window.Fz[0]-0.04) > 1e-12 {
		t.Errorf("runout 0.02: %+v", f.Window)
	}
}
