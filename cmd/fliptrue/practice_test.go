package main

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/tui"
)

// TestUnseenMistakeIsToldAtTheReleaseOnly: on leaving before, its name would spoil going on.
func TestUnseenMistakeIsToldAtTheReleaseOnly(t *testing.T) {
	if got := practiceEnd("chip-in-bore", false, nil); strings.Contains(got, "chip") || !strings.Contains(got, "fliptrue open") || !strings.Contains(got, "told at the release") {
		t.Errorf("left on the way: %q", got)
	}
	if got := practiceEnd("", false, nil); strings.Contains(got, "wrong") || !strings.Contains(got, "fliptrue practice") {
		t.Errorf("left on the way, nothing wrong: %q", got)
	}
	if got := practiceEnd("chip-in-bore", true, []string{"chip-in-bore"}); !strings.Contains(got, "chip-in-bore") || !strings.Contains(got, "It was caught.") {
		t.Errorf("released: %q", got)
	}
	if got := practiceEnd("", true, nil); got != "" {
		t.Errorf("released, nothing wrong: %q", got)
	}
}

// TestCrashIsWrittenBesideTheRecord, in the folder of the practice, not where it was called from.
func TestCrashIsWrittenBesideTheRecord(t *testing.T) {
	e, _, _ := shop(t)
	stem, opened := beside(filepath.Join("p", builtin.JobFile), func() (tui.Options, error) {
		s, _, err := e.beginPractice(practiceOptions{holdDown: "T", seed: 1, out: "p"})
		if err != nil {
			return tui.Options{}, err
		}
		t.Cleanup(func() { s.settle(); s.record.Close() })
		return s.options(e, tui.Look{}), nil
	})
	if got, want := stem(), filepath.Join("p", "back"); got != want {
		t.Errorf("before it is open: %q, want %q", got, want)
	}
	if _, err := opened(); err != nil {
		t.Fatal(err)
	}
	log := filepath.Join("p", "back.1.crash.log")
	err := e.ended(&tui.CrashError{What: "x", Stack: []byte("here")}, stem())
	if err == nil || !strings.Contains(err.Error(), log) {
		t.Errorf("said %v", err)
	}
	if text, err := e.disk.Read(log, 1<<20); err != nil || !strings.Contains(string(text), "here") {
		t.Errorf("%v %q", err, text)
	}
}

// TestOpenOnAPracticeSaysThatItsBenchIsGone before anything else is asked.
func TestOpenOnAPracticeSaysThatItsBenchIsGone(t *testing.T) {
	e, _, _ := shop(t)
	s, _, err := e.beginPractice(practiceOptions{holdDown: "T", seed: 1, out: "p"})
	if err != nil {
		t.Fatal(err)
	}
	if s.options(e, tui.Look{}).First != "" {
		t.Error("the bench is there")
	}
	if err := s.settle(); err != nil {
		t.Fatal(err)
	}
	s.record.Close()
	s, err = began(e, openOptions{job: "p/" + builtin.JobFile})
	if err != nil {
		t.Fatal(err)
	}
	defer s.record.Close()
	if first := s.options(e, tui.Look{}).First; !strings.Contains(first, "Type readings") || !strings.Contains(first, "fliptrue practice") {
		t.Errorf("said first: %q", first)
	}
}

// TestPracticeBeginsWithoutWaiting: what waits for a slow disk is done beside the first page, and all
// of it before anything is saved. A disk that fails then is told, and nothing is taken.
func TestPracticeBeginsWithoutWaiting(t *testing.T) {
	e, disk, _ := shop(t)
	disk.Ops = nil
	s, _, err := e.beginPractice(practiceOptions{holdDown: "T", seed: 1, out: "p"})
	if err != nil {
		t.Fatal(err)
	}
	for _, op := range disk.Ops {
		if strings.HasPrefix(op, "sync") || strings.HasPrefix(op, "lock") {
			t.Errorf("the first page waits for: %s", op)
		}
	}
	if err := s.save([]jobs.Event{{Note: "here", At: s.events[0].At}}); err != nil {
		t.Fatal(err)
	}
	disk.Crash(0)
	es, _, faults := jobs.ReadRecord(disk, "p/back.1.record.yaml")
	if len(faults) > 0 || len(es) != 2 || es[0].Begin == "" || es[1].Note != "here" {
		t.Errorf("after the power went: %v %v", es, faults)
	}
	if _, faults := jobs.ReadJob(disk, "p/"+builtin.JobFile); len(faults) > 0 {
		t.Errorf("after the power went: %v", faults)
	}

	s, _, err = e.beginPractice(practiceOptions{holdDown: "T", seed: 1, out: "q"})
	if err != nil {
		t.Fatal(err)
	}
	disk.Fail = func(op, _ string) error {
		if op == "sync" {
			return syscall.ENOSPC
		}
		return nil
	}
	if err := s.save([]jobs.Event{{Note: "lost"}}); err == nil || !strings.Contains(err.Error(), "disk is full") || len(s.events) != 1 {
		t.Errorf("a full disk: %v, %d events", err, len(s.events))
	}
}
