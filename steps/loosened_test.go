package steps_test

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// What a job may set of a limit: tighter as it likes, looser with a reason and so far, never what
// may never be waived, never past the register allowance.
func TestALimitOfTheJobIsBounded(t *testing.T) {
	p := lidPlan(t, func(*jobs.Job) {})
	allowance := float64(p.Job.Allowance)
	for _, c := range []struct {
		id            string
		asks          float64
		reason        string
		holds         float64
		ungranted     bool
		whatIsDerived float64
	}{
		{"release.register", 5, "never mind", allowance, true, allowance},
		{"release.register", 0.5 * allowance, "", 0.5 * allowance, false, allowance},
		{"shift.register", 1000, "never mind", allowance, true, 0.2 * allowance},
		{"shift.register", 0.5 * allowance, "a lid with play", 0.5 * allowance, false, 0.2 * allowance},
		{"shift.register", 0.5 * allowance, "", 0.2 * allowance, true, 0.2 * allowance},
		{"offset.register", 1000, "x", allowance, true, 0.5 * allowance},
		{"screws.shift", 1000, "x", allowance, true, 0.2 * allowance},
		{"check.seat", 1000, "x", allowance, true, 0.2 * allowance},
		{"floor.tilt", 1000, "x", allowance, true, 0.2 * allowance},
		{"seat.rock", 0.03, "sawn plywood", 0.03, false, 0.010},
		{"seat.rock", 0.03, "", 0.010, true, 0.010},
		{"seat.rock", 0.002, "", 0.002, false, 0.010},
		{"seat.rock", 40, "sawn plywood", 0.10, true, 0.010},
		{"jaws.room", 5, "", 5, false, 1}, // the least that passes: more is tighter
		{"jaws.room", 0.5, "I can see it", 1, true, 1},
		{"tip.gap", 30, "I can see it", 3, true, 3},
	} {
		q := lidPlan(t, func(j *jobs.Job) {
			j.Limits, j.Reasons = map[string]unit.Length{c.id: unit.Length(c.asks)}, map[string]string{}
			if c.reason != "" {
				j.Reasons[c.id] = c.reason
			}
		})
		if c.whatIsDerived != 0 && p.Limit(c.id).Max != c.whatIsDerived {
			t.Errorf("%s is derived as %g, not %g", c.id, p.Limit(c.id).Max, c.whatIsDerived)
		}
		if got := q.Limit(c.id).Max; !same(got, c.holds) {
			t.Errorf("%s asked %g for %q: %g holds, want %g", c.id, c.asks, c.reason, got, c.holds)
		}
		if why := q.Ungranted()[c.id]; (why != "") != c.ungranted {
			t.Errorf("%s asked %g for %q: said %q", c.id, c.asks, c.reason, why)
		}
	}
	for _, l := range p.House().Limits { // every limit has an end, whatever is asked
		if l.Max == nil {
			continue
		}
		asks := unit.Length(1e9)
		if l.Min {
			asks = 1e-9
		}
		q := lidPlan(t, func(j *jobs.Job) {
			j.Limits, j.Reasons = map[string]unit.Length{l.ID: asks}, map[string]string{l.ID: "x"}
		})
		if got := q.Limit(l.ID).Max; got == float64(asks) {
			t.Errorf("%s is loosened to %g", l.ID, got)
		}
	}
}

func same(a, b float64) bool { return a-b < 1e-12 && b-a < 1e-12 }

// A loosened limit stands among the waivers with its number and reason, from the step that it
// judges on; one that does not hold is said. A record of an earlier walk keeps its limits.
func TestALoosenedLimitStandsAsAWaiver(t *testing.T) {
	with := func(reason string) *fold.Plan {
		return lidPlan(t, func(j *jobs.Job) {
			j.Limits, j.Reasons = map[string]unit.Length{"seat.rock": 0.03}, map[string]string{}
			if reason != "" {
				j.Reasons["seat.rock"] = reason
			}
		})
	}
	for _, reason := range []string{"sawn plywood", ""} {
		p := with(reason)
		k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Effects{}), nil)
		if ok, err := k.Until(func(st *fold.State) bool { ss, on := st.Step("seat"); return on && ss.Verdict == fold.Pass }); err != nil || !ok {
			t.Fatal(ok, err, k.Words)
		}
		st := k.State()
		var said string
		for _, s := range st.Strays {
			said += s.What + "\n"
		}
		if reason == "" {
			if w := ofLimits(st); len(w) != 0 || !strings.Contains(said, "limits.seat.rock") || !strings.Contains(said, "0.010 mm holds") {
				t.Errorf("without a reason: waivers %v, said %q", w, said)
			}
		} else if w := ofLimits(st); len(w) != 1 || w[0].Limit != "seat.rock" || w[0].Step != "seat" || w[0].Number != "0.030 mm" || !strings.Contains(w[0].Reason, reason) || said != "" {
			t.Errorf("waivers %+v, said %q", w, said)
		}
	}
	p := with("")
	old := fold.Begin(p.Setup.Name, nil, "")
	old.Cards["walk"] = "2"
	st := fold.Fold(p, []jobs.Event{old})
	if got := st.Plan().Limit("seat.rock").Max; got != 0.03 || len(st.Strays) > 0 {
		t.Errorf("walk 2: %g holds, strays %v", got, st.Strays)
	}
	now := fold.Fold(p, []jobs.Event{fold.Begin(p.Setup.Name, nil, "")})
	if got := now.Plan().Limit("seat.rock").Max; got != 0.010 {
		t.Errorf("today: %g holds", got)
	}
}

// ofLimits are the waivers but for those of files that this bench has not got.
func ofLimits(st *fold.State) []fold.Standing {
	return slices.DeleteFunc(slices.Clone(st.Waivers), func(w fold.Standing) bool { return w.Step == "program" })
}
