package bench

import (
	"math"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// onStops is the practice job on a plain plate with stops, edited.
func onStops(t testing.TB, edit func(*jobs.Job, *jobs.Setup)) *fold.Plan {
	t.Helper()
	j, err := builtin.Job("stops")
	if err != nil {
		t.Fatal(err)
	}
	if edit != nil {
		edit(j, &j.Setups[0])
	}
	return plan(t, j, j.Setups[0].Name)
}

// Without any effect side 2 meets side 1; with the usual ones the intervals hold, by probe, edge finder and paper.
func TestStops(t *testing.T) {
	n, in, seeds, share := 0, 0, uint64(40), 0.93
	if testing.Short() {
		seeds, share = 8, 0.88 // of few
	}
	for name, edit := range map[string]func(*jobs.Job, *jobs.Setup){
		"probe": nil,
		"edge finder": func(j *jobs.Job, s *jobs.Setup) {
			j.Machine.Probe, j.Machine.Finder, s.Finds, j.Allowance = nil, &jobs.EdgeFinder{Dia: 10, Repeat: 0.005}, "edge finder", 0.1
		},
		"toward and right": func(j *jobs.Job, s *jobs.Setup) {
			a := &j.Fixture.AsMade
			a.Stops.Long, a.Stops.End, a.Stops.At, a.Stops.EndAt, a.PartZero = "toward", "right", [2]float64{-96, -14}, 38, jobs.Point{X: -110}
			for i := range j.Fixture.Pocket.Outline {
				j.Fixture.Pocket.Outline[i].X, j.Fixture.Pocket.Outline[i].Y = j.Fixture.Pocket.Outline[i].X-110, j.Fixture.Pocket.Outline[i].Y+76
			}
			j.Fixture.Support = nil
			s.Against = []string{"right", "toward"}
		},
		"long side left": func(j *jobs.Job, s *jobs.Setup) {
			a := &j.Fixture.AsMade
			a.Stops.Long, a.Stops.End, a.Stops.At, a.Stops.EndAt = "left", "away", [2]float64{-68, -8}, 55
		},
		"rotation": func(j *jobs.Job, _ *jobs.Setup) { j.Machine.Rotation = "G68" },
	} {
		p := onStops(t, edit)
		r := auto(t, onStops(t, func(j *jobs.Job, s *jobs.Setup) {
			if j.Machine.Squareness = 0; edit != nil {
				edit(j, s)
			}
		}), Options{Seed: 3, Effects: &Effects{}})
		if r.State != "released" || len(r.Features) != 2 {
			t.Errorf("%s: %s at %v: %s", name, r.State, *r.HeldAt, r.Walk.Words)
			continue
		}
		for _, f := range r.Features {
			e := r.TrueError[f.Name]
			if math.Hypot(e.X-f.Error.X, e.Y-f.Error.Y) > 2e-3 { // a page holds 0.001
				t.Errorf("%s, %s: true %+v, known %+v", name, f.Name, e, f.Error)
			}
		}
		for seed := range seeds {
			r := auto(t, p, Options{Seed: seed})
			if r.State != "released" {
				t.Logf("%s, seed %d: held at %v: %s", name, seed, *r.HeldAt, r.Walk.Words)
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
	if n < 40 || float64(in) < share*float64(n) {
		t.Errorf("%d of %d within 95 %%", in, n)
	}
}

// A chip at a stop is met before the part goes on.
func TestStopMistakes(t *testing.T) {
	p := onStops(t, nil)
	for _, m := range stopMistakes {
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

// Two touches a short way apart seldom prove a direction at once: the runs go together, and the walk comes past the edge.
func TestShortStopsAreSquared(t *testing.T) {
	p := onStops(t, nil)
	held, again := 0, 0
	for seed := uint64(101); seed <= 180; seed++ {
		r := auto(t, p, Options{Seed: seed})
		if r.HeldAt != nil && *r.HeldAt == "square" {
			held++
		}
		st := r.Walk.State()
		if ss, ok := st.Step("square"); ok && ss.Round != nil && ss.Round.No > 2 {
			again++
		}
	}
	if held > 2 || again < 10 {
		t.Errorf("of 80, %d held at the edge, %d read again", held, again)
	}
}
