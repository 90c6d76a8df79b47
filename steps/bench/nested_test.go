package bench

import (
	"math"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// inJaws is the practice job in soft jaws, edited.
func inJaws(t testing.TB, edit func(*jobs.Job, *jobs.Setup)) *fold.Plan {
	t.Helper()
	j, err := builtin.Job("soft-jaws")
	if err != nil {
		t.Fatal(err)
	}
	if edit != nil {
		edit(j, &j.Setups[0])
	}
	return plan(t, j, j.Setups[0].Name)
}

// Without any effect side 2 meets side 1; with the usual ones the intervals hold.
func TestNest(t *testing.T) {
	n, in, seeds, share := 0, 0, uint64(60), 0.93
	if testing.Short() {
		seeds, share = 12, 0.88 // of few
	}
	for name, edit := range map[string]func(*jobs.Job, *jobs.Setup){
		"about X": nil,
		"about Y": func(_ *jobs.Job, s *jobs.Setup) { s.Flip = "y" },
	} {
		p := inJaws(t, edit)
		r := auto(t, inJaws(t, func(j *jobs.Job, s *jobs.Setup) {
			if j.Machine.Squareness = 0; edit != nil {
				edit(j, s)
			}
		}), Options{Seed: 3, Effects: &Effects{}})
		if r.State != "released" || len(r.Features) != 2 {
			t.Errorf("%s: %s at %v: %s", name, r.State, *r.HeldAt, r.Walk.Words)
			continue
		}
		for _, f := range r.Features {
			if e := r.TrueError[f.Name]; math.Hypot(e.X-f.Error.X, e.Y-f.Error.Y) > 2e-3 { // a page holds 0.001
				t.Errorf("%s, %s: true %+v, known %+v", name, f.Name, e, f.Error)
			}
		}
		for seed := range seeds {
			r := auto(t, p, Options{Seed: seed})
			if r.State != "released" {
				t.Errorf("%s, seed %d: held at %v: %s", name, seed, *r.HeldAt, r.Walk.Words)
				continue
			}
			for _, f := range r.Features {
				e := r.TrueError[f.Name]
				for _, d := range []float64{math.Abs(e.X-f.Error.X) / f.U.X, math.Abs(e.Y-f.Error.Y) / f.U.Y} {
					if n++; d <= 1 {
						in++
					}
				}
			}
		}
	}
	t.Logf("%d of %d within 95 %%", in, n)
	if float64(in) < share*float64(n) {
		t.Errorf("%d of %d within 95 %%", in, n)
	}
}

// Each mistake of soft jaws is met before the part is cut, or the walk stops.
func TestNestMistakes(t *testing.T) {
	p := inJaws(t, nil)
	for _, m := range append(nestMistakes[:len(nestMistakes):len(nestMistakes)], stopMistakes...) {
		for _, seed := range []uint64{1, 2, 3} {
			r := auto(t, p, Options{Seed: seed, Mistake: m.Name})
			if len(r.Named) == 0 || !m.NamedBy(r.Named[0]) {
				t.Errorf("%s, seed %d: named %v, %s", m.Name, seed, r.Named, r.State)
			}
			if made := r.Walk.World.Made()[0]; !made.Begun || !made.Over && r.State == "released" {
				t.Errorf("%s, seed %d: %+v, %s", m.Name, seed, made, r.State)
			}
		}
	}
}

// A ring of 70 and wall 2.6 without a plug: in a nest of its own radius over 75 degrees it moves by no more than what the nest
// leaves; in one cut too wide for that no handle is gentle.
func TestNestOfARing(t *testing.T) {
	for _, c := range []struct {
		spare float64
		ok    bool
	}{{0, true}, {0.05, false}} {
		p := inJaws(t, func(_ *jobs.Job, s *jobs.Setup) {
			s.Jaws.Shape, s.Jaws.Span, s.Jaws.Wrap, s.Jaws.Plug = "ring", 0, 75, false
		})
		r := auto(t, p, Options{Seed: 2, Mistake: map[bool]string{false: "nest-wide"}[c.ok], Size: c.spare})
		if ok := r.State == "released" && len(r.Named) == 0; ok != c.ok {
			t.Errorf("nest %g wide: %s at %v, %v: %s", c.spare, r.State, r.HeldAt, r.Named, r.Walk.Words)
		}
	}
}

// What nothing shows to be held, or held gently, is never released and never waived.
func TestNestRetentionIsNeverWaived(t *testing.T) {
	for name, c := range map[string]struct {
		at    fold.StepID
		limit string
		edit  func(*jobs.Job, *jobs.Setup)
	}{
		"a mark that presses little": {"close", "hold.retention", func(_ *jobs.Job, s *jobs.Setup) { s.Jaws.Force = 5 }},
		"deep cut":                   {"close", "hold.retention", func(_ *jobs.Job, s *jobs.Setup) { s.Cut.Ap = 3 }},
		"cut far over the grip":      {"close", "hold.retention", func(_ *jobs.Job, s *jobs.Setup) { s.Cut.Height, s.Jaws.Grip = 250, 4 }},
		"thin wall without its plug": {"grip", "jaws.gentle", func(_ *jobs.Job, s *jobs.Setup) { s.Jaws.Plug = false }},
	} {
		r := auto(t, inJaws(t, c.edit), Options{Seed: 1})
		if r.State == "released" || *r.HeldAt != c.at {
			t.Errorf("%s: %s at %v: %s", name, r.State, r.HeldAt, r.Walk.Words)
			continue
		}
		if _, err := r.Walk.State().Waive(c.limit, "0.200", "seen and accepted"); err == nil || !strings.Contains(err.Error(), "can't be waived") {
			t.Errorf("%s: waived, or refused for another reason: %v", name, err)
		}
	}
}

// The example jobs in soft jaws and on three stops walk to their release, in mm and in inches, a plate and a ring.
func TestNestExamples(t *testing.T) {
	for _, name := range []string{"nest/nest", "bezel-inch/bezel", "stops/stops", "stops-inch/stops"} {
		j, fs := jobs.ReadJob(jobs.OS(), "../../testdata/"+name+".job.yaml")
		if len(fs) > 0 || len(j.Notes) > 0 {
			t.Fatal(name, fs, j.Notes)
		}
		for _, seed := range []uint64{1, 2, 3} {
			if r := auto(t, plan(t, j, "side2"), Options{Seed: seed}); r.State != "released" {
				t.Errorf("%s, seed %d: held at %v: %s", name, seed, *r.HeldAt, r.Walk.Words)
			}
		}
	}
}
