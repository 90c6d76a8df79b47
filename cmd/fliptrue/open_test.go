package main

import (
	"bytes"
	"errors"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/tui"

	tea "github.com/charmbracelet/bubbletea"
)

// shop is an env on a disk in memory that holds the built-in job.
func shop(t *testing.T) (*env, *jobs.MemDisk, *bytes.Buffer) {
	t.Helper()
	texts, err := builtin.Texts("T")
	if err != nil {
		t.Fatal(err)
	}
	disk := jobs.Mem(texts)
	var out bytes.Buffer
	begun := time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)
	var seconds atomic.Int64 // what is opened beside its screen asks as well
	return &env{in: strings.NewReader(""), out: &out, err: &out, disk: disk, pid: 1, host: "shop",
		now:    func() time.Time { return begun.Add(time.Duration(seconds.Add(1)) * time.Second) },
		getenv: func(string) string { return "" }, ownInterrupts: func() {}, inTerminal: true, outTerminal: true}, disk, &out
}

func TestOpenBeginsOnce(t *testing.T) {
	e, disk, _ := shop(t)
	for i := range 2 {
		s, err := began(e, openOptions{job: builtin.JobFile})
		if err != nil {
			t.Fatal(err)
		}
		if len(s.notes) != 1-i { // how much it reads is said as it is begun
			t.Errorf("notes %q", s.notes)
		}
		s.record.Close()
	}
	es, _, faults := jobs.ReadRecord(disk, "back.1.record.yaml")
	if len(faults) > 0 || len(es) != 1 || es[0].Begin != "side2" {
		t.Fatalf("events %v, faults %v", es, faults)
	}
	if es[0].Cards["job.allowance"] != "0.05" || es[0].Cards["fixture.fixture"] != "PL-2" || es[0].Cards["machine.hash"] == "" {
		t.Errorf("begin copies %v", es[0].Cards)
	}
}

// A setup that got another name since does not silently become a second one in the record.
func TestOpenRefusesRenamedSetup(t *testing.T) {
	e, disk, _ := shop(t)
	s, err := began(e, openOptions{job: builtin.JobFile})
	if err != nil {
		t.Fatal(err)
	}
	s.record.Close()
	before := disk.Text("back.1.record.yaml")
	disk.Put(builtin.JobFile, strings.Replace(disk.Text(builtin.JobFile), "side2:", "back-side2:", 1))
	for range 2 { // the lock is given back
		_, err = began(e, openOptions{job: builtin.JobFile})
		if exitOf(err) != exitInput || err == nil || !strings.Contains(err.Error(), `"side2" is begun`) || !strings.Contains(err.Error(), "back-side2") {
			t.Errorf("error %v", err)
		}
	}
	if disk.Text("back.1.record.yaml") != before {
		t.Error("the record was written to")
	}
	if s, err = began(e, openOptions{job: builtin.JobFile, next: true}); err != nil {
		t.Fatal(err)
	}
	s.record.Close()
}

func TestOpenSaysWhatChanged(t *testing.T) {
	e, disk, _ := shop(t)
	s, err := began(e, openOptions{job: builtin.JobFile})
	if err != nil {
		t.Fatal(err)
	}
	s.record.Close()
	disk.Put(builtin.JobFile, strings.Replace(disk.Text(builtin.JobFile), "allowance: 0.05", "allowance: 0.04", 1))
	for i := range 2 {
		s, err = began(e, openOptions{job: builtin.JobFile})
		if err != nil {
			t.Fatal(err)
		}
		s.record.Close()
		if told := len(s.notes) == 1 && strings.Contains(s.notes[0], "job.allowance"); told != (i == 0) {
			t.Errorf("opened %d times after the change: notes %q", i+1, s.notes)
		}
	}
	es, _, _ := jobs.ReadRecord(disk, "back.1.record.yaml")
	if len(es) != 2 || es[1].Plan == "" || len(es[1].Changed) != 1 || es[1].Changed[0] != "job.allowance" || es[1].Cards["job.allowance"] != "0.04" {
		t.Fatalf("events %+v", es)
	}
	r, err := e.readRecord(builtin.JobFile, "back.1.record.yaml")
	if err != nil || r.job.Allowance != 0.04 {
		t.Errorf("the record's job has allowance %v, error %v", r.job.Allowance, err)
	}
}

func TestOpenHeldByAnother(t *testing.T) {
	e, _, _ := shop(t)
	s, err := began(e, openOptions{job: builtin.JobFile})
	if err != nil {
		t.Fatal(err)
	}
	defer s.record.Close()
	code, err := open(e, openOptions{job: builtin.JobFile})
	var held *jobs.LockedError
	if code != exitDisk || !errors.As(err, &held) || !strings.Contains(held.Holder, "process 1 on shop, since 2026-03-01") {
		t.Errorf("exit %d, error %v", code, err)
	}
}

func TestOpenNextPart(t *testing.T) {
	e, disk, _ := shop(t)
	for _, next := range []bool{false, true, false} {
		s, err := began(e, openOptions{job: builtin.JobFile, next: next})
		if err != nil {
			t.Fatal(err)
		}
		s.record.Close()
	}
	if disk.Text("back.2.record.yaml") == "" || disk.Text("back.3.record.yaml") != "" {
		t.Errorf("records %v", disk.Ops)
	}
}

// The next blank takes the mounting over; that is no change of the job.
func TestOpenNextBlankNothingMoved(t *testing.T) {
	e, disk, _ := shop(t)
	if code, err := open(e, openOptions{job: builtin.JobFile, next: true, unmoved: true}); code != exitUsage || err == nil {
		t.Errorf("without a part before: exit %d, error %v", code, err)
	}
	if code, err := practice(e, practiceOptions{holdDown: "T", seed: 1, auto: true, out: "."}); code != exitOK || err != nil {
		t.Fatalf("exit %d, error %v", code, err)
	}
	s, err := began(e, openOptions{job: builtin.JobFile, next: true, unmoved: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.events) != 1 || s.events[0].Cards["taken.bore"] == "" || len(s.notes) > 1 {
		t.Errorf("begun with %v, notes %q", s.events, s.notes)
	}
	if f := foldRecord(s.plan, s.events); len(f.state.Troubles) > 0 || f.state.Cursor.Step == s.plan.Line[0].ID {
		t.Errorf("goes on at %s, troubles %v", f.state.Cursor.Step, f.state.Troubles)
	}
	s.record.Close()
	if s, err = began(e, openOptions{job: builtin.JobFile}); err != nil || len(s.events) != 1 || len(s.notes) > 0 {
		t.Fatalf("opened again: %v, notes %q", err, s.notes)
	}
	s.record.Close()
	if code, err := open(e, openOptions{job: builtin.JobFile, next: true, unmoved: true}); code != exitInput || !strings.Contains(err.Error(), "not released") {
		t.Errorf("after a part that is not released: exit %d, error %v", code, err)
	}
	if disk.Text("back.3.record.yaml") != "" {
		t.Error("a third record was begun all the same")
	}
}

// Each line of the job list has an act for each of its actions.
func TestJobListActs(t *testing.T) {
	e, disk, _ := shop(t)
	if got := e.entries(lookOptions{}); len(got) != 2 || got[0].line.Standing != "not begun" {
		t.Errorf("entries %+v", got)
	}
	if _, err := practice(e, practiceOptions{holdDown: "T", seed: 1, auto: true, out: "."}); err != nil {
		t.Fatal(err)
	}
	disk.Put("bad.job.yaml", "format: 1\n")
	disk.Put("torn.job.yaml", disk.Text(builtin.JobFile))
	disk.Put("torn.1.record.yaml", "--- {format: 1}\n--- {nonsense}\n")
	got := e.entries(lookOptions{})
	if len(got) != 4 {
		t.Fatalf("entries %+v", got)
	}
	for _, x := range got {
		if len(x.do) != len(x.line.Actions) || len(x.do) == 0 {
			t.Errorf("%s %s: %d actions, %d acts", x.line.Job, x.line.Setup, len(x.line.Actions), len(x.do))
		}
	}
	if got[0].line.Verdict != "pass" || len(got[0].line.Actions) != 3 || got[1].line.Verdict != "fail" || got[2].line.Verdict != "fail" {
		t.Errorf("entries %+v", got)
	}
}

func TestOpenDiskFaults(t *testing.T) {
	for _, op := range []string{"create", "write", "sync", "lock"} {
		e, disk, _ := shop(t)
		disk.Fail = func(o, path string) error {
			if o == op && strings.Contains(path, "record") {
				return errors.New("no space left")
			}
			return nil
		}
		code, err := open(e, openOptions{job: builtin.JobFile})
		if code != exitDisk || err == nil {
			t.Errorf("%s fails: exit %d, error %v", op, code, err)
		}
	}
}

func TestOpenUsage(t *testing.T) {
	e, _, _ := shop(t)
	if code, err := open(e, openOptions{job: builtin.JobFile, setup: "side3"}); code != exitUsage || !strings.Contains(err.Error(), "side2") {
		t.Errorf("unknown setup: exit %d, error %v", code, err)
	}
	if code, err := open(e, openOptions{job: "no.job.yaml"}); code != exitInput || err == nil {
		t.Errorf("no job: exit %d, error %v", code, err)
	}
}

// TestLeftBeforeItIsOpen: leaving by choice is no interrupt, and no error to be told.
func TestLeftBeforeItIsOpen(t *testing.T) {
	var e env
	for err, want := range map[error]exit{tui.ErrLeft: exitOK, tea.ErrInterrupted: exitInterrupted} {
		err := e.ended(err, "lid")
		if code := exitOf(err); err == nil || code != want {
			t.Errorf("exit %d, error %v: the session is not to be touched, exit %d is wanted", code, err, want)
		}
	}
}

func TestNoTerminalWritesNothing(t *testing.T) {
	e, disk, _ := shop(t)
	e.outTerminal = false
	for name, f := range map[string]func() (exit, error){
		"open":     func() (exit, error) { return open(e, openOptions{job: builtin.JobFile}) },
		"practice": func() (exit, error) { return practice(e, practiceOptions{holdDown: "T", out: "p"}) },
	} {
		if code, err := f(); code != exitDisk || err == nil {
			t.Errorf("%s: exit %d, error %v", name, code, err)
		}
	}
	if disk.Text("back.1.record.yaml") != "" || disk.Text("p/"+builtin.JobFile) != "" {
		t.Error("something was written")
	}
}

func TestLookFollowsTheEnvironment(t *testing.T) {
	for _, c := range []struct {
		vars map[string]string
		o    lookOptions
		want tui.Look
	}{
		{nil, lookOptions{}, tui.Look{}},
		{map[string]string{"NO_COLOR": "1"}, lookOptions{}, tui.Look{Colour: tui.Attributes}},
		{map[string]string{"NO_COLOR": "1"}, lookOptions{colour: "16"}, tui.Look{Colour: tui.Sixteen}},
		{map[string]string{"TERM": "linux"}, lookOptions{light: true}, tui.Look{Colour: tui.Sixteen, Light: true, NoBraille: true}},
		{map[string]string{"TERM": "dumb"}, lookOptions{}, tui.Look{Colour: tui.Off}},
		{map[string]string{"LC_ALL": "C", "LANG": "de_DE.UTF-8"}, lookOptions{}, tui.Look{ASCII: true}},
		{map[string]string{"LANG": "ja_JP.utf8"}, lookOptions{}, tui.Look{}},
	} {
		e := &env{getenv: func(k string) string { return c.vars[k] }}
		if got, err := e.look(c.o); err != nil || got != c.want {
			t.Errorf("%v %+v: look %+v, error %v", c.vars, c.o, got, err)
		}
	}
	e := &env{getenv: func(string) string { return "" }}
	if _, err := e.look(lookOptions{colour: "pink"}); exitOf(err) != exitUsage {
		t.Errorf("colour pink gives %v", err)
	}
}

// began is a session whose person has taken something: what opening found is in the record.
func began(e *env, o openOptions) (*session, error) {
	s, err := begin(e, o)
	if err != nil {
		return s, err
	}
	return s, s.save(nil)
}

// Opening a record writes nothing before something is taken, whatever has changed: job,
// programs, a setup or a part that would be begun. With the first thing taken all of it is
// written, before it.
func TestOpenAloneWritesNothing(t *testing.T) {
	e, disk, _ := shop(t)
	s, err := begin(e, openOptions{job: builtin.JobFile})
	if err != nil || len(s.events) != 1 || !s.log.State(s.plan).Begun {
		t.Fatalf("%v, events %v", err, s.events)
	}
	s.close()
	if disk.Text("back.1.record.yaml") != "" {
		t.Errorf("left behind: %s", disk.Text("back.1.record.yaml"))
	}
	if s, err = began(e, openOptions{job: builtin.JobFile}); err != nil {
		t.Fatal(err)
	}
	s.close()
	before := disk.Text("back.1.record.yaml")
	if !strings.Contains(before, "begin: side2") {
		t.Fatal(before)
	}
	disk.Put(builtin.JobFile, strings.Replace(disk.Text(builtin.JobFile), "allowance: 0.05", "allowance: 0.04", 1))
	disk.Put("top.nc", disk.Text("top.nc")+"(edited)\n")
	if s, err = begin(e, openOptions{job: builtin.JobFile}); err != nil || len(s.pending) != 3 {
		t.Fatalf("%v, pending %v", err, s.pending)
	}
	s.close()
	if disk.Text("back.1.record.yaml") != before {
		t.Error("opening wrote to the record")
	}
	if s, err = begin(e, openOptions{job: builtin.JobFile}); err != nil {
		t.Fatal(err)
	}
	defer s.close()
	disk.Fail = func(op, _ string) error {
		if op == "sync" {
			return errors.New("no space left")
		}
		return nil
	}
	note := []jobs.Event{{At: e.now(), Note: "taken"}}
	if err := s.save(note); err == nil || len(s.pending) != 3 {
		t.Errorf("a disk that fails: %v, pending %v", err, s.pending)
	}
	disk.Fail = nil
	if err := s.save(note); err != nil || len(s.pending) != 0 {
		t.Errorf("%v, pending %v", err, s.pending)
	}
	es, _, _ := jobs.ReadRecord(disk, "back.1.record.yaml")
	if len(es) != 5 || es[1].Plan == "" || es[2].Plan == "" || es[3].Mishap != "side2/program-reposted" || es[4].Note != "taken" {
		t.Errorf("events %+v", es)
	}
}

// Opened again, a job goes on where the person stopped, and says what else is begun.
func TestOpenGoesWhereThePersonStopped(t *testing.T) {
	e, disk, _ := shop(t)
	text := disk.Text(builtin.JobFile)
	disk.Put(builtin.JobFile, strings.Replace(text, "setups:\n", "setups:\n  ring: {kind: ball}\n  head: {kind: tram}\n", 1))
	first, err := began(e, openOptions{job: builtin.JobFile})
	if err != nil {
		t.Fatal(err)
	}
	first.close()
	other := "side2"
	s, err := began(e, openOptions{job: builtin.JobFile, setup: other})
	if err != nil {
		t.Fatal(err)
	}
	s.close()
	if s, err = begin(e, openOptions{job: builtin.JobFile}); err != nil {
		t.Fatal(err)
	}
	defer s.close()
	was := first.plan.Setup.Name
	if s.plan.Setup.Name != other || was == other || !strings.Contains(strings.Join(s.notes, "\n"), "begun too: "+was) {
		t.Errorf("begun %s, stopped at %s, opened at %s, notes %q", was, other, s.plan.Setup.Name, s.notes)
	}
}
