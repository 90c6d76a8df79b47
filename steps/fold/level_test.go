package fold_test

import (
	"maps"
	"slices"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// levelled is a kind whose step asks one field always, one from first use on and one of an irreplaceable
// part, and which has a step that only an irreplaceable part walks.
func levelled() *fold.Kind {
	asks := counts("n", "m", "k", "old")
	reads := map[fold.StepID][]fold.Worth{"t.a": {{Field: "*", Catches: map[string]float64{"gross": 1}}, {Field: "m", From: fold.FirstUse, Catches: map[string]float64{"fine": 0.1, "gross": 0.5}},
		{Field: "k", From: fold.Irreplaceable, Catches: map[string]float64{"finest": 0.01}}, {Field: "o*", From: fold.Past}}}
	return &fold.Kind{Name: "levels", Goal: "a", Reads: reads, Line: []fold.Place{at("t.a", fold.Spec{Makes: []fold.FactID{"a"}, Asks: asks}),
		{ID: "t.b", From: fold.Irreplaceable, Build: at("t.b", fold.Spec{Makes: []fold.FactID{"b"}}).Build}}}
}

func fields(st *fold.State) (out []string, steps int) {
	for _, ss := range st.Steps {
		for _, a := range ss.Asks {
			if ss.ID == "t.a" {
				out = append(out, a.Field)
			}
		}
	}
	return out, len(st.Steps)
}

// A record is asked by the level that stands in its begin, and by no other; one without a level is asked all.
func TestLevelStandsInTheBegin(t *testing.T) {
	for level, want := range map[fold.Level][]string{fold.Full: {"n", "m", "k", "old"}, fold.Proven: {"n"}, fold.FirstUse: {"n", "m"}, fold.Irreplaceable: {"n", "m", "k"}} {
		p := small(t, levelled(), "3", "s").p
		l := p.House().Log()
		l.Apply(level.At(jobs.Event{Begin: "s", Cards: map[string]string{"walk": "3"}}))
		for _, q := range []*fold.Plan{p, p.AtLevel(fold.Proven), p.AtLevel(fold.Irreplaceable)} { // whatever is chosen today
			st := l.State(q)
			got, steps := fields(&st)
			if !slices.Equal(got, want) || st.Level != level || (steps == 2) != (level == fold.Full || level == fold.Irreplaceable) {
				t.Errorf("%v: asks %v in %d steps at level %v, want %v", level, got, steps, st.Level, want)
			}
		}
	}
}

// What was given at a field that the level does not ask is judged all the same.
func TestGivenBeyondTheLevel(t *testing.T) {
	y := small(t, levelled(), "3", "s")
	l := y.p.House().Log()
	for _, e := range []jobs.Event{fold.Proven.At(jobs.Event{Begin: "s", Cards: map[string]string{"walk": "3"}}), {Round: "s/t.a/1"}, {Answer: "s/t.a/1/m", Value: "1"}} {
		l.Apply(e)
	}
	st := l.State(y.p)
	if got, _ := fields(&st); !slices.Equal(got, []string{"n", "m"}) {
		t.Errorf("asks %v", got)
	}
}

// Reading less than the table chose stands among the waivers, with its reason.
func TestLowerLevelIsAWaiver(t *testing.T) {
	for _, c := range []struct {
		level, chosen fold.Level
		want          int
	}{{fold.Proven, fold.Irreplaceable, 1}, {fold.FirstUse, fold.Irreplaceable, 1}, {fold.Irreplaceable, fold.FirstUse, 0}, {fold.FirstUse, fold.FirstUse, 0}} {
		y := small(t, levelled(), "3", "s")
		l := y.p.House().Log()
		l.Apply(c.level.Below(c.chosen, "a second blank lies ready", jobs.Event{Begin: "s", Cards: map[string]string{"walk": "3"}}))
		st := l.State(y.p)
		if len(st.Waivers) != c.want {
			t.Errorf("%v in place of %v: %+v", c.level, c.chosen, st.Waivers)
		}
		if c.want == 1 && (st.Waivers[0].Number != c.level.String() || st.Waivers[0].Limit != "level" || st.Waivers[0].Step != "t.a") {
			t.Errorf("%+v", st.Waivers[0])
		}
	}
}

func TestLevelOf(t *testing.T) {
	for _, l := range fold.Levels {
		if got, ok := fold.LevelOf(" " + l.String() + " "); !ok || got != l {
			t.Errorf("%v reads as %v", l, got)
		}
	}
	if _, ok := fold.LevelOf("full"); ok {
		t.Error("a walk can be begun at full")
	}
}

func TestMisses(t *testing.T) {
	for l, want := range map[fold.Level][]string{fold.Proven: {"fine", "finest"}, fold.FirstUse: {"finest"}, fold.Irreplaceable: nil, fold.Full: nil} {
		if got := levelled().Misses(l); !slices.Equal(got, want) {
			t.Errorf("%v misses %v, want %v", l, got, want)
		}
	}
}

// A mistake is claimed from the smallest size at which one of the fields asked finds it, and none that no field asked finds.
func TestClaims(t *testing.T) {
	p := small(t, levelled(), "3", "s").p
	for l, want := range map[fold.Level]map[string]float64{fold.Proven: {"gross": 1}, fold.FirstUse: {"gross": 0.5, "fine": 0.1},
		fold.Irreplaceable: {"gross": 0.5, "fine": 0.1, "finest": 0.01}} {
		if got := p.AtLevel(l).Claims(); !maps.Equal(got, want) {
			t.Errorf("%v claims %v, want %v", l, got, want)
		}
	}
}
