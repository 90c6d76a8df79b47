package bench

import (
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench/builtin"
)

// onFace is the practice job held by vacuum or tape, edited.
func onFace(t testing.TB, how string, edit func(*jobs.Job, *jobs.Setup)) *steps.Plan {
	t.Helper()
	j, err := builtin.Job(how)
	if err != nil {
		t.Fatal(err)
	}
	if edit != nil {
		edit(j, &j.Setups[0])
	}
	return plan(t, j, j.Setups[0].Name)
}

func TestFaceHolds(t *testing.T) {
	for _, how := range []string{"vacuum", "tape"} {
		for seed := range uint64(8) {
			if r := auto(t, onFace(t, how, nil), Options{Seed: seed}); r.State != "released" {
				t.Errorf("%s, seed %d: held at %v: %s", how, seed, *r.HeldAt, r.Walk.Words)
			}
		}
		p := onFace(t, how, func(j *jobs.Job, _ *jobs.Setup) { j.Unit = unit.Imperial })
		if r := auto(t, p, Options{Seed: 3}); r.State != "released" {
			t.Errorf("%s in inches: held at %v: %s", how, *r.HeldAt, r.Walk.Words)
		}
	}
}

// What is not tested as it will be holds nothing, and no reason passes that over.
func TestFaceRetentionIsNeverWaived(t *testing.T) {
	warm := unit.Temperature(45)
	for name, p := range map[string]*steps.Plan{
		"film warmer than its test": onFace(t, "tape", func(_ *jobs.Job, s *jobs.Setup) { s.Hold.Hot = &warm }),
		"test too short":            onFace(t, "tape", func(_ *jobs.Job, s *jobs.Setup) { s.Hold.Tested.Minutes = 2 }),
		"little tape":               onFace(t, "tape", func(_ *jobs.Job, s *jobs.Setup) { s.Hold.Area = [2]float64{5, 5} }),
		"small seal":                onFace(t, "vacuum", func(_ *jobs.Job, s *jobs.Setup) { s.Hold.Area = [2]float64{20, 15} }),
		"deep cut":                  onFace(t, "vacuum", func(_ *jobs.Job, s *jobs.Setup) { s.Cut.Ap = 2 }),
	} {
		r := auto(t, p, Options{Seed: 1})
		if r.State == "released" || *r.HeldAt != "hold" {
			t.Errorf("%s: %s at %v", name, r.State, r.HeldAt)
			continue
		}
		st := r.Walk.State()
		if _, err := st.Waive("hold.retention", "0.200", "seen and accepted"); err == nil || !strings.Contains(err.Error(), "can't be waived") {
			t.Errorf("%s: waived, or refused for another reason: %v", name, err)
		}
	}
}

// Each mistake of vacuum is met, the part then held again or the walk stopped.
func TestFaceMistakes(t *testing.T) {
	p := onFace(t, "vacuum", nil)
	for _, m := range faceMistakes {
		for _, seed := range []uint64{1, 2, 3} {
			r := auto(t, p, Options{Seed: seed, Mistake: m.Name})
			if len(r.Named) == 0 || r.Named[0] != m.Name {
				t.Errorf("%s, seed %d: named %v, %s", m.Name, seed, r.Named, r.State)
			}
			if made := r.Walk.World.Made()[0]; !made.Begun || !made.Over && r.State == "released" {
				t.Errorf("%s, seed %d: %+v, %s", m.Name, seed, made, r.State)
			}
		}
	}
}
