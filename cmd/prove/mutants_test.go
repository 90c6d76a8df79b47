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
