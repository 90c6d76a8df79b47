package side2_test

import (
	"slices"
	"testing"
	"time"

	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// builtinAt is the built-in job in a hold-down plan at a level.
func builtinAt(t *testing.T, holdDown string, l fold.Level) *fold.Plan {
	t.Helper()
	j, err := builtin.Job(holdDown)
	if err != nil {
		t.Fatal(err)
	}
	p := trial.Plan(t, j, j.Setups[0].Name, nil)
	return p.AtLevel(l)
}

// fieldsOf are the fields that a sound walk gave, by step.
func fieldsOf(t *testing.T, p *fold.Plan) map[fold.StepID][]string {
	t.Helper()
	k := bench.NewWalk(p, bench.NewWorld(p, 1, bench.Usual(p)), nil)
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatalf("%v, held at %v: %s", err, k.HeldAt, k.Words)
	}
	out := map[fold.StepID][]string{}
	for _, ss := range k.State().Steps {
		for _, r := range ss.Rounds {
			for _, x := range r.Taken {
				if !slices.Contains(out[ss.ID], x.Field) {
					out[ss.ID] = append(out[ss.ID], x.Field)
				}
			}
		}
	}
	return out
}

// What the fourth walk asks at the least level and no more; a record of the third is asked as it was.
func TestFourthWalkAsksNothingTwice(t *testing.T) {
	t.Parallel()
	four := fieldsOf(t, builtinAt(t, "T", fold.Proven))
	for step, want := range map[fold.StepID][]string{
		"lengths": {"tprobe"}, "square": {"s2"}, "bore": {"pause", "mark", "f0", "f180", "f90", "f270", "b2f0", "b2f90"},
		"seat": {"width-x", "width-y", "edge", "strips", "walls", "py1", "py2"}, "baseline": {"zero"}, "shift": {"px", "py1", "py2", "z1"}, "drill": {"pause", "near", "holes"}, "deck": {"things"},
		"skim": {"pause", "near", "raised", "lines", "pass", "kept", "face", "rim"},
	} {
		got := slices.DeleteFunc(slices.Clone(four[step]), func(f string) bool { return f == "drill.read" || f == "top.read" })
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", step, got, want)
		}
	}
	begin := fold.Proven.At(fold.Begin(builtinAt(t, "T", fold.Proven).Setup.Name, map[string]string{}, ""))
	begin.Cards["walk"] = "3"
	l := steps.NewLog()
	l.Apply(begin)
	st := l.State(builtinAt(t, "T", fold.Proven))
	for step, want := range map[fold.StepID][]string{
		"lengths": {"t3", "t5", "tprobe"}, "square": {"jog0", "jog1", "low", "high"},
		"bore": {"pause", "mark", "f0", "f180", "f90", "f270", "b2f0", "b2f180", "b2f90", "b2f270"},
		"skim": {"pause", "gap", "near", "raised", "lines", "soft", "pass", "finished", "kept", "face", "rim"},
		"deck": {"things", "rotation"},
	} {
		var got []string
		sp, _ := st.Plan().Spec(step)
		for _, a := range sp.Wanted(fold.Trial(st.Plan(), step, time.Time{}, nil)) {
			got = append(got, a.Field)
		}
		if !slices.Equal(got, want) {
			t.Errorf("third walk, %s: %v, want %v", step, got, want)
		}
	}
}
