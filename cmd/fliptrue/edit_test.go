package main

import (
	"bytes"
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
)

// editing is a person at a terminal with an editor that replaces texts, and lines typed.
func editing(disk jobs.Disk, put func(path, text string), typed string, swaps ...[2]string) (*env, *bytes.Buffer) {
	var out bytes.Buffer
	n := 0
	e := &env{in: strings.NewReader(typed), out: &out, err: &out, disk: disk, inTerminal: true, outTerminal: true, ownInterrupts: func() {},
		getenv: func(string) string { return "" }, now: func() time.Time { return time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC) }}
	e.editor = func(path string) error {
		b, err := disk.Read(path, 1<<20)
		if err != nil || n >= len(swaps) {
			return errors.Join(err, nil)
		}
		put(path, strings.Replace(string(b), swaps[n][0], swaps[n][1], 1))
		n++
		return nil
	}
	return e, &out
}

// An edit is checked, its cost is said, and it can be taken back to the byte.
func TestEdit(t *testing.T) {
	const job = "p/back.job.yaml"
	for _, c := range []struct {
		name, typed string
		swaps       [][2]string
		code        exit
		says        []string
		kept        bool
	}{
		{"nothing", "", nil, exitOK, []string{"nothing was changed"}, false},
		{"a comment", "\n", [][2]string{{"format: 1", "format: 1 # one"}}, exitOK, []string{"nothing that counts was changed"}, true},
		{"an allowance, looser", "\n", [][2]string{{"allowance: 0.05", "allowance: 0.06"}}, exitOK, []string{"changed: job.allowance"}, true},
		{"more hits, taken back", "2\n", [][2]string{{"hits: 6", "hits: 8"}}, exitOK, []string{"changed: job.setups.side2.hits", "costs side2, locating bore: ", "taken back"}, false},
		{"a limit, looser, with a reason", "\nsawn plywood\n", [][2]string{{"format: 1", "format: 1\nlimits: {floor.form: 0.03}"}}, exitOK, []string{"limits.floor.form of the job is looser than ", "written beside it"}, true},
		{"a limit, looser, without", "\n\n", [][2]string{{"format: 1", "format: 1\nlimits: {floor.form: 0.03}"}}, exitOK, []string{"Why?", " holds\n"}, true},
		{"a limit, tighter", "\n", [][2]string{{"format: 1", "format: 1\nlimits: {floor.form: 0.001}"}}, exitOK, nil, true},
		{"a fault, left", "\n", [][2]string{{"allowance:", "alowance:"}}, exitInput, []string{`did you mean "allowance"?`, "leaves it with its faults"}, true},
		{"a fault, mended", "1\n\n", [][2]string{{"allowance:", "alowance:"}, {"alowance:", "allowance: 0.051 #"}}, exitOK, []string{"did you mean", "Enter keeps it"}, true},
		{"left in the middle", "", [][2]string{{"hits: 6", "hits: 8"}}, exitInterrupted, nil, true},
	} {
		disk, record := practised(t)
		before := disk.Text(job)
		e, out := editing(disk, disk.Put, c.typed, c.swaps...)
		code, err := edit(e, job)
		if code != c.code || (err != nil) != (c.code == exitInterrupted) {
			t.Errorf("%s: exit %d, error %v\n%s", c.name, code, err, out)
		}
		for _, s := range c.says {
			if !strings.Contains(out.String(), s) {
				t.Errorf("%s: no %q in\n%s", c.name, s, out)
			}
		}
		if got := strings.Contains(disk.Text(job), "limits: {floor.form: {value: 0.03, reason: sawn plywood}}"); got != strings.Contains(c.typed, "plywood") {
			t.Errorf("%s: reason in the job: %v", c.name, got)
		}
		if kept := disk.Text(job) != before; kept != c.kept {
			t.Errorf("%s: kept %v", c.name, kept)
		}
		if disk.Text("p/back.1.record.yaml") != record {
			t.Errorf("%s: the record was written to", c.name)
		}
	}
}

// The list says who has a record open; a lock left by a crash is nobody's.
func TestListSaysWhoHolds(t *testing.T) {
	dir := t.TempDir()
	disk := jobs.OS()
	job := filepath.Join(dir, "back.job.yaml")
	if code, _, errs := said(disk, "new", "--yes", "--dir", dir, "--file", "back"); code != exitOK {
		t.Fatal(errs)
	}
	e, _ := editing(disk, nil, "")
	e.pid, e.host = 4711, "shop"
	s, err := began(e, openOptions{job: job})
	if err != nil {
		t.Fatal(err)
	}
	l, err := e.listJob(job)
	if err != nil || len(l.Parts) != 1 || !strings.HasPrefix(l.Parts[0].HeldBy, "fliptrue, process 4711 on shop, since 2026-03-02") {
		t.Errorf("%+v, %v", l, err)
	}
	if text := (listJSON{[]listedJob{l}}).text(); !strings.Contains(text, "part 1  in use by fliptrue, process 4711") || !strings.Contains(text, `due: program "top.nc" of setup side2 is not there`) {
		t.Error(text)
	}
	s.close()
	if l, err = e.listJob(job); err != nil || l.Parts[0].HeldBy != "" {
		t.Errorf("%+v, %v", l, err)
	}
}

// open without a job offers the one last walked first.
func TestOpenOffersTheLast(t *testing.T) {
	disk, record := practised(t)
	flat := jobs.Mem(map[string]string{"a.job.yaml": "", "back.job.yaml": disk.Text("p/back.job.yaml"), "back.1.record.yaml": record, "z.job.yaml": "",
		"a.1.record.yaml": "--- {format: 1}\n--- {at: 2020-01-01T00:00:00Z, begin: side2}\n"})
	e, out := editing(flat, flat.Put, "")
	list, err := e.lastWalked()
	if err != nil || len(list) != 3 || list[0].file != "back.job.yaml" || list[1].file != "a.job.yaml" || list[2].part != 0 {
		t.Errorf("%+v, %v", list, err)
	}
	if code, err := openLast(e, openOptions{}); code != exitInterrupted || err == nil || !strings.Contains(out.String(), "Enter opens back.job.yaml") {
		t.Errorf("exit %d, %v\n%s", code, err, out)
	}
}

// Opening after an edit says what it costs before anything is written.
func TestOpenSaysWhatAnEditCosts(t *testing.T) {
	disk, record := practised(t)
	e := &env{disk: disk, now: fixedTime, getenv: func(string) string { return "" }}
	for _, c := range [][3]string{
		{"p/back.job.yaml", "hits: 6", "hits: 8"}, {"p/pl-2.fixture.yaml", "PL-2", "FX-4"},
	} {
		text := disk.Text(c[0])
		disk.Put(c[0], strings.Replace(text, c[1], c[2], 1))
		s, err := begin(e, openOptions{job: "p/back.job.yaml"})
		if err != nil {
			t.Fatal(err)
		}
		s.close()
		if said := strings.Join(s.notes, "\n"); !strings.Contains(said, "it costs ") || !strings.Contains(said, "locating bore") && c[2] == "hits: 8" || !strings.Contains(said, "leave now") {
			t.Errorf("%s: %s", c[2], said)
		}
		disk.Put(c[0], text)
		if s, err = begin(e, openOptions{job: "p/back.job.yaml"}); err != nil || len(s.pending) > 0 || len(s.notes) > 0 {
			t.Fatalf("put back: %v, %v", err, s.notes)
		}
		s.close()
	}
	if disk.Text("p/back.1.record.yaml") != record {
		t.Error("the record was written to")
	}
}
