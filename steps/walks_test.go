package steps_test

import (
	"errors"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// practicePlan is the built-in job in one of its hold-down plans.
func practicePlan(t testing.TB, holdDown string) *fold.Plan {
	t.Helper()
	j, err := builtin.Job(holdDown)
	if err != nil {
		t.Fatal(err)
	}
	p := trial.Plan(t, j, j.Setups[0].Name, nil)
	return p
}

func released(st *fold.State) bool { return st.Released }

// For every step and every mishap: walk up to there, declare it, see that no void
// fact reaches the offset, and follow the offered way back to the release. The suite keeps each sixth
// of them, every mishap and every step in each plan; WHOLE=1 goes through all.
func TestEveryMishapAtEveryStepHasAWayBack(t *testing.T) {
	each := 6
	if os.Getenv("WHOLE") != "" {
		each = 1
	}
	for plan, hd := range []string{"T", "M", "S", "dowel-flip", "vacuum", "stops", "soft-jaws"} {
		p := practicePlan(t, hd)
		t.Run(hd, func(t *testing.T) {
			t.Parallel()
			for at, sp := range append(append([]*fold.Spec{}, p.Line...), nil) {
				for i, m := range facts.Offered() {
					if (plan+at+i)%each != 0 {
						continue
					}
					name := "after the release"
					stop := released
					if sp != nil {
						name = string(sp.ID)
						if name == "stops" {
							continue // asked again and again after the release
						}
						stop = func(st *fold.State) bool { return st.Cursor.Step == sp.ID }
					}
					if err := wayBack(p, name, stop, m); err != nil {
						t.Errorf("plan %s, %s at %s: %v", hd, m.ID, name, err)
					}
				}
			}
		})
	}
}

func wayBack(p *fold.Plan, name string, stop func(*fold.State) bool, m fold.Mishap) error {
	w := bench.NewWorld(p, 7, bench.Effects{})
	k := bench.NewWalk(p, w, nil)
	if ok, err := k.Until(stop); err != nil || !ok {
		return fmt.Errorf("did not get there: %v (held %v)", err, k.State().Cursor)
	}
	tool := ""
	if m.PerTool && m.ID != "probe-refitted" && m.ID != "probe-changed" {
		tool = "5"
	}
	before := k.State()
	if err := k.Declare(m.ID, tool); err != nil {
		return err
	}
	var wrong error
	look := func(st *fold.State) bool {
		if wrong == nil {
			wrong = errors.Join(standsOnVoid(p, st), asksTooEarly(p, st))
		}
		return wrong != nil || released(st)
	}
	look(k.State())
	if st := k.State(); before.Released && st.Released != (len(fallen(before, st)) == 0) {
		return fmt.Errorf("released %v although these fell: %v", st.Released, fallen(before, st))
	}
	for i := 0; i < 3; i++ {
		ok, err := k.Until(look)
		if err != nil {
			return err
		}
		if ok {
			return errors.Join(wrong, bareWhereNeeded(k.Events))
		}
		st := k.State()
		if ss, found := st.Step(st.Cursor.Step); found {
			return fmt.Errorf("held at %s: %v %v", st.Cursor.Step, ss.Verdict, checksOf(ss))
		}
	}
	return fmt.Errorf("held at %v", k.State().Cursor)
}

// bareWhereNeeded finds a touch of the bare floor, and a round in which the fixture is tapped or
// its bolts are turned, with the part in its pocket: it was seated, and no act took it out since.
// Nor is a part seated again that is still strapped or screwed down.
func bareWhereNeeded(es []jobs.Event) error {
	in, held := false, false
	for i, e := range es {
		addr := strings.Split(e.Read+e.Answer, "/")
		if len(addr) != 4 {
			continue
		}
		switch step, field := addr[1], addr[3]; {
		case step == "seat" && held:
			return fmt.Errorf("event %d: %s with the part strapped or screwed down", i+1, e.Read+e.Answer)
		case step == "seat":
			in = true
		case step == "straps" || step == "screws":
			held = true
		case step == "part-out" && field == "pocket" && e.Value == "bare":
			in, held = false, false
		case in && (step == "floor" && strings.HasPrefix(field, "z") || step == "square" && (field == "bolts" || field == "low" || field == "high")):
			return fmt.Errorf("event %d: %s with the part in", i+1, e.Read+e.Answer)
		}
	}
	return nil
}

// standsOnVoid finds a fact that stands while what it rests on live does not.
func standsOnVoid(p *fold.Plan, st *fold.State) error {
	for _, f := range st.Facts {
		sp, ok := p.Spec(f.By)
		if f.Void != nil || !ok {
			continue
		}
		for _, g := range restsOn(sp, fold.AtOnce, fold.Always) {
			if _, stands := st.Fact(g); !stands {
				return fmt.Errorf("after event %d %s stands on %s, which does not", st.N, f.ID, g)
			}
		}
	}
	return nil
}

// asksTooEarly finds a step that is asked for while a fact it stands on does not stand, and
// a round that was begun so.
func asksTooEarly(p *fold.Plan, st *fold.State) error {
	for _, s := range st.Strays {
		if strings.Contains(s.What, "Nothing of this round counts") {
			return fmt.Errorf("a round was begun too early: %s", s.What)
		}
	}
	sp, ok := p.Spec(st.Cursor.Step)
	if !ok {
		return nil
	}
	for _, f := range sp.Stands() {
		if f == facts.AMounting {
			continue // nothing waits for it
		}
		if _, stands := st.Fact(f); !stands && !slices.Contains(sp.Makes, f) && !slices.Contains(sp.Lifts(), f) {
			return fmt.Errorf("after event %d %s is asked while %s does not stand; left are %v", st.N, sp.ID, f, st.Left)
		}
	}
	return nil
}

// fallen are the facts under the release that a mishap took.
func fallen(before, after *fold.State) (out []fold.FactID) {
	p := before.Plan()
	sp, _ := p.Spec("release")
	for _, g := range restsOn(sp, fold.AtOnce, fold.Always) {
		if _, ok := after.Fact(g); !ok {
			out = append(out, g)
		}
	}
	return out
}

func checksOf(ss *fold.StepState) (out []string) {
	for _, c := range ss.Outcome.Checks {
		if !c.Verdict.OK() {
			out = append(out, fmt.Sprintf("%s %.4f ± %.4f of %.4f %v %s", c.Limit.ID, c.Got, c.Guard, c.Limit.Max, c.Verdict, c.Words))
		}
	}
	return out
}

// Any split of a real walk's events gives the same State.
func TestSplitsOfAWalk(t *testing.T) {
	p := practicePlan(t, "T")
	k := bench.NewWalk(p, bench.NewWorld(p, 3, bench.Usual(p)), nil)
	for _, id := range []fold.MishapID{"", "part-bumped", "rehomed"} {
		if id != "" {
			if err := k.Declare(id, ""); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "shift" || st.Released }); err != nil {
			t.Fatal(err)
		}
	}
	es := k.Events
	want := fold.Fold(p, es)
	if len(want.Strays) > 0 {
		t.Errorf("a walk holds what nobody asked: %v", want.Strays)
	}
	for k := 1; k < 40; k += 6 {
		l := steps.NewLog()
		for i, e := range es {
			if i%k == 0 {
				l.State(p)
			}
			l.Apply(e)
		}
		if got := l.State(p); !reflect.DeepEqual(got, want) {
			t.Fatalf("looking at the state every %d events changes it", k)
		}
	}
}
