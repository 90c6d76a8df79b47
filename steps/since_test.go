package steps_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/trial"
)

// earlier is the lid's plan, and a record of it by a version that did not ask for the runout
// of the tools, the spindle's mark, the part's warmth and more.
func earlier(t *testing.T) (*fold.Plan, []jobs.Event) {
	t.Helper()
	p := trial.Plan(t, trial.Job(t, "testdata/lid/lid.job.yaml"), "side2", nil)
	es, _, faults := jobs.ReadRecord(jobs.OS(), "testdata/earlier.record.yaml")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return p, es
}

// TestEarlierRecord: what was released stays so, with the offset that was keyed in; broken off
// anywhere it goes on with what was done next then, and nothing that was done is asked again.
func TestEarlierRecord(t *testing.T) {
	p, es := earlier(t)
	st := fold.Fold(p, es)
	if !st.Released || len(st.Strays) > 0 {
		t.Errorf("released %v, strays %v, left %v", st.Released, st.Strays, st.Left)
	}
	of, ok := st.Fact("offset")
	if want := []float64{-222.277, -145.224, -286.001}; !ok || !nearly(of.Value[:3], want) {
		t.Errorf("offset %v, want %v", of.Value, want)
	}
	if said := st.Earlier(); !strings.HasPrefix(said, "begun by an earlier version, which did not ask for: whether the fixture stands where it was made, the runout of the tools, ") || strings.Count(said, "runout") != 1 {
		t.Errorf("says %q", said)
	}
	log := steps.NewLog()
	for i, e := range es {
		if addr := e.Read + e.Answer; addr != "" {
			st := log.State(p)
			a := strings.SplitN(addr, "/", 4)
			if c := st.Cursor; string(c.Step) != a[1] || c.Field != a[3] && !slices.Contains(c.Form, a[3]) {
				t.Fatalf("event %d gives %s, asked for is %s/%s", i+1, addr, c.Step, c.Field)
			}
			if slices.Contains(st.Left, "part-out") {
				t.Fatalf("before event %d the part is sent out", i+1)
			}
		}
		log.Apply(e)
	}
}

// TestWalkOfABegin: the same record with the number of today's walk is asked all of it.
func TestWalkOfABegin(t *testing.T) {
	p, es := earlier(t)
	begin := fold.Begin("side2", nil, "")
	begin.At = es[0].At
	now := append([]jobs.Event{begin}, es[1:]...)
	place := jobs.Event{Answer: "side2/mount/1/place", Value: "elsewhere, or not known", At: es[0].At}
	now = append(append(append([]jobs.Event{}, now[:6]...), place), now[6:]...)
	st := fold.Fold(p, now[:7])
	if st.Cursor.Step != "lengths" || st.Cursor.Field != "runby" {
		t.Errorf("after the mount stands at %+v", st.Cursor)
	}
	if st := fold.Fold(p, now); st.Released || st.Earlier() != "" {
		t.Errorf("released %v, says %q", st.Released, st.Earlier())
	}
	// What an earlier record was given all the same counts, and is not said to be missing.
	var given []jobs.Event
	for _, e := range es {
		given = append(given, e)
		if e.Answer == "side2/bore/1/pause" {
			given = append(given, jobs.Event{Answer: "side2/bore/1/mark", Value: "away", At: e.At})
		}
	}
	st = fold.Fold(p, given)
	if ss, _ := st.Step("bore"); ss.Verdict.OK() || strings.Contains(st.Earlier(), "mark") || len(st.Strays) == 0 {
		t.Errorf("a mark that points away: %v, says %q, strays %v", ss.Verdict, st.Earlier(), st.Strays)
	}
}

func nearly(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return max(x-y, y-x) < 1e-9 })
}

// A record of a newer walk than this program knows is said.
func TestANewerWalkIsSaid(t *testing.T) {
	p := practicePlan(t, "T")
	for walk, said := range map[string]bool{"1": false, fmt.Sprint(fold.Walk): false, fmt.Sprint(fold.Walk + 1): true, "99": true} {
		e := fold.Begin(p.Setup.Name, nil, "")
		e.Cards["walk"] = walk
		st := fold.Fold(p, []jobs.Event{e})
		if got := st.Earlier(); strings.Contains(got, "a later version") != said || said && !strings.Contains(got, "walk "+walk) {
			t.Errorf("walk %s: %q", walk, got)
		}
	}
}

// The expansion of a material whose name tells none is looked up since the third walk: a record begun before keeps the number that
// it was judged by, none, and is not asked how warm the fixture is.
func TestAnEarlierRecordKeepsItsExpansion(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Part.Material, j.Fixture.Material = "bog oak", "phenolic-cotton-ce" })
	for walk, want := range map[string]bool{"1": false, "2": false, "3": true} {
		e := fold.Begin(p.Setup.Name, nil, "")
		e.Cards["walk"] = walk
		st := fold.Fold(p, []jobs.Event{e})
		q := st.Plan()
		if part, fixture := kit.Alpha(q, "bog oak"), kit.FixtureAlpha(q); (part > 20e-6) != want || (fixture > 15e-6) != want {
			t.Errorf("walk %s: expansion %.1f and %.1f", walk, part*1e6, fixture*1e6)
		}
		if a := kit.Alpha(q, "walnut"); a != 40e-6 {
			t.Errorf("walk %s: walnut expands by %g", walk, a)
		}
		if asked := slices.Contains(st.Cursor.Form, "warmth"); asked != want {
			t.Errorf("walk %s: warmth asked %v", walk, asked)
		}
	}
}
