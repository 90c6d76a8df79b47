package rescue_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

func init() { fold.Strict = true }

// planOf is the built-in job's second side in one plan.
func planOf(t testing.TB, hd string, edit func(*jobs.Job)) *fold.Plan {
	t.Helper()
	texts, err := builtin.Texts(hd)
	if err != nil {
		t.Fatal(err)
	}
	j, err := builtin.Job(hd)
	if err != nil {
		t.Fatal(err)
	}
	if edit != nil {
		edit(j)
	}
	programs := map[string]fold.ProgramFile{}
	at := slices.IndexFunc(j.Setups, func(s jobs.Setup) bool { return s.Second() })
	for _, g := range j.Setups[at].Programs {
		programs[g.Role] = fold.ProgramFile{Name: g.File, Hash: "1234567890abcdef", Data: []byte(texts[g.File])}
	}
	p, err := steps.NewPlan(j, j.Setups[at].Name, programs)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// said is what the release says of the worst feature.
func said(st *fold.State) (value, guard float64) {
	ss, _ := st.Step("release")
	for _, c := range ss.Outcome.Checks {
		if c.Limit.ID == "rescue.register" {
			return c.Got, c.Guard
		}
	}
	return math.NaN(), math.NaN()
}

// Of rescued parts the true mismatch lies within what is said, of 20 in at least 18 where 19 are meant.
func TestCoverage(t *testing.T) {
	seeds := 28
	if testing.Short() {
		seeds = 6
	}
	for _, hd := range []string{"T", "S"} {
		within, released := 0, 0
		p := planOf(t, hd, nil).AtLevel(fold.Irreplaceable)
		for seed := range uint64(seeds) {
			r, err := bench.Auto(p, bench.Options{Seed: seed + 1, LetsGo: true})
			if err != nil {
				t.Fatal(err)
			}
			if r.State != "released" {
				t.Logf("%s, seed %d: held at %s: %s", hd, seed+1, *r.HeldAt, r.Walk.Words)
				continue
			}
			released++
			value, guard := said(r.Walk.State())
			worst := 0.0
			for _, e := range r.TrueError {
				worst = max(worst, math.Abs(e.X), math.Abs(e.Y))
			}
			if worst <= value+guard {
				within++
			}
		}
		t.Logf("plan %s: %d walks, %d released, of these %d within what is said", hd, seeds, released, within)
		if released < seeds*3/5 || within < released*9/10 {
			t.Errorf("plan %s: %d released of %d, %d within", hd, released, seeds, within)
		}
	}
}

// Each mistake after a part let go is named, or the part is not released.
func TestCatch(t *testing.T) {
	for _, m := range bench.MistakesIn(goneOn(t, "S").Plan()) {
		if !slices.ContainsFunc(ownMistakes, func(n string) bool { return n == m.Name }) {
			continue
		}
		named, held, n := 0, 0, 3
		for seed := range uint64(n) {
			r, err := bench.Auto(planOf(t, "S", nil).AtLevel(fold.Irreplaceable), bench.Options{Seed: seed + 1, LetsGo: true, Mistake: m.Name})
			if err != nil {
				t.Fatal(err)
			}
			if slices.ContainsFunc(r.Named, m.NamedBy) {
				named++
			}
			if r.State != "released" {
				held++
			}
		}
		t.Logf("%-14s %g %-6s named %d of %d, held %d", m.Name, m.Size, m.Unit, named, n, held)
		if named < n {
			t.Errorf("%s was named %d times of %d", m.Name, named, n)
		}
	}
}

var ownMistakes = []string{"shift-live", "gouged", "not-held", "fixture-moved", "wrong-line", "scrapped", "cut-too-late", "line-of-another-pass"}

// goneOn is a walk whose part has let go.
func goneOn(t testing.TB, hd string) *bench.Walk {
	t.Helper()
	p := planOf(t, hd, nil).AtLevel(fold.Irreplaceable)
	k := bench.NewWalk(p, bench.NewWorld(p, 1, bench.Usual(p)), jobs.Flatten(p.Job))
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatal(err, k.Words)
	}
	if err := k.LetGo(); err != nil {
		t.Fatal(err)
	}
	return k
}

// A rescue stands in no file: its name says from which setup it goes on. The record alone brings it back at every place,
// what it went on from stays as it was left, and the part never counts for the fixture's card.
func TestTheRecordBringsItBack(t *testing.T) {
	k := goneOn(t, "T")
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	whole := k.State()
	if !whole.Released || whole.Setup != jobs.Derived("side2", "rescue", 1) {
		t.Fatalf("%s released %v: %s", whole.Setup, whole.Released, k.Words)
	}
	if got := fold.Fold(k.Plan(), k.Events); !got.Released || got.Setup != whole.Setup {
		t.Error("folded anew it is not released")
	}
	for n := range k.Events { // killed anywhere
		st := fold.Fold(k.Plan(), k.Events[:n+1])
		if len(st.Troubles) > 0 {
			t.Fatalf("after event %d: %v", n+1, st.Troubles[0])
		}
	}
	base, err := steps.NewPlan(k.Plan().Job, "side2", nil)
	if err != nil {
		t.Fatal(err)
	}
	if st := fold.Fold(base, k.Events); st.Released || st.TakenBack == nil {
		t.Error("the release of what it went on from stands")
	}
	if l := steps.Outlook(k.Plan().Job, k.Log()); !slices.ContainsFunc(l, func(x steps.SetupLook) bool { return x.Name == whole.Setup && x.State == "released" }) ||
		!slices.ContainsFunc(l, func(x steps.SetupLook) bool { return x.Name == "side2" && x.GoesOn == whole.Setup }) {
		t.Errorf("%+v", l)
	}
	for _, name := range []string{"side2-rescue-0", "side2-rescue-01", "side2-rescue", "side9-rescue-1", "side2-inspect-1", "side2-rescue-1-rescue-1"} {
		if _, err := steps.NewPlan(k.Plan().Job, name, nil); err == nil {
			t.Errorf("%s is a setup", name)
		}
	}
	if err := k.LetGo(); err != nil { // once more: it goes on from the rescue
		t.Fatal(err)
	}
	if _, err := k.Until(nil); err != nil || !k.State().Released || k.State().Setup != jobs.Derived("side2", "rescue", 2) {
		t.Errorf("%v, %s at %v: %s", err, k.State().Setup, k.HeldAt, k.Words)
	}
}

// What is declared later of the setup before changes nothing that it left.
func TestWhatWasLeftStands(t *testing.T) {
	k := goneOn(t, "T")
	if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "restart" }); err != nil {
		t.Fatal(err)
	}
	was, _ := k.State().Fact("offset")
	es := append(slices.Clone(k.Events), jobs.Event{Mishap: "side2/part-bumped"})
	st := fold.Fold(k.Plan(), es)
	if now, ok := st.Fact("offset"); !ok || !slices.Equal(now.Value, was.Value) {
		t.Errorf("%v, was %v", now, was)
	}
}

// A part that was rescued is inspected like any other, and never counts for its fixture's card: the card gets its row with the reason why
// it is left out, and no value of it is another, however far the part is off.
func TestARescuedPartCorrectsNoCard(t *testing.T) {
	k := goneOn(t, "inspect")
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatal(err, k.Words)
	}
	j := k.Plan().Job
	p, err := steps.NewPlan(j, j.Setups[0].Name, nil)
	if err != nil {
		t.Fatal(err)
	}
	sound := planOf(t, "inspect", nil).AtLevel(fold.Irreplaceable)
	whole := bench.NewWalk(sound, bench.NewWorld(sound, 1, bench.Usual(sound)), jobs.Flatten(sound.Job))
	if _, err := whole.Until(nil); err != nil || !whole.State().Released {
		t.Fatal(err, whole.Words)
	}
	for _, off := range []string{"", "side-off", "never rescued"} {
		earlier := k.Events
		if off == "never rescued" {
			earlier = whole.Events
		}
		w := bench.NewWorld(p, 3, bench.Usual(p))
		if off == "side-off" {
			if err := w.Make(off, 0.02); err != nil {
				t.Fatal(err)
			}
		}
		i := bench.NextWalk(p, w, jobs.Flatten(j), earlier)
		if _, err := i.Until(nil); err != nil || !i.State().Released {
			t.Fatal(err, i.Words)
		}
		st := i.State()
		r, ok, err := fold.Revision(*st, "back.1", func() (jobs.Fixture, error) { return j.Fixture, nil })
		if err != nil || !ok {
			t.Fatal(ok, err)
		}
		out := false
		for key := range r.Set {
			out = out || strings.HasSuffix(key, ".left-out")
			if off != "never rescued" && (strings.HasPrefix(key, "as-made.") || strings.Contains(key, ".took.")) {
				t.Errorf("%q: a rescued part writes %s", off, key)
			}
		}
		if out != (off != "never rescued") {
			t.Errorf("%q: the card says that it is left out: %t, %v", off, out, r.Set)
		}
	}
}
