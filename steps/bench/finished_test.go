package bench

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// inspection is the built-in job's finished part.
func inspection(t testing.TB) *fold.Plan {
	t.Helper()
	j, err := builtin.Job("inspect")
	if err != nil {
		t.Fatal(err)
	}
	return plan(t, j, j.Setups[0].Name)
}

// Over 200 benches what is found of place, turn and size is within its 95 % as often as it says; a part is released unless it is off.
func TestInspectionWalks(t *testing.T) {
	p := inspection(t)
	said, beyond, released := 0, 0, 0
	for seed := uint64(1); seed <= 200; seed++ {
		w := NewWorld(p, seed, Usual(p))
		k := NewWalk(p, w, nil)
		if _, err := k.Until(windows(t)); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		st := k.State()
		shift, turn, size, square, _, _ := w.Finished()
		if st.Released {
			released++
		} else if math.Hypot(shift.X, shift.Y)+55*math.Abs(turn) < 0.03 {
			t.Errorf("seed %d: held %v at %s: %s", seed, shift, *k.HeldAt, k.Words)
		}
		f, ok := st.Fact("mismatch")
		if !ok {
			continue
		}
		for i, want := range []float64{shift.X, shift.Y, turn, size, square} {
			said++
			if math.Abs(f.Value[i]-want) > 1.96*math.Sqrt(f.Cov[i][i]) {
				beyond++
			}
		}
	}
	t.Logf("%d of 200 released; %d of %d numbers farther off than their 95 %%", released, beyond, said)
	if said < 900 || beyond > said/20 {
		t.Errorf("%d of %d numbers lie outside their 95 %%", beyond, said)
	}
}

// The example jobs' finished parts walk to their release, in mm and in inches, at length and in the short form.
func TestInspectionExamples(t *testing.T) {
	for _, path := range []string{"../../testdata/cover/cover.job.yaml", "../../testdata/gimbal/gimbal.job.yaml"} {
		j, fs := jobs.ReadJob(jobs.OS(), path)
		if len(fs) > 0 || len(j.Notes) > 0 {
			t.Fatal(fs, j.Notes)
		}
		for seed := uint64(1); seed <= 5; seed++ {
			if r := auto(t, plan(t, j, "bench"), Options{Seed: seed}); r.State != "released" {
				t.Errorf("%s, seed %d: held at %v: %s", path, seed, *r.HeldAt, r.Walk.Words)
			}
		}
	}
}

// Each mistake is named, and a clean bench names none.
func TestFinishedMistakes(t *testing.T) {
	p := inspection(t)
	for _, m := range append([]Mistake{{}}, finishedMistakes...) {
		if m.Name == "moved-in-cut" || m.Name == "pulled-in-cut" {
			continue // while it is still screwed down: TestWhatMovedInTheCut
		}
		for seed := uint64(1); seed <= 5; seed++ {
			r := auto(t, p, Options{Seed: seed, Mistake: m.Name, Effects: &Effects{Noise: 0.001, DialRound: 0.002, Readout: 0.001}})
			named := false
			for _, n := range r.Named {
				named = named || m.NamedBy(n)
			}
			if named == (m.Name == "") && (m.Name != "" || len(r.Named) > 0) {
				t.Errorf("%q, seed %d: named %v", m.Name, seed, r.Named)
			}
		}
	}
}

// How often a mistake of each size is named.
func TestInspectionCatch(t *testing.T) {
	p := inspection(t)
	n := uint64(6)
	if testing.Short() {
		n = 3
	}
	for _, m := range finishedMistakes {
		for _, times := range []float64{0.25, 0.5, 1, 2} {
			caught := uint64(0)
			for seed := uint64(1); seed <= n; seed++ {
				o := Options{Seed: seed, Mistake: m.Name, Size: times * m.Size}
				if strings.HasPrefix(m.when, "before read") { // while it is still screwed down
					o.In = p.Setup.Name
					rs, err := Chain(cutAndInspected(t), o)
					if err != nil {
						t.Fatal(err)
					}
					if len(rs) < 2 || slices.ContainsFunc(rs[1].Named, m.NamedBy) {
						caught++
					}
					continue
				}
				if slices.ContainsFunc(auto(t, p, o).Named, m.NamedBy) {
					caught++
				}
			}
			t.Logf("%-14s %7.3f %-5s %d of %d", m.Name, times*m.Size, m.Unit, caught, n)
			if times >= 1 && caught < n*9/10 {
				t.Errorf("%s of %g %s: named %d of %d", m.Name, times*m.Size, m.Unit, caught, n)
			}
		}
	}
}
