package main

import (
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"fliptrue/jobs"
)

// practised is a disk with a practice walked to its end, and its record.
func practised(t *testing.T) (*jobs.MemDisk, string) {
	t.Helper()
	files := walkedOnce()
	if len(files) == 0 {
		t.Fatal("the practice was not walked")
	}
	return jobs.Mem(files), files["p/back.1.record.yaml"]
}

// walkedOnce are the files of a practice, walked once for all tests.
var walkedOnce = sync.OnceValue(func() map[string]string {
	disk, files := jobs.Mem(nil), map[string]string{}
	if code, _, _ := said(disk, "practice", "--auto", "--out", "p"); code != exitOK {
		return nil
	}
	names, _ := disk.List("p")
	for _, n := range names {
		files["p/"+n] = disk.Text("p/" + n)
	}
	return files
})

// A record of another job is refused by name, by each command, before anything is written.
func TestAnotherJobsRecord(t *testing.T) {
	disk, record := practised(t)
	disk.Put("p/box.job.yaml", strings.Replace(disk.Text("p/back.job.yaml"), "job: barometer back", "job: sewing box", 1))
	disk.Put("p/box.1.record.yaml", record)
	for _, args := range [][]string{
		{"replay", "p/box.job.yaml", "p/back.1.record.yaml"}, {"report", "p/box.job.yaml", "p/back.1.record.yaml"},
		{"program", "p/box.job.yaml", "p/top.nc", "--record", "p/back.1.record.yaml"},
	} {
		code, _, errs := said(disk, args...)
		if code != exitInput || !strings.Contains(errs, `p/back.1.record.yaml: it is a record of the job "barometer back", and p/box.job.yaml is the job "sewing box"`) {
			t.Errorf("%v: exit %d, %s", args, code, errs)
		}
	}
	e := &env{disk: disk, now: time.Now, getenv: func(string) string { return "" }}
	if _, err := begin(e, openOptions{job: "p/box.job.yaml"}); err == nil || !strings.Contains(err.Error(), "it is a record of the job") {
		t.Errorf("open: %v", err)
	}
	if disk.Text("p/box.1.record.yaml") != record {
		t.Error("the record was written to")
	}
}

// A record that carries its job is read alone, without one the last part's is taken.
func TestRecordAlone(t *testing.T) {
	disk, record := practised(t)
	for _, args := range [][]string{{"replay", "p/back.job.yaml"}, {"replay", "p/back.1.record.yaml"}} {
		code, out, errs := said(disk, args...)
		if _, want, _ := said(disk, "replay", "p/back.job.yaml", "p/back.1.record.yaml"); code != exitOK || out != want || errs != "" {
			t.Errorf("%v: exit %d, %s%s", args, code, out, errs)
		}
	}
	// The job gone, only the record is left.
	alone := jobs.Mem(map[string]string{"back.1.record.yaml": record, "hand.record.yaml": "--- {format: 1}\n--- {at: 2026-03-01T10:42:05+01:00, begin: side2}\n"})
	if code, out, errs := said(alone, "replay", "back.1.record.yaml"); code != exitOK || !strings.Contains(out, "RELEASED") {
		t.Errorf("alone: exit %d, %s%s", code, out, errs)
	}
	if code, _, errs := said(alone, "replay", "hand.record.yaml"); code != exitInput || !strings.Contains(errs, "does not carry its job") {
		t.Errorf("by hand: exit %d, %s", code, errs)
	}
	disk.Put("p/new.job.yaml", strings.Replace(disk.Text("p/back.job.yaml"), "job: barometer back", "job: new", 1))
	for _, command := range []string{"replay", "report"} {
		if code, _, errs := said(disk, command, "p/new.job.yaml"); code != exitInput || !strings.Contains(errs, "no part of this job has a record yet") {
			t.Errorf("%s: exit %d, %s", command, code, errs)
		}
	}
}

// A record of a newer walk is said: read with a word, not gone on with.
func TestNewerWalk(t *testing.T) {
	disk, record := practised(t)
	newer := regexp.MustCompile(`walk: "\d+"`).ReplaceAllString(record, `walk: "77"`)
	if newer == record {
		t.Fatal("the walk is not written as this test knows it")
	}
	disk.Put("p/back.1.record.yaml", newer)
	for _, command := range []string{"replay", "report"} {
		code, out, errs := said(disk, command, "p/back.job.yaml")
		if code != exitOK || out == "" || !strings.Contains(errs, "p/back.1.record.yaml: it was begun by a newer fliptrue (walk 77; this one knows walk") {
			t.Errorf("%s: exit %d, %s", command, code, errs)
		}
	}
	e := &env{disk: disk, now: time.Now, getenv: func(string) string { return "" }}
	if _, err := begin(e, openOptions{job: "p/back.job.yaml"}); err == nil || !strings.Contains(err.Error(), "newer fliptrue") {
		t.Errorf("open: %v", err)
	}
}

// Every message about a line of a record names its file.
func TestTornLineNamesItsFile(t *testing.T) {
	disk, record := practised(t)
	disk.Put("p/back.1.record.yaml", record+"--- {at: 2026")
	for _, command := range []string{"replay", "report"} {
		if _, _, errs := said(disk, command, "p/back.job.yaml"); !strings.Contains(errs, "p/back.1.record.yaml: line ") {
			t.Errorf("%s: %s", command, errs)
		}
	}
	e := &env{disk: disk, now: time.Now, getenv: func(string) string { return "" }}
	s, err := begin(e, openOptions{job: "p/back.job.yaml"})
	if err != nil || len(s.notes) == 0 || !strings.HasPrefix(s.notes[0], "back.1.record.yaml: line ") {
		t.Errorf("open: %v, notes %v", err, s)
	}
}

// The operator of a job stands in the record; it may be any name.
func TestOperator(t *testing.T) {
	disk, _ := practised(t)
	disk.Put("p/back.job.yaml", "operator: Anna-Maria O'Neill, yes\n"+disk.Text("p/back.job.yaml"))
	e := &env{disk: disk, now: time.Now, getenv: func(string) string { return "" }}
	s, err := begin(e, openOptions{job: "p/back.job.yaml", next: true})
	if err != nil {
		t.Fatal(err)
	}
	s.record.Close()
	if es, _, faults := jobs.ReadRecord(disk, "p/back.2.record.yaml"); len(faults) > 0 || (len(es) > 0 && es[0].By != "Anna-Maria O'Neill, yes") {
		t.Errorf("%v, %v", es, faults)
	}
}

// A lock says whose it is and where that person sits.
func TestWhoHolds(t *testing.T) {
	vars := map[string]string{"USER": "anna", "SSH_CONNECTION": "192.0.2.7 50022 192.0.2.1 22"}
	e := &env{disk: jobs.Mem(nil), now: fixedTime, getenv: func(k string) string { return vars[k] }, pid: 12, host: "shop"}
	if got, want := e.who(), "fliptrue of anna, process 12 on shop by ssh from 192.0.2.7, since 2026-03-01 09:00"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	f := faultsOf(&jobs.LockedError{Path: "back.1.record.yaml", Holder: e.who()})[0].Error()
	if strings.Count(f, "back.1.record.yaml") != 1 || !strings.Contains(f, "in use by fliptrue of anna") {
		t.Error(f)
	}
}
