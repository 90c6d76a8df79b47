package main

import (
	"os"
	"strings"
	"testing"
)

// The table reads, and a line that is no mutant is told by its number.
func TestMutantTable(t *testing.T) {
	f, err := os.Open("../../testdata/mutants.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if ms, err := readMutants(f); err != nil || len(ms) < 60 {
		t.Fatalf("%d mutants, %v", len(ms), err)
	}
	if _, err := readMutants(strings.NewReader("# a\na.go\tx\ty\nb.go\tx\n")); err == nil || !strings.Contains(err.Error(), "line 3") {
		t.Errorf("a line without its wrong text gives %v", err)
	}
	if _, err := readMutants(strings.NewReader("a.go\tx\tx\n")); err == nil {
		t.Error("what changes nothing is a mutant")
	}
}

// Each mutant finds what it changes, once: a line that was written anew takes its mutants with it.
func TestMutantsFindTheirPlace(t *testing.T) {
	f, err := os.Open("../../testdata/mutants.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	ms, err := readMutants(f)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range ms {
		src, err := os.ReadFile("../../" + m.file)
		if n := strings.Count(string(src), m.right); err != nil || n != 1 {
			t.Errorf("line %d: %s stands %d times in %s, want once (%v)", m.n, m.right, n, m.file, err)
		}
	}
}
