package main

import (
	"slices"
	"testing"

	"fliptrue/steps/bench"
)

// A kind's own mistake of its usual size is stopped; the table knows no mistake of another.
func TestKindsSlice(t *testing.T) {
	o := slice(2)
	o.only = "ball"
	tb := made(t, kindsTable, o)
	if r := numbers(t, tb, "ball", "chip-in-ring", 0.04); r[4] != 2 || r[5] != 100.0 || r[7] != "readings" {
		t.Errorf("a chip in the ring gauge: %v", r)
	}
	if len(tb.Missed) > 0 || len(tb.Rows) < 6 {
		t.Errorf("%d rows, missed %q", len(tb.Rows), tb.Missed)
	}
	o.only = "clamp-left-on" // any second side has it
	if _, err := kindsTable(t.Context(), o); err == nil {
		t.Error("a mistake of every kind is taken for one kind's own")
	}
}

// Each mistake that the bench can make has a row in one of the two tables.
func TestEveryMistakeHasARow(t *testing.T) {
	rows := trialNames()
	own, err := options{}.ownTries()
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range own {
		rows = append(rows, o.m.Name)
	}
	for _, m := range append(bench.All(), bench.Wider()...) {
		if !slices.Contains(rows, m.Name) {
			t.Errorf("%s stands in no table", m.Name)
		}
	}
}
