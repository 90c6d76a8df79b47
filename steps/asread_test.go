package steps_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
)

// vicePlan is a first side on the example job.
func vicePlan(t testing.TB) *steps.Plan {
	t.Helper()
	j, fs := jobs.ReadJob(jobs.OS(), "../jobs/testdata/lid.job.yaml")
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	s := jobs.Setup{Name: "side1", Kind: "first-side", Z0: "top skin", Offset: "G55", Finds: "probe", Hits: 6, Stations: 7, Zero: "corner",
		Vise: jobs.Vise{Jaw: "away", JawTop: -11.5, Parallel: 20, Grip: 5, Stop: "left", Wall: 2, WallSpan: 40},
		Cut:  jobs.Cut{Tool: 3, Ae: 1, Ap: 0.5, Fz: 0.02, Lowest: -9}}
	j.Setups = append([]jobs.Setup{s}, j.Setups...)
	p, err := steps.NewPlan(j, "side1", nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// orderPlans are the plans that are walked by rechecks.
func orderPlans(t testing.TB) map[string]*steps.Plan {
	return map[string]*steps.Plan{"T": practicePlan(t, "T"), "M": practicePlan(t, "M"), "S": practicePlan(t, "S"), "side 1": vicePlan(t)}
}

func all(p *steps.Plan) []*steps.Spec { return append(append([]*steps.Spec{}, p.Line...), p.Off...) }

// standsOn says that the step waits for the fact.
func standsOn(sp *steps.Spec, f steps.FactID) bool {
	return (slices.Contains(sp.Live, f) || slices.Contains(sp.AsRead, f)) && !slices.Contains(sp.Makes, f) && !slices.Contains(sp.Lifts, f)
}

// lost are the strays that say that a round was begun too early.
func lost(st *steps.State) (out []steps.Stray) {
	for _, s := range st.Strays {
		if strings.Contains(s.What, "nothing of this round counts") {
			out = append(out, s)
		}
	}
	return
}

// For every recheck and every step that stands on what it brings back: at that step, a
// mishap that asks for the recheck is declared. The recheck comes first, the walk never
// begins a round whose readings could not count, and it ends released.
func TestRechecksComeBeforeWhatStandsOnThem(t *testing.T) {
	for name, p := range orderPlans(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			n := 0
			for _, check := range p.Off {
				for _, f := range check.Lifts {
					for _, sp := range all(p) {
						if !standsOn(sp, f) {
							continue
						}
						for _, m := range steps.Offered() {
							if m.Recheck(f) != check.ID {
								continue
							}
							tried, err := comesBefore(p, check, f, sp, m)
							if err != nil {
								t.Errorf("%s brings %s back, on which %s stands; %s there: %v", check.ID, f, sp.ID, m.ID, err)
							}
							if tried {
								n++
							}
							if testing.Short() {
								break
							}
						}
					}
				}
			}
			if n < 10 {
				t.Errorf("only %d were tried", n)
			}
			t.Logf("%d tried", n)
		})
	}
}

// comesBefore walks to the step, declares the mishap there and walks on to the release.
func comesBefore(p *steps.Plan, check *steps.Spec, f steps.FactID, sp *steps.Spec, m steps.Mishap) (bool, error) {
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), nil)
	there := func(st *steps.State) bool { return st.Cursor.Step == sp.ID }
	if !slices.Contains(p.Line, sp) {
		if !askFor(p, k, sp) {
			return false, nil
		}
	}
	if ok, err := k.Until(there); err != nil || !ok {
		return false, err
	}
	if _, stands := k.State().Fact(f); !stands {
		return false, fmt.Errorf("it is asked while %s does not stand", f)
	}
	tool := f.Thing()
	if err := k.Declare(m.ID, tool); err != nil {
		return false, err
	}
	st := k.State()
	if st.Cursor.Step == sp.ID && slices.Contains(st.Left, check.ID) {
		return true, fmt.Errorf("it is asked before the recheck: %v", st.Left)
	}
	asked := map[steps.StepID]bool{} // since the mishap
	var wrong error
	k.Watch = func(st *steps.State) {
		if st.Cursor.Idle || wrong != nil {
			return
		}
		if _, stands := st.Fact(f); st.Cursor.Step == sp.ID && !stands {
			wrong = fmt.Errorf("after event %d %s is asked while %s does not stand; asked were %v", st.N, sp.ID, f, asked)
		}
		asked[st.Cursor.Step] = true
		if s := lost(st); len(s) > 0 && wrong == nil {
			wrong = fmt.Errorf("a round was begun too early: %v", s[0].What)
		}
	}
	for i := 0; i < 3; i++ {
		if ok, err := k.Until(released); err != nil {
			return true, err
		} else if ok {
			return true, wrong
		}
	}
	return true, fmt.Errorf("held at %v: %s", k.State().Cursor, k.Words)
}

// askFor walks to where an off-line step can be wanted, and declares a mishap that asks for it.
func askFor(p *steps.Plan, k *bench.Walk, sp *steps.Spec) bool {
	for _, m := range steps.Offered() {
		for _, f := range append(slices.Clone(sp.Lifts), sp.Makes...) {
			if m.Recheck(f) != sp.ID && !(m.ID == "offset-edited" && f == "echo") {
				continue
			}
			at := func(st *steps.State) bool { return st.Cursor.Step == p.Line[len(p.Line)-2].ID }
			if ok, err := k.Until(at); err != nil || !ok {
				return false
			}
			if k.Declare(m.ID, f.Thing()) != nil {
				return false
			}
			return slices.Contains(k.State().Left, sp.ID)
		}
	}
	return false
}
