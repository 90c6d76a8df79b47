package main

import (
	"strings"
	"testing"
)

// The rows that the help shows are rows that the command fits.
func TestFitExamplesFit(t *testing.T) {
	for _, s := range shapes {
		command, rows, ok := strings.Cut(fitExamples[s.name], "\n\n")
		if !ok || !strings.Contains(command, "fliptrue fit "+s.name) {
			t.Fatalf("%s: no example: %q", s.name, fitExamples[s.name])
		}
		table, faults := readRows("example", []byte(rows), s.columns, 0)
		if len(faults) > 0 {
			t.Fatalf("%s: %v", s.name, faults)
		}
		if f, err := s.fit(fitOptions{shape: s.name, ballD: 2, bore: true, radiusR: 60}, table); err != nil || len(f.text) == 0 {
			t.Errorf("%s: %v %v", s.name, f, err)
		}
	}
}
