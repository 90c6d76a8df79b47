package main

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/tui"
)

// several are setups before side 2 in the built-in job; in the file they stand in no order.
const several = `setups:
  side1: {kind: first-side, z0: top skin, offset: G55, finds: probe, hits: 6, stations: 7, zero: corner,
          vise: {jaw: away, jaw-top: -11.5, parallel: 20, grip: 5, stop: left, wall: 2, wall-span: 40},
          cut: {tool: 3, ae: 1, ap: 0.5, fz: 0.02, lowest: -9}}
  ring: {kind: ball, finds: probe}
  head: {kind: tram}
`

// severalShop is a shop whose job has four setups, and a second job on the same machine.
func severalShop(t *testing.T) (*env, *jobs.MemDisk) {
	t.Helper()
	e, disk, _ := shop(t)
	disk.Put("other.job.yaml", disk.Text(builtin.JobFile))
	disk.Put(builtin.JobFile, strings.Replace(disk.Text(builtin.JobFile), "setups:\n", several, 1))
	return e, disk
}

// keep saves events as the screen does.
func keep(t *testing.T, s *session, es ...jobs.Event) {
	t.Helper()
	if err := s.record.Append(es...); err != nil {
		t.Fatal(err)
	}
	s.events = append(s.events, es...)
	s.due.saved(es)
}

// walkNext opens the job, has the scripted person walk the setup that comes, and leaves it.
func walkNext(t *testing.T, e *env, seed uint64) string {
	t.Helper()
	return walkOn(t, e, "", seed)
}

// walkOn is walkNext of a setup by its name.
func walkOn(t *testing.T, e *env, setup string, seed uint64) string {
	t.Helper()
	s, err := began(e, openOptions{job: builtin.JobFile, setup: setup})
	if err != nil {
		t.Fatal(err)
	}
	defer s.record.Close()
	from := e.now()
	w := bench.NewWorld(s.plan, seed, bench.Usual(s.plan))
	var earlier []jobs.Event
	if r, err := e.readRecord(builtin.JobFile, "back.1.record.yaml"); err == nil {
		earlier = r.events
		if n := len(earlier); n > 0 && earlier[n-1].Begin == s.plan.Setup.Name {
			earlier = earlier[:n-1]
		}
	}
	if one, err := steps.NewPlan(s.plan.Job, "side1", nil); err == nil && s.plan.Setup.Name == "side2" {
		w.After(bench.NewWorld(one, seed, bench.Usual(one)))
	}
	k := bench.NextWalk(s.plan, w, nil, earlier)
	k.Now = func(n int) time.Time { return from.Add(time.Duration(n) * 20 * time.Second) }
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatalf("%s is not released: %v, held at %s, %s", s.plan.Setup.Name, err, k.State().Cursor.Step, k.Words)
	}
	for _, ev := range k.Events[1:] {
		keep(t, s, ev)
	}
	if s.due.owed != nil {
		t.Fatal(s.due.owed)
	}
	return s.plan.Setup.Name
}

// One record for a part: opening it again walks its setups in order, and what tram and
// ball came to lies on the machine card before side 1 begins.
func TestSetupsOfOneRecordInOrder(t *testing.T) {
	e, disk := severalShop(t)
	for i, want := range []string{"head", "ring", "side1", "side2"} {
		if got := walkNext(t, e, 5); got != want {
			t.Fatalf("setup %d is %s, want %s", i+1, got, want)
		}
	}
	r, err := e.readRecord(builtin.JobFile, "back.1.record.yaml")
	if err != nil || len(r.setups) != 4 {
		t.Fatalf("%d setups, %v", len(r.setups), err)
	}
	for _, f := range r.setups {
		if !f.state.Released {
			t.Errorf("%s is held at %s", f.state.Setup, f.state.Cursor.Step)
		}
	}
	for _, ev := range r.events {
		if ev.Plan != "" {
			t.Errorf("what the record wrote itself counts as a change of the job: %v", ev.Changed)
		}
	}
	m, faults := jobs.ReadMachine(disk, "bench.machine.yaml")
	ball, _ := r.setups[1].state.Fact("ball")
	if len(faults) > 0 || m.Probe.Date != "2026-03-01" || m.Tram.Date != "2026-03-01" || math.Abs(m.Probe.RadiusX-ball.Value[0]) > 1e-4 {
		t.Errorf("card %+v %+v, ball %v, faults %v", m.Probe, m.Tram, ball.Value, faults)
	}
	if begins := r.setups[2].state.Plan().Job.Machine.Probe; math.Abs(begins.RadiusX-ball.Value[0]) > 1e-4 {
		t.Errorf("side 1 begins with the radius %v, the ball was found to be %v", begins.RadiusX, ball.Value[0])
	}
	f, _ := jobs.ReadFixture(disk, "pl-2.fixture.yaml")
	if f.Uses != 1 || f.Threads.Cycles != 5 {
		t.Errorf("uses %d, cycles %d", f.Uses, f.Threads.Cycles)
	}
	// Opened once more, nothing is written a second time and nothing is new.
	before := disk.Text("bench.machine.yaml") + disk.Text("pl-2.fixture.yaml") + disk.Text("back.1.record.yaml")
	s, err := began(e, openOptions{job: builtin.JobFile})
	if err != nil || len(s.notes) > 0 || s.plan.Setup.Name != "side2" {
		t.Fatalf("opened again: %v, notes %q", err, s.notes)
	}
	s.record.Close()
	if before != disk.Text("bench.machine.yaml")+disk.Text("pl-2.fixture.yaml")+disk.Text("back.1.record.yaml") {
		t.Error("something was written")
	}
}

// A ball whose stylus was changed is void for every job of the machine.
func TestChangedProbeIsVoidForOtherJobs(t *testing.T) {
	e, disk := severalShop(t)
	walkNext(t, e, 5)
	walkNext(t, e, 5)
	m, _ := jobs.ReadMachine(disk, "bench.machine.yaml")
	found := m.Probe.RadiusX
	ball := func() (fold.Known, bool, []string) {
		s, err := began(e, openOptions{job: "other.job.yaml"})
		if err != nil {
			t.Fatal(err)
		}
		defer s.record.Close()
		st := s.log.State(s.plan)
		f, ok := st.Fact("ball")
		return f, ok, s.notes
	}
	if f, ok, _ := ball(); !ok || math.Abs(f.Value[0]-found) > 1e-9 {
		t.Fatalf("the other job has ball %v, the card says %v", f.Value, found)
	}
	s, err := began(e, openOptions{job: builtin.JobFile, setup: "side2"})
	if err != nil {
		t.Fatal(err)
	}
	keep(t, s, jobs.Event{Mishap: "side2/probe-changed", At: e.now()})
	s.record.Close()
	m, faults := jobs.ReadMachine(disk, "bench.machine.yaml")
	if len(faults) > 0 || !strings.Contains(m.Probe.Void, "stylus changed, 2026-03-01") {
		t.Fatalf("card: void %q, faults %v", m.Probe.Void, faults)
	}
	if f, ok, notes := ball(); ok || !strings.Contains(strings.Join(notes, " "), "machine.probe.void") {
		t.Errorf("the other job still has ball %v, notes %q", f, notes)
	}
}

// A card that cannot be written holds up nothing that is begun, and no other setup begins
// with its old values. It is written with the next event, or when the record is opened again.
func TestCardIsOwed(t *testing.T) {
	for _, op := range []string{"lock", "create", "write", "sync", "rename"} {
		e, disk := severalShop(t)
		if walkNext(t, e, 5) != "head" {
			t.Fatal("another order")
		}
		s, err := began(e, openOptions{job: builtin.JobFile, setup: "side2"})
		if err != nil {
			t.Fatal(err)
		}
		full := func(o, path string) error {
			if o == op && strings.Contains(path, "machine") {
				return errors.New("no space left")
			}
			return nil
		}
		disk.Fail = full
		keep(t, s, jobs.Event{Mishap: "side2/spindle-crash", At: e.now()})
		if s.due.owed == nil {
			t.Fatalf("%s fails and nothing is owed", op)
		}
		said := s.options(e, tui.Look{}).Standing()
		if len(said) != 1 || !strings.Contains(said[0], "bench.machine.yaml") || !strings.Contains(said[0], "no space left") || !strings.Contains(said[0], "tried again") {
			t.Errorf("%s: the screen says %q", op, said)
		}
		disk.Fail = nil
		if keep(t, s, jobs.Event{Note: "room was made", At: e.now()}); len(s.due.standing()) > 0 {
			t.Errorf("%s: mended, and the screen says %q", op, s.due.standing())
		}
		disk.Fail = full
		keep(t, s, jobs.Event{Mishap: "side2/spindle-crash", At: e.now()})
		s.record.Close()
		if s, err = began(e, openOptions{job: builtin.JobFile, setup: "side2"}); err != nil || len(s.due.standing()) == 0 || !strings.Contains(s.due.standing()[0], "NOT ON THE CARD YET") {
			t.Fatalf("%s: opened again: %v, the screen says %q", op, err, s.due.standing())
		}
		s.record.Close()
		if _, err = began(e, openOptions{job: builtin.JobFile, setup: "ring"}); exitOf(err) != exitDisk {
			t.Fatalf("%s: ring begins with the old card: %v", op, err)
		}
		disk.Fail = nil
		if s, err = began(e, openOptions{job: builtin.JobFile, setup: "side2"}); err != nil || len(s.due.standing()) > 0 {
			t.Fatalf("%s: opened once more: %v", op, err)
		}
		s.record.Close()
		m, _ := jobs.ReadMachine(disk, "bench.machine.yaml")
		if !strings.Contains(m.Probe.Void, "crash") || !strings.Contains(m.Tram.Void, "crash") || strings.Count(disk.Text("bench.machine.yaml"), "tram.date:") != 1 {
			t.Errorf("%s: void %q, %q", op, m.Probe.Void, m.Tram.Void)
		}
	}
}

// What was owed since before another record calibrated does not undo that.
func TestOwedIsOvertaken(t *testing.T) {
	m := jobs.Machine{Probe: &jobs.Probe{Date: "2026-03-02"}, Tram: &jobs.Tram{Date: "in spring"}}
	got := current(m, map[string]string{"probe.void": "spindle crash, 2026-03-01", "tram.void": "spindle crash, 2026-03-01"})
	if len(got) != 1 || got["tram.void"] == "" {
		t.Errorf("still written: %v", got)
	}
	if got = current(m, map[string]string{"probe.void": "spindle crash, 2026-03-02"}); len(got) != 1 {
		t.Errorf("of the same day: %v", got)
	}
	if got = current(m, map[string]string{"probe.date": "2026-03-01", "probe.radius": "1mm", "probe.void": "no"}); len(got) != 0 {
		t.Errorf("an older calibration: %v", got)
	}
}

func TestRecordOnACard(t *testing.T) {
	for _, c := range [][3]string{{"bench.machine.yaml", "back.1.record.yaml", "back.1"}, {"shop/bench.machine.yaml", "shop/jobs/lid.12.record.yaml", "jobs/lid.12"}, {"cards/m.yaml", "lid/lid.1.record.yaml", "../lid/lid.1"}} {
		if got := recordOn(c[0], c[1]); got != c[2] {
			t.Errorf("%s on %s is %s, want %s", c[1], c[0], got, c[2])
		}
	}
}
