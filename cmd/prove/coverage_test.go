package main

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// Every effect of the bench has an owner: a line that stands in the budget of a walk with that effect on, or words why none.
// No owner is left over, and no line is named that stands in no budget.
func TestEveryEffectHasAnOwner(t *testing.T) {
	o := slice(1)
	o.errs = erring
	stands := map[string]map[string]bool{} // effect, line
	missing := map[string]bool{}
	see := func(p *fold.Plan) {
		e, err := o.effects(p)
		if err != nil {
			t.Fatal(err)
		}
		e.Warmer = 2
		sound := e
		sound.WrongAnswer, sound.WrongDigit, sound.SkippedAct = 0, 0, 0 // else no walk comes to its end
		res, err := bench.Auto(p, bench.Options{Seed: 1, Effects: &sound})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range e.List() {
			if stands[f.Name] == nil {
				stands[f.Name] = map[string]bool{}
			}
			for _, i := range intervalsOf(res) {
				for _, l := range i.lines {
					stands[f.Name][l.Name] = stands[f.Name][l.Name] || f.Size != 0
				}
			}
		}
	}
	for _, s := range []setting{{"T", fold.Irreplaceable, ""}, {"T", fold.Full, ""}, {"S", fold.FirstUse, ""}, {"S", fold.FirstUse, "one bore"},
		{"S", fold.Full, "floating"}} {
		p, err := s.plan(0)
		if err != nil {
			t.Fatal(err)
		}
		see(p)
	}
	j, programs, err := builtinJob(builtin.Inch) // a shop without a probe
	if err != nil {
		t.Fatal(err)
	}
	p, err := steps.NewPlan(j, j.Setups[0].Name, programs)
	if err != nil {
		t.Fatal(err)
	}
	see(p)
	for _, w := range owners {
		if stands[w.effect] == nil {
			t.Errorf("%s is no effect of the bench", w.effect)
		}
		if (w.not == "") == (len(w.lines) == 0) {
			t.Errorf("%s: give it lines, or words why none carries it", w.effect)
		}
		carried := len(w.lines) == 0
		for _, l := range w.lines {
			carried = carried || stands[w.effect][l]
			missing[l] = missing[l] || !stands[w.effect][l]
		}
		if !carried {
			t.Errorf("%s: none of %q stands in the budget of a walk with it; what does: %q", w.effect, w.lines,
				slices.Sorted(maps.Keys(stands[w.effect])))
		}
	}
	for _, f := range bench.Effects.List(bench.Effects{}) {
		if _, err := ownerOf(f.Name); err != nil {
			t.Error(err)
		}
	}
	for l := range missing {
		if !slices.ContainsFunc(slices.Collect(maps.Keys(stands)), func(e string) bool { return stands[e][l] }) {
			t.Errorf("line %q is named as an owner and stands in no walk's budget", l)
		}
	}
}

// What the budget does not count stands in the README, in the words of the table.
func TestReadmeSaysWhatIsNotCounted(t *testing.T) {
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range owners {
		if row := fmt.Sprintf("| %s | %s |", w.effect, w.not); w.not != "" && !strings.Contains(string(b), row) {
			t.Errorf("the README has no row %q", row)
		}
	}
}

// A sound setup of every kind is released at every level.
func TestEveryKindIsReleasedAtEveryLevel(t *testing.T) {
	wholeSlice(t)
	o := slice(1)
	for _, s := range o.settings(sideTwos) {
		var why []string
		for seed := uint64(2); seed < 5; seed++ { // one in forty is not proven at the least level
			res, err := o.walk(s, seed, nil)
			if err != nil {
				t.Fatal(err)
			}
			if res.State == "released" {
				why = nil
				break
			}
			why = append(why, string(*res.HeldAt)+": "+res.Walk.Words)
		}
		if why != nil {
			t.Errorf("%s at level %v: three sound setups are held: %q", s.kind, s.level, why)
		}
	}
}

// 40 walks count as 80 free intervals: three standard deviations of their share of 0.95 are 7.3 %. With a bench whose part is
// picked up ten times as badly most must miss: the table can say no. Both come to the same whoever walks them.
func TestCoverageSlice(t *testing.T) {
	wholeSlice(t)
	o := slice(40)
	c := []covered{{setting{"S", fold.FirstUse, ""}, "all", nil},
		{setting{"S", fold.FirstUse, ""}, "all", func(e *bench.Effects) { e.Pickup *= 10 }}}
	got, err := o.covers(t.Context(), "", c)
	if err != nil {
		t.Fatal(err)
	}
	if held := 100 * got[0].tally.share(); held < 95-doubt(40) || got[0].released < 36 {
		t.Errorf("%.1f %% held, %d of 40 released", held, got[0].released)
	}
	if held := 100 * got[1].tally.share(); held > 80 {
		t.Errorf("a pickup of 0.05: %.1f %% held", held)
	}
	if _, bad := o.why(c[1], got[1]); !strings.Contains(bad, "mark 94") {
		t.Errorf("a pickup of 0.05 is no miss: %q", bad)
	}
	o.workers = 1
	if again, err := o.covers(t.Context(), "", c[:1]); err != nil || again[0].u != got[0].u || again[0].in != got[0].in {
		t.Errorf("one worker sums %v, two %v: %v", again[0].tally, got[0].tally, err)
	}
}
