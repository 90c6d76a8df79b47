package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/tui"
)

// A mistake of the program's own is one line for the person and a file for whoever mends it.
func TestCrash(t *testing.T) {
	var out, errs bytes.Buffer
	disk := jobs.Mem(map[string]string{"a.job.yaml": "x"})
	e := &env{in: strings.NewReader(""), out: &out, err: &errs, disk: disk, getenv: func(string) string { return "" },
		now: func() time.Time { return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC) }}
	r := &runner{env: e}
	if err := r.follow(func() error { panic("steps: no such thing") }); err != nil || !r.ran {
		t.Fatal(err, r.ran)
	}
	if r.code != exitDisk {
		t.Errorf("exit %d", r.code)
	}
	e.say(r.err, false)
	line := errs.String()
	if strings.Count(line, "\n") != 1 || !strings.Contains(line, "steps: no such thing") || !strings.Contains(line, "fliptrue.crash.log") {
		t.Errorf("said %q", line)
	}
	log, err := disk.Read("fliptrue.crash.log", 1<<20)
	if err != nil || !strings.Contains(string(log), "crash_test.go") || !strings.Contains(string(log), "2026-03-01 09:00:00") {
		t.Errorf("log %v %q", err, log)
	}
	// The next one leaves the first in its place, and a screen's lies beside its record.
	err = e.ended(&tui.CrashError{What: "x", Stack: []byte("here")}, "fliptrue")
	if err == nil || !strings.Contains(err.Error(), "fliptrue.crash-2.log") || exitOf(err) != exitDisk {
		t.Error(err)
	}
	if got := stemOf("d/lid.1.record.yaml"); got != "d/lid.1" {
		t.Error(got)
	}
}
