package steps_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
	"fliptrue/steps/trial"
)

// wholeJob is the example job with tram, ball and side 1 before its side 2.
func wholeJob(t testing.TB) *jobs.Job {
	t.Helper()
	j := trial.Lid(t)
	j.Setups = append([]jobs.Setup{*visePlan(t).Setup, {Name: "ring", Kind: "ball", Finds: "probe"}, {Name: "head", Kind: "tram"}}, j.Setups...)
	return j
}

// inOneRecord walks setups of a job one after the other until stop, released where it is nil,
// and lets the caller add events after each.
type inOneRecord struct {
	t  *testing.T
	j  *jobs.Job
	es []jobs.Event

	worlds []*bench.World
}

func (r *inOneRecord) plan(name string) *fold.Plan {
	r.t.Helper()
	p, err := steps.NewPlan(r.j, name, nil)
	if err != nil {
		r.t.Fatal(err)
	}
	return p
}

func (r *inOneRecord) put(es ...jobs.Event) {
	for _, e := range es {
		e.At = time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC).Add(time.Duration(len(r.es)) * 20 * time.Second)
		r.es = append(r.es, e)
	}
}

func (r *inOneRecord) walk(name string, stop func(*fold.State) bool) {
	r.t.Helper()
	p := r.plan(name)
	w := bench.NewWorld(p, 5, bench.Effects{})
	for _, before := range r.worlds {
		w.After(before)
	}
	r.worlds = append(r.worlds, w)
	k := bench.NextWalk(p, w, nil, r.es)
	if ok, err := k.Until(stop); err != nil || !ok && !k.State().Released {
		r.t.Fatalf("%s is held at %v: %s, %v", name, k.State().Cursor, k.Words, err)
	}
	r.put(k.Events...)
}

func (r *inOneRecord) state(name string) *fold.State {
	st := fold.Fold(r.plan(name), r.es)
	return &st
}

// A changed list has its old entries no more; another ball voids what was read with the one before.
func TestReplannedCards(t *testing.T) {
	j := trial.Lid(t)
	p := trial.Plan(t, j, "side2", nil)
	flat := jobs.Flatten(j)
	for _, c := range []struct {
		name   string
		edit   func(map[string]string)
		void   bool
		points int
	}{
		{"where it was calibrated", func(m map[string]string) { m["machine.probe.source"] = "another ring" }, false, 0},
		{"another radius", func(m map[string]string) { m["machine.probe.radius"] = "0.987" }, true, 0},
		{"a radius that no check tells", func(m map[string]string) { m["machine.probe.radius"] = "0.9911" }, false, 0},
		{"another place", func(m map[string]string) { m["machine.probe.eccentricity.0"] = "0.02" }, true, 0},
		{"another ball", func(m map[string]string) { m["machine.probe.ball"] = "2.001" }, true, 0},
		{"void", func(m map[string]string) { m["machine.probe.void"] = "it fell down" }, true, 0},
		{"a feature less", func(m map[string]string) {
			for k := range m {
				if strings.HasPrefix(k, "job.part.features.far corner") || k == "job.part.features.#" {
					delete(m, k)
				}
			}
		}, false, 1},
	} {
		k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Effects{}), maps.Clone(flat))
		if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "floor" }); err != nil || !ok {
			t.Fatal(ok, err)
		}
		now := maps.Clone(flat)
		c.edit(now)
		now["job.hash"] = "edited"
		e, changed := jobs.Replan(flat, now)
		if !changed {
			t.Fatalf("%s: no change", c.name)
		}
		if err := k.Add(e); err != nil {
			t.Fatal(err)
		}
		st := k.State()
		if n := len(j.Part.Features) - len(st.Plan().Job.Part.Features); n != c.points {
			t.Errorf("%s: the plan has %d features less, want %d", c.name, n, c.points)
		}
		if c.points > 0 {
			continue
		}
		if _, stands := st.Fact("bore"); stands == c.void {
			t.Errorf("%s: the bore stands: %v", c.name, stands)
		}
		if len(st.Strays) > 0 {
			t.Errorf("%s: strays %v", c.name, st.Strays)
		}
		for _, f := range st.Facts {
			if f.ID == "bore" && c.void != (f.Void != nil && strings.Contains(f.Void.Words, "machine.probe.")) {
				t.Errorf("%s: the bore is void by %+v", c.name, f.Void)
			}
		}
		if c.void {
			if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "floor" }); err != nil || !ok {
				t.Errorf("%s: the bore does not come back: %v, at %v %s", c.name, err, k.State().Cursor, k.Words)
			}
		}
	}
}

// Figures of the ball that no check would tell apart void nothing and are said; many of them
// in one direction are held against the ball that was read with.
func TestFiguresOfTheBallAddUp(t *testing.T) {
	j := trial.Lid(t)
	p := trial.Plan(t, j, "side2", nil)
	flat := jobs.Flatten(j)
	k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Effects{}), maps.Clone(flat))
	if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "floor" }); err != nil || !ok {
		t.Fatal(ok, err)
	}
	was := j.Machine.Probe.Radius
	for i, stands := range []bool{true, true, false, true} { // 0.0013, 0.0026, 0.0039 and back: the check tells 0.003
		now := maps.Clone(flat)
		now["machine.probe.radius"] = fmt.Sprintf("%.4f", was-0.0013*float64(min(i, 2)+1))
		if i == 3 {
			now["machine.probe.radius"] = fmt.Sprintf("%.4f", was)
		}
		e, changed := jobs.Replan(flat, now)
		if !changed {
			t.Fatal("no change")
		}
		if err := k.Add(e); err != nil {
			t.Fatal(err)
		}
		flat = now
		st := k.State()
		if _, ok := st.Fact("bore"); ok != stands {
			t.Errorf("radius %s: the bore stands: %v", now["machine.probe.radius"], ok)
		}
		ss, _ := st.Step("bore")
		if said := strings.Contains(strings.Join(ss.Outcome.Notes, " "), "reckoned anew"); said != stands && i < 2 {
			t.Errorf("radius %s: said %q", now["machine.probe.radius"], ss.Outcome.Notes)
		}
	}
}

// An edit voids what was measured against the old value while it differs from it, and restoring it
// brings the fact back; a plan event without values, and a record of an earlier walk, keep it void.
func TestARestoredValueBringsTheFactBack(t *testing.T) {
	j := trial.Lid(t)
	p := trial.Plan(t, j, "side2", nil)
	flat := jobs.Flatten(j)
	for _, c := range []struct {
		name, key, walk string
		untold, back    bool
	}{
		{"the ball", "machine.probe.ball", "", false, true}, {"of the job", "job.setups.side2.hits", "", false, true},
		{"untold", "machine.probe.ball", "", true, false}, {"an earlier walk", "machine.probe.ball", "2", false, false},
	} {
		k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Effects{}), maps.Clone(flat))
		if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "floor" }); err != nil || !ok {
			t.Fatal(ok, err)
		}
		es := slices.Clone(k.Events)
		if c.walk != "" {
			es[0].Cards = maps.Clone(es[0].Cards)
			es[0].Cards["walk"] = c.walk
			last := 0 // of the round at the edge: its bolts were counted then
			for i, e := range es {
				if strings.Contains(e.Answer+e.Read, "side2/square/") {
					last = i
				}
			}
			at := es[last].Read
			es = slices.Insert(es, last+1, jobs.Event{Answer: at[:strings.LastIndex(at, "/")] + "/bolts", Value: "4", At: es[last].At})
		}
		old := maps.Clone(flat)
		stands := func(want bool, when string) {
			t.Helper()
			st := fold.Fold(p, es)
			if _, ok := st.Fact("bore"); ok != want {
				t.Errorf("%s (%s), %s: the bore stands: %v", c.name, c.key, when, ok)
			}
			if want && st.Cursor.Step != "floor" {
				t.Errorf("%s, %s: the walk is at %s", c.name, when, st.Cursor.Step)
			}
		}
		stands(true, "as read")
		for i, v := range []string{"5", "8", flat[c.key]} {
			now := maps.Clone(old)
			now[c.key], now["job.hash"] = v, fmt.Sprint("edit ", i)
			e, changed := jobs.Replan(old, now)
			if !changed || e.Changed[0] != c.key {
				t.Fatal("no change", c.key, e)
			}
			if c.untold {
				e.Cards = nil
			}
			es, old = append(es, e), now
			if i == 2 {
				stands(c.back, "restored")
			} else {
				stands(false, "as "+v)
			}
		}
	}
}

// A job that the record copied and that can't be read is said, not replaced by the one on the disk.
func TestACopiedJobThatDoesNotRead(t *testing.T) {
	j := trial.Lid(t)
	p := trial.Plan(t, j, "side2", nil)
	bad := jobs.Flatten(j)
	bad["job.allowance"] = "wide"
	other := jobs.Flatten(j)
	for k, v := range jobs.Flatten(j) {
		if rest, ok := strings.CutPrefix(k, "job.setups.side2."); ok {
			delete(other, k)
			other["job.setups.side9."+rest] = v
		}
	}
	other["job.setups.#"] = strings.ReplaceAll(other["job.setups.#"], "side2", "side9")
	for name, c := range map[string]struct {
		cards map[string]string
		want  string
	}{"a bad value": {bad, "wide"}, "no such setup": {other, "side2"}} {
		st := fold.Fold(p, []jobs.Event{{Begin: "side2", Cards: c.cards}})
		if len(st.Troubles) != 1 || st.Troubles[0].Seq != 1 || !strings.Contains(st.Troubles[0].What, c.want) || st.Troubles[0].Hint == "" {
			t.Errorf("%s: troubles %+v", name, st.Troubles)
		}
	}
}

// What was taken over and can't be read is asked as usual, and said.
func TestTakenOverCardsThatDoNotRead(t *testing.T) {
	p := practicePlan(t, "T")
	k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Effects{}), nil)
	if _, err := k.Until(nil); err != nil {
		t.Fatal(err)
	}
	cards, err := k.State().Taken()
	if err != nil {
		t.Fatal(err)
	}
	cards["taken.bore"] = "{"
	cards["taken.luck"] = "{}"
	st := fold.Fold(p, []jobs.Event{{Begin: p.Setup.Name, Cards: cards}})
	if len(st.Strays) != 2 || !strings.Contains(st.Strays[0].What, "taken.bore does not read") || !strings.Contains(st.Strays[1].What, "taken.luck") || len(st.Troubles) > 0 {
		t.Errorf("strays %+v, troubles %v", st.Strays, st.Troubles)
	}
	if _, ok := st.Step("bore"); !ok || !slices.Contains(st.Left, "bore") {
		t.Errorf("the bore is not asked: %v", st.Left)
	}
}

// The probe was taken out on side 1: the ball that the calibration handed over is checked
// again at side 2, unless side 1 checked it after that.
func TestARefittedProbeOfAnotherSetup(t *testing.T) {
	for name, checked := range map[string]bool{"not checked since": false, "checked since": true} {
		r := &inOneRecord{t: t, j: wholeJob(t)}
		r.walk("ring", nil)
		p := r.plan("side1")
		k := bench.NewWalk(p, bench.NewWorld(p, 5, bench.Effects{}), nil)
		at := func(id fold.StepID) func(*fold.State) bool {
			return func(st *fold.State) bool { return st.Cursor.Step == id }
		}
		if ok, err := k.Until(at("corner")); err != nil || !ok {
			t.Fatal(ok, err)
		}
		if err := k.Declare("probe-refitted", ""); err != nil {
			t.Fatal(err)
		}
		if checked {
			if ok, err := k.Until(at("corner")); err != nil || !ok {
				t.Fatal(ok, err)
			}
			if ss, ok := k.State().Step("ball-check"); !ok || len(ss.Rounds) != 1 {
				t.Fatal("side 1 did not check the ball")
			}
		}
		r.put(k.Events...)
		r.put(fold.Begin("side2", nil, ""))
		r.j.Machine.Probe.Void = "of last year" // the card's would be newer than what the ring hands over
		st := r.state("side2")
		if _, stands := st.Fact("ball"); stands != checked {
			t.Errorf("%s: the ball stands: %v", name, stands)
		}
		if slices.Contains(st.Left, "ball-check") == checked {
			t.Errorf("%s: left is %v", name, st.Left)
		}
		if len(st.Troubles) > 0 {
			t.Error(st.Troubles)
		}
	}
}

// What side 1 left of the part is lost while a step of side 1 is done again: the seat of
// side 2 falls, though no new measurement is there yet.
func TestSeatFallsWithWhatItIsBoundTo(t *testing.T) {
	r := &inOneRecord{t: t, j: wholeJob(t)}
	r.walk("side1", nil)
	r.walk("side2", func(st *fold.State) bool { return st.Cursor.Step == "straps" })
	st := r.state("side2")
	if _, ok := st.Fact("seat"); !ok {
		t.Fatalf("no seat: %v", st.Cursor)
	}
	one := r.state("side1")
	ss, _ := one.Step("cut")
	r.put(jobs.Event{Round: "side1/cut/2"})
	if _, ok := r.state("side2").Fact("seat"); !ok {
		t.Error("the seat fell before anything was read")
	}
	r.put(jobs.Event{Answer: "side1/cut/2/" + ss.Round.Taken[0].Field, Value: ss.Round.Taken[0].Value})
	st = r.state("side2")
	if f, ok := st.Fact("seat"); ok {
		t.Errorf("the seat stands: %+v", f)
	}
	if !slices.Contains(st.Left, "seat") {
		t.Errorf("the seat is not asked again: %v", st.Left)
	}
}
