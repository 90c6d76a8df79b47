package main

import (
	"bytes"
	"strings"
	"syscall"
	"testing"
	"time"

	"fliptrue/jobs"
)

// A name on a command line or in a folder never reaches the terminal as a command.
func TestOutputIsHarmless(t *testing.T) {
	for in, want := range map[string]string{
		"plain\n\ttext ± µ ⠿":  "plain\n\ttext ± µ ⠿",
		"a\x1b[31mred":         `a\x1b[31mred`,
		"bell\a and back\r":    `bell\x07 and back\x0d`,
		"c1 \u009b31m":         `c1 \u009b31m`,
		"byte \x9b31m":         `byte \x9b31m`,
		"turned \u202e around": `turned \u202e around`,
		"replaced \ufffd":      "replaced \ufffd",
	} {
		if got := harmless(in); got != want {
			t.Errorf("harmless(%q) = %q, want %q", in, got, want)
		}
	}
	for _, args := range [][]string{
		{"check", "a\x1b[31m.job.yaml"}, {"--\x1b[31m"}, {"fit", "line", "\x1b[31m\x9b"}, {"--text"},
	} {
		var out, errs bytes.Buffer
		e := &env{in: strings.NewReader(""), out: &out, err: &errs, getenv: func(string) string { return "" }, ownInterrupts: func() {}, now: time.Now,
			disk: jobs.Mem(map[string]string{"a\x1b[31m.job.yaml": "x"})}
		run(e, args)
		if text := out.String() + errs.String(); strings.Contains(text, "\x1b") || strings.Contains(text, "\x9b") || text == "" {
			t.Errorf("%q: %q", args, text)
		}
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

// A report that did not reach its file is no success.
func TestOutputThatFails(t *testing.T) {
	for _, args := range [][]string{{"--text"}, {"--json"}, {"practice", "--auto"}, {"--help"}} {
		var errs bytes.Buffer
		e := &env{in: strings.NewReader(""), out: fullDisk{}, err: &errs, getenv: func(string) string { return "" }, ownInterrupts: func() {}, now: time.Now,
			disk: jobs.Mem(nil)}
		if got := run(e, args); got != exitDisk {
			t.Errorf("%q: exit %d, want %d", args, got, exitDisk)
		}
		if n := strings.Count(errs.String(), "could not be written"); n != 1 {
			t.Errorf("%q says %d times that it failed: %q", args, n, errs.String())
		}
	}
}
