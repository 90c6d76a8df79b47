package bench

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

// both is the example job with tram, ball and side 1 before its side 2.
func both(t testing.TB) *jobs.Job {
	t.Helper()
	j, fs := jobs.ReadJob(jobs.OS(), "../../jobs/testdata/lid.job.yaml")
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	j.Fixture.Material = "aluminium-6061-t6" // no damp moves it: one bore is read
	p := side1(t, nil)
	j.Setups = append([]jobs.Setup{*p.Setup, {Name: "ring", Kind: "ball", Finds: "probe"}, {Name: "head", Kind: "tram"}}, j.Setups...)
	return j
}

// record walks setups of a job one after the other into one record.
func record(t testing.TB, j *jobs.Job, seed uint64, names ...string) []jobs.Event {
	t.Helper()
	var es []jobs.Event
	var worlds []*World
	for _, name := range names {
		p, err := steps.NewPlan(j, name, nil)
		if err != nil {
			t.Fatal(err)
		}
		w := NewWorld(p, seed, Usual(p))
		for _, before := range worlds {
			w.After(before)
		}
		worlds = append(worlds, w)
		k := NextWalk(p, w, nil, es)
		k.Now = func(n int) time.Time {
			return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC).Add(time.Duration(len(es)+n) * 20 * time.Second)
		}
		k.Events[0].At = k.Now(0)
		if _, err := k.Until(nil); err != nil {
			t.Fatal(err)
		}
		if !k.State().Released {
			t.Fatalf("%s is held at %s: %s", name, k.State().Cursor.Step, k.Words)
		}
		es = append(es, k.Events...)
	}
	return es
}

func plan(t testing.TB, j *jobs.Job, name string) *fold.Plan {
	t.Helper()
	p, err := steps.NewPlan(j, name, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestSideTwoPicksUpWhatSideOneMade(t *testing.T) {
	j := both(t)
	es := record(t, j, 5, "head", "ring", "side1", "side2")
	p1, p2 := plan(t, j, "side1"), plan(t, j, "side2")
	st1, st2 := fold.Fold(p1, es), fold.Fold(p2, es)
	for _, id := range []fold.FactID{"part/thickness", "part/width-x", "part/width-y", "part/seat", "part/edges"} {
		a, ok1 := st1.Fact(id)
		b, ok2 := st2.Fact(id)
		if !ok1 || !ok2 || !reflect.DeepEqual(a, b) {
			t.Errorf("%s: side 1 left %+v, side 2 found %+v", id, a, b)
		}
		if id != "part/edges" && len(b.Cov) == 0 {
			t.Errorf("%s came without its covariance", id)
		}
	}
	if b, ok := st2.Fact("part/thickness"); ok && math.Abs(b.Value[0]-16.02) < 0.1 {
		t.Errorf("thickness %v is the job's, not side 1's", b.Value)
	}
	if !st2.Released {
		t.Fatalf("side 2 is not released: %v %v", st2.Cursor, st2.Troubles)
	}
	// Side 1 again, from its first new reading on.
	again := append([]jobs.Event{}, es...)
	add := func(e jobs.Event) {
		e.At = es[len(es)-1].At.Add(time.Minute)
		again = append(again, e)
	}
	add(jobs.Event{Round: "side1/open/2"})
	if st := fold.Fold(p2, again); !st.Released {
		t.Error("a round opened without a reading took the release back")
	}
	add(jobs.Event{Read: "side1/open/2/spring", Value: "0.001"})
	st := fold.Fold(p2, again)
	check := func(when string) {
		var seat *fold.Cause
		for _, f := range st.Facts {
			if f.ID == "seat" {
				seat = f.Void
			}
		}
		if st.Released || seat == nil || !strings.HasPrefix(string(seat.Fact), "part/") || seat.Seq != fold.Seq(len(es)+2) {
			t.Errorf("%s: released %v, seat void by %+v", when, st.Released, seat)
		}
	}
	check("side 1 half redone")
	add(jobs.Event{Answer: "side1/open/2/pause", Value: "0"})
	for i, v := range []string{"16.905", "16.905", "16.906", "16.905"} {
		add(jobs.Event{Read: fmt.Sprintf("side1/open/2/t%d", i+1), Value: v})
	}
	st = fold.Fold(p2, again)
	check("side 1 redone")
	if f, ok := st.Fact("part/thickness"); !ok || math.Abs(f.Value[0]-16.90525) > 1e-9 {
		t.Errorf("side 2 finds %v after it", f.Value)
	}
	if !slices.Contains(st.Left, "seat") || slices.Contains(st.Left, "bore") {
		t.Errorf("the way goes on by %v", st.Left)
	}
}

// Any way of applying the events gives the same state, with facts of other setups in it too.
func TestFoldOfSeveralSetupsIsPure(t *testing.T) {
	j := both(t)
	es := record(t, j, 7, "head", "ring", "side1", "side2")
	l := steps.NewLog()
	plans := map[string]*fold.Plan{}
	for _, s := range j.Setups {
		plans[s.Name] = plan(t, j, s.Name)
	}
	for i, e := range es {
		l.Apply(e)
		if i%37 == 0 {
			for _, s := range j.Setups {
				l.State(plans[s.Name])
			}
		}
	}
	for _, s := range j.Setups {
		a, b := l.State(plans[s.Name]), fold.Fold(plans[s.Name], es)
		if !reflect.DeepEqual(a.Facts, b.Facts) || !reflect.DeepEqual(a.Left, b.Left) || a.Released != b.Released || !reflect.DeepEqual(a.Cursor, b.Cursor) {
			t.Errorf("%s: applied in pieces it is another state", s.Name)
		}
	}
}

func TestOutlookOfSeveralSetups(t *testing.T) {
	j := both(t)
	look := func(es []jobs.Event) map[string]steps.SetupLook {
		l := steps.NewLog()
		for _, e := range es {
			l.Apply(e)
		}
		out := map[string]steps.SetupLook{}
		order := ""
		for _, s := range steps.Outlook(j, l) {
			out[s.Name] = s
			order += s.Name + " "
		}
		if order != "head ring side1 side2 " {
			t.Errorf("order is %s", order)
		}
		return out
	}
	fresh := look(nil)
	if s := fresh["side2"]; s.State != "not begun" || !strings.Contains(strings.Join(s.Open, "\n"), "which edges side 1 was picked up from: not yet, side1 brings it") {
		t.Errorf("side 2 before anything: %+v", s)
	}
	done := look(record(t, j, 5, "head", "ring", "side1"))
	if done["side1"].State != "released" || done["side1"].Left != 0 {
		t.Errorf("side 1: %+v", done["side1"])
	}
	for _, n := range done["side2"].Needs {
		if n.Fact == "part/thickness" && (!n.Here || n.From != "side1") {
			t.Errorf("thickness: %+v", n)
		}
	}
	if steps.Outlook(j, nil)[0].Name != "head" {
		t.Error("no record: another order")
	}
}

func TestCardChanges(t *testing.T) {
	const machine = `format: 1
machine: bench mill
readout: 0.001
backlash: 0.005
probe: {ball: 2, radius: 0.991, eccentricity: [0, 0], repeat: 0.001, dof: 30, source: ring gauge}
dial: {graduation: 0.002}
`
	j := both(t)
	for _, unitLine := range []string{"", "unit: in\n"} {
		d := jobs.Mem(nil)
		text := machine + unitLine
		if unitLine != "" {
			text = strings.NewReplacer("readout: 0.001", "readout: 0.00005", "backlash: 0.005", "backlash: 0.0002", "ball: 2, radius: 0.991", "ball: 2mm, radius: 0.991mm", "repeat: 0.001", "repeat: 0.001mm", "0.002}", "0.0001}").Replace(text)
		}
		if err := jobs.WriteFile(d, "bench.machine.yaml", []byte(text)); err != nil {
			t.Fatal(err)
		}
		var want fold.Known
		for _, name := range []string{"head", "ring"} {
			es := record(t, j, 3, name)
			st := fold.Fold(plan(t, j, name), es)
			ws := desk.CardChanges(st)
			if len(ws) != 1 {
				t.Fatalf("%s writes %v", name, ws)
			}
			for _, w := range ws {
				w.Key = "lid.1" + w.Key
				for range 2 { // the second time nothing happens
					if err := jobs.WriteCard(d, "bench.machine.yaml", w); err != nil {
						t.Fatalf("%s: %v", name, err)
					}
				}
			}
			if name == "ring" {
				want, _ = st.Fact("ball")
			}
			// What is lost is lost for all jobs.
			es = append(es, jobs.Event{Mishap: name + "/spindle-crash", At: es[len(es)-1].At.Add(time.Hour)})
			ws = desk.CardChanges(fold.Fold(plan(t, j, name), es))
			if len(ws) != 1 || !strings.Contains(fmt.Sprint(ws[0].Set), "spindle crash, 2026-03-01") {
				t.Errorf("%s after a crash writes %v", name, ws)
			}
		}
		m, fs := jobs.ReadMachine(d, "bench.machine.yaml")
		if len(fs) > 0 {
			t.Fatal(fs)
		}
		if m.Probe == nil || math.Abs(m.Probe.RadiusX-want.Value[0]) > 1e-4 || math.Abs(m.Probe.Eccentricity[1]-want.Value[3]) > 1e-4 || m.Probe.Date != "2026-03-01" || m.Probe.Dof != 34 {
			t.Errorf("probe on the card: %+v, found %v", m.Probe, want.Value)
		}
		if m.Tram == nil || m.Tram.Date != "2026-03-01" || m.Tram.ZX == nil || m.Probe.Void != "no" {
			t.Errorf("tram on the card: %+v", m.Tram)
		}
	}
}
