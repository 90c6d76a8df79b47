package bench_test

import (
	"fmt"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// inspections are finished parts, after parts of each sort that a fixture's card may know.
func inspections(t testing.TB) []walked {
	t.Helper()
	with := func(edit func(j *jobs.Job, s *jobs.Setup)) *fold.Plan {
		return shipped(t, "inspect", func(j *jobs.Job, _ map[string]string) { edit(j, &j.Setups[0]) })
	}
	after := func(xs ...float64) func(*jobs.Job, *jobs.Setup) {
		return func(j *jobs.Job, _ *jobs.Setup) {
			for i, x := range xs {
				j.Fixture.Found = append(j.Fixture.Found, jobs.Found{Record: fmt.Sprint("lid.", i), At: fmt.Sprint("2026-02-0", i+1), X: x, Y: x, Turn: unit.Slope(x / 50), RH: 50})
			}
		}
	}
	mm := func(tag string, edit func(*jobs.Job, *jobs.Setup), m much) walked {
		return walked{setting{tag: "inspect" + tag}, with(edit), m}
	}
	nothing := func(*jobs.Job, *jobs.Setup) {}
	return []walked{
		mm("", nothing, clean|wrongly|mistaken|large|mishappens|inSlice),
		mm(" short", func(_ *jobs.Job, s *jobs.Setup) {
			s.Inspect = jobs.Inspect{Short: true, Floor: [2]float64{2, 0.05}, Inset: 8}
		}, clean|wrongly|mistaken),
		mm(" cavity last", func(j *jobs.Job, s *jobs.Setup) {
			s.Inspect.Cavity, s.Inspect.Mate, j.Part.Features = "side 2", nil, nil
		}, clean),
		mm(" no fit", func(_ *jobs.Job, s *jobs.Setup) { s.Inspect.Mate.Lip = [2]float64{2, 1} }, clean),
		mm(" off", after(0.012, 0.014, 0.012), clean|wrongly),
		mm(" far off", after(0.05, 0.051, 0.05), clean),
		mm(" hardly off", after(0.004, 0.003, 0.004, 0.003, 0.004, 0.003, 0.004), clean),
		mm(" creeping", after(-0.008, -0.007, -0.005, -0.003, 0, 0.003, 0.006, 0.008), clean),
		mm(" a stray", after(0, 0, 0, 0.03, 0, 0, 0, 0), clean),
		mm(" another season", func(j *jobs.Job, s *jobs.Setup) {
			after(0.012)(j, s)
			c := unit.Temperature(28)
			j.Fixture.Found[0].T, j.Fixture.Found[0].Took.X, j.Fixture.Found[0].RH = &c, 0.008, 20
		}, clean),
		{setting{"inspect inch", true}, with(func(j *jobs.Job, s *jobs.Setup) {
			after(0.012, 0.014)(j, s)
			j.Unit, s.Inspect.At = unit.Imperial, [2]float64{}
		}), clean | wrongly},
	}
}

// revised notes what an inspection writes on a card that is as it was, and on one that was changed since.
func (s *said) revised(in setting, st *fold.State) {
	was := st.Plan().Job.Fixture
	for _, now := range []jobs.Fixture{was, {Found: append([]jobs.Found{{Record: "lid.8"}}, was.Found...)}} {
		w, ok, err := fold.Revision(*st, "lid.9", func() (jobs.Fixture, error) { return now, nil })
		if !ok || err != nil {
			continue
		}
		for _, m := range []map[string]string{w.Kept, w.Set} {
			for key, text := range m {
				s.say(in, st.Plan().Setup.Kind, "card", "kept", key+": "+text)
			}
		}
	}
}

// spoiled walks the finished part of a record in which something happened while it was cut.
func (s *said) spoiled(t *testing.T, w walked) {
	t.Helper()
	cut := []jobs.Event{fold.Begin("side2", nil, "bench"), {Mishap: "side2/part-bumped"}}
	s.on(t, w.setting, bench.NextWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil, cut))
}

// standing are parts that are still screwed to their fixture after a second side of the same record, and what moved in the cut.
func (s *said) standing(t *testing.T) {
	t.Helper()
	for _, inch := range []bool{false, true} {
		p := shipped(t, "inspect", func(j *jobs.Job, _ map[string]string) {
			if inch {
				j.Unit = unit.Imperial
			}
		})
		cut, err := steps.NewPlan(p.Job, p.Job.Setups[1].Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range []string{"", "moved-in-cut", "pulled-in-cut"} {
			o := bench.Options{Seed: 7, Mistake: m, In: p.Setup.Name, Setup: func(k *bench.Walk) {
				if k.State().Setup == p.Setup.Name {
					s.on(t, setting{"inspect standing " + m, inch}, k)
				}
			}}
			if _, err := bench.Chain([]*fold.Plan{cut, p}, o); err != nil {
				t.Fatal(err)
			}
		}
	}
}
