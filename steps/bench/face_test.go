package bench

import (
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// onFace is the practice job held by vacuum or tape, edited.
func onFace(t testing.TB, how string, edit func(*jobs.Job, *jobs.Setup)) *fold.Plan {
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
	for name, p := range map[string]*fold.Plan{
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

// Each mistake of vacuum and of tape is met, the part then held again or the walk stopped.
func TestFaceMistakes(t *testing.T) {
	for how, own := range map[string][]Mistake{"vacuum": vacuumMistakes, "tape": tapeMistakes} {
		p := onFace(t, how, nil)
		for _, m := range append(own[:len(own):len(own)], heldMistakes...) {
			for _, seed := range []uint64{1, 2, 3} {
				r := auto(t, p, Options{Seed: seed, Mistake: m.Name})
				if len(r.Named) == 0 || r.Named[0] != m.Name {
					t.Errorf("%s: %s, seed %d: named %v, %s", how, m.Name, seed, r.Named, r.State)
				}
				if made := r.Walk.World.Made()[0]; !made.Begun || !made.Over && r.State == "released" {
					t.Errorf("%s: %s, seed %d: %+v, %s", how, m.Name, seed, made, r.State)
				}
			}
		}
	}
}

// The example jobs held from below walk to their release, in mm and in inches.
func TestFaceExamples(t *testing.T) {
	for path, setups := range map[string][]string{"../../testdata/shelf/shelf.job.yaml": {"side2", "taped"}, "../../testdata/shelf-inch/shelf.job.yaml": {"side2"}} {
		j, fs := jobs.ReadJob(jobs.OS(), path)
		if len(fs) > 0 || len(j.Notes) > 0 {
			t.Fatal(fs, j.Notes)
		}
		for _, s := range setups {
			for _, seed := range []uint64{1, 2} {
				if r := auto(t, plan(t, j, s), Options{Seed: seed}); r.State != "released" {
					t.Errorf("%s %s, seed %d: held at %v: %s", path, s, seed, *r.HeldAt, r.Walk.Words)
				}
			}
		}
	}
}

// A thin floor over a wide hollow is a drum, and the walk says so; over a grid it is none.
func TestSagOfAThinFloor(t *testing.T) {
	for _, c := range []struct {
		hollow [2]float64
		ok     bool
	}{{[2]float64{10, 10}, true}, {[2]float64{84, 52}, false}} {
		p := onFace(t, "vacuum", func(j *jobs.Job, s *jobs.Setup) {
			s.Hold.Hollow, s.Hold.Floor = c.hollow, 2
			j.Materials = map[string]jobs.Material{j.Part.Material: {E: [2]float64{2500, 2500}, Source: "demonstration"}}
		})
		r := auto(t, p, Options{Seed: 2})
		if ok := r.State == "released"; ok != c.ok || !ok && (*r.HeldAt != "hold" || !strings.Contains(r.Walk.Words, "plateau")) {
			t.Errorf("hollow %v: %s at %v: %s", c.hollow, r.State, r.HeldAt, r.Walk.Words)
		}
	}
}
