package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fliptrue/steps/fold"
)

// nightFolder is where the last whole night was kept.
const nightFolder = "../../testdata/night"

// The README says what the last whole night came to.
func TestReadmeSaysWhatTheNightCameTo(t *testing.T) {
	if _, err := os.Stat(nightFolder); err != nil {
		t.Skip("no night was kept yet")
	}
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	now, done, err := fillIn(string(b), nightFolder)
	if err != nil {
		t.Fatal(err)
	}
	if now != string(b) || len(done) != len(passages) {
		t.Errorf("the README is not that of %s, which has %v: go run ./cmd/prove readme testdata/night", nightFolder, done)
	}
}

// A record written by hand begins by the questions of today.
func TestReadmeSaysTheWalkOfToday(t *testing.T) {
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	if want := fmt.Sprintf(`cards: {walk: "%d"}`, fold.Walk); !strings.Contains(string(b), want) {
		t.Errorf("the README has no %s", want)
	}
}

// Each passage has its place in the README.
func TestReadmeHasAPlaceForEachPassage(t *testing.T) {
	b, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for name := range passages {
		if !strings.Contains(string(b), "<!-- prove "+name+" -->\n") || !strings.Contains(string(b), "<!-- end of "+name+" -->\n") {
			t.Errorf("the README has no place for %s", name)
		}
	}
}

// A passage is made of what the table was kept as.
func TestPassages(t *testing.T) {
	dir := t.TempDir()
	put := func(name string, tb table) {
		b, err := json.Marshal(tb)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name+".json"), b, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	put("clean", table{Head: []string{"at", "limit", "named", "FAIL", "FAIL %", "NOT PROVEN", "NOT PROVEN %"}, Cases: 1200,
		Rows: [][]any{{"any", "", "", 4, 0.33, 12, 1.0}, {"wrongly named", "", "", 3, 0.25, 0, 0.0}, {"given up", "", "", 2, 0.17, 0, 0.0}}})
	put("catch", table{Head: []string{"mistake", "size", "", "made", "proven", "first use", "harmed as"},
		Notes: []string{"level proven lets through 2.88 % of the part's worth a setup: 5.2, 17.3 and 86.4 minutes for a part worth 180"},
		Rows: [][]any{{"bumped-part", 0.03, "mm", 6, " 67 100   9", "  0   0   0", ""}, {"bumped-part", 0.06, "mm", 6, " 67 100  33", "", ""},
			{"wrong-side-up", 1, "sides", 6, "  0   0 100", "", ""}}})
	put("coverage", table{Head: []string{"effects", "plan", "level", "walks", "released", "intervals", "held %"},
		Rows: [][]any{{"all", "T", "proven", 1000, 990, 4000, 94.25}, {"all, floating", "S", "first use", 1000, 990, 4000, 93.34}}})
	text := ""
	for _, n := range []string{"clean", "catch", "coverage"} {
		text += "before\n<!-- prove " + n + " -->\nold\n<!-- end of " + n + " -->\nbehind\n"
	}
	now, done, err := fillIn(text, dir)
	if err != nil || len(done) != 3 || strings.Contains(now, "old") || strings.Count(now, "before") != 3 || strings.Count(now, "behind") != 3 {
		t.Fatal(err, done, now)
	}
	for _, want := range []string{
		"of 1200 in this world 0.33 % met a FAIL, 1.00 % a NOT PROVEN, 0.25 % were wrongly named, 2 given up",
		"| *proven* | 2.88 % | 5.2, 17.3, 86.4 | bumped part 0.06 mm; wrong side up |",
		"| second side, strapped, drilled, screwed (T) | 94.2 | | | |", "(1000 walks a cell, so within ±1.5;", "| plan S, floating | | 93.3 | | |",
	} {
		if !strings.Contains(now, want) {
			t.Errorf("no %q in\n%s", want, now)
		}
	}
	if _, _, err := fillIn("nothing", dir); err == nil {
		t.Error("a README without a place is written")
	}
}
