package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"fliptrue/steps/bench/builtin"
)

// A program that is another than the record speaks of was posted again: the mishap is
// declared once, when the job is opened, and nothing is said of one that is the same.
func TestOpenDeclaresRepost(t *testing.T) {
	e, disk, _ := shop(t)
	open := func() *session {
		t.Helper()
		s, err := began(e, openOptions{job: builtin.JobFile})
		if err != nil {
			t.Fatal(err)
		}
		s.record.Close()
		return s
	}
	hash := open().events[0].Cards["program.side2.top.hash"]
	if len(hash) != 16 {
		t.Fatalf("begin carries the checksum %q", hash)
	}
	if s := open(); len(s.events) != 1 || len(s.notes) > 0 {
		t.Errorf("an unchanged program gives %v, %q", s.events, s.notes)
	}
	disk.Put("top.nc", strings.Replace(disk.Text("top.nc"), "F440", "F450", 1))
	s := open()
	if len(s.events) != 3 || s.events[1].Plan == "" || s.events[1].Cards["program.side2.top.hash"] == hash || s.events[2].Mishap != "side2/program-reposted" {
		t.Fatalf("a changed program gives %+v", s.events)
	}
	if text := strings.Join(s.notes, " "); !strings.Contains(text, "top") || strings.Contains(text, "drill") {
		t.Errorf("notes %q", text)
	}
	if s := open(); len(s.events) != 3 {
		t.Errorf("declared again: %v", s.events[3:])
	}
}

// A record that says nothing of its programs, as one written by hand, learns their checksums
// without a mishap.
func TestOpenLearnsPrograms(t *testing.T) {
	e, disk, _ := shop(t)
	disk.Put("back.1.record.yaml", "format: 1\n--- {at: 2026-03-01T09:00:00+01:00, begin: side2}\n")
	s, err := began(e, openOptions{job: builtin.JobFile})
	if err != nil {
		t.Fatal(err)
	}
	s.record.Close()
	for _, ev := range s.events {
		if ev.Mishap != "" {
			t.Errorf("declared %s", ev.Mishap)
		}
	}
	if last := s.events[len(s.events)-1]; last.Cards["program.side2.drill.hash"] == "" {
		t.Errorf("events %+v", s.events)
	}
}

// Ctrl-C stops the reading of a program; nothing is judged of it.
func TestProgramInterrupted(t *testing.T) {
	e, _, out := shop(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	code, err := program(ctx, e, programOptions{job: builtin.JobFile, file: "top.nc"})
	if code != exitInterrupted || !errors.Is(err, errInterrupted) {
		t.Errorf("code %d, %v", code, err)
	}
	if text := out.String(); !strings.Contains(text, "interrupted; nothing is judged of top.nc") || strings.Contains(text, "PASS") {
		t.Errorf("says %q", text)
	}
}

// A long program says how far it was read, in bytes, lines and time.
func TestProgramProgress(t *testing.T) {
	e, disk, _ := shop(t)
	var errs bytes.Buffer
	e.err = &errs
	var text strings.Builder
	text.WriteString("%\nG21 G17 G90 G54\nT3 M6\nG43 H3\nS12000 M3\nG0 Z40\nX0 Y0\nZ18\nG1 Z16.3 F200\n")
	for i := range 200_000 {
		fmt.Fprintf(&text, "X%d.%03d Y%d\n", i%90, i%1000, i%60)
	}
	text.WriteString("G0 Z60\nG49\nM30\n%\n")
	disk.Put("long.nc", text.String())
	if _, err := program(context.Background(), e, programOptions{job: builtin.JobFile, file: "long.nc"}); err != nil {
		t.Fatal(err)
	}
	if first, _, _ := strings.Cut(errs.String(), "\n"); !strings.HasPrefix(first, "reading long.nc: ") || !strings.Contains(first, "lines") || !strings.HasSuffix(first, "s") {
		t.Errorf("progress %q", first)
	}
}
