package main

import (
	"encoding/json"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fliptrue/jobs"
)

// metric is a metric unit after a number, or standing as a word.
var metric = regexp.MustCompile(`(?i:\bmm\b|[0-9]mm\b|millimet)|\b(MPa|GPa|kPa|N·m|mN·m|N·mm|µm|Nm)\b|[0-9] ?N\b|°C`)

// strings of a JSON answer that are words, without the two keys that name the unit of a number
// that every job gives in one unit.
func wordsIn(v any, out *[]string) {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			if k != "unit" && k != "source" {
				wordsIn(x, out)
			}
		}
	case []any:
		for _, x := range v {
			wordsIn(x, out)
		}
	case string:
		*out = append(*out, v)
	}
}

// No command gives an inch job a metric word, on paper, as JSON or in a file that it writes.
func TestInchIsWhole(t *testing.T) {
	for _, c := range []struct{ args string }{
		{"check --limits ../../testdata/tray/tray.job.yaml"},
		{"check --limits ../../testdata/shelf-inch/shelf.job.yaml"},
		{"check --limits ../../jobs/testdata/inch.job.yaml"},
		{"program ../../testdata/tray/tray.job.yaml"},
		{"replay ../../testdata/tray/tray.1.record.yaml"},
		{"replay ../../testdata/tray/tray.2.record.yaml"},
		{"report ../../testdata/tray/tray.1.record.yaml"},
		{"report --tag ../../testdata/tray/tray.1.record.yaml"},
		{"report --blank ../../testdata/tray/tray.1.record.yaml"},
	} {
		for _, form := range []string{"", "--json"} {
			args := strings.Fields(c.args)
			if form != "" {
				args = append(args, form)
			}
			_, out, errs := said(jobs.OS(), args...)
			lines := strings.Split(out+"\n"+errs, "\n")
			if form != "" {
				var v any
				if json.Unmarshal([]byte(out), &v) != nil {
					continue // this one has no JSON
				}
				lines = nil
				wordsIn(v, &lines)
			}
			if len(lines) < 3 && form == "" {
				t.Errorf("%s %s says next to nothing: %q", c.args, form, lines)
			}
			for _, l := range lines {
				if m := metric.FindString(l); m != "" {
					t.Errorf("%s %s: %q in\n%s", c.args, form, m, l)
				}
			}
		}
	}
	dir := t.TempDir()
	if code, out, errs := said(jobs.OS(), "new", "--yes", "--unit", "in", "--setups", "all", "--dir", dir, "--file", "box"); code != exitOK {
		t.Fatal(out, errs)
	}
	names, err := filepath.Glob(filepath.Join(dir, "*.yaml"))
	if err != nil || len(names) < 3 {
		t.Fatalf("%v, %v", names, err)
	}
	for _, n := range names {
		b, err := jobs.OS().Read(n, 1<<20)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range strings.Split(string(b), "\n") {
			if m := metric.FindString(l); m != "" {
				t.Errorf("%s: %q in\n%s", filepath.Base(n), m, l)
			}
		}
	}
}
