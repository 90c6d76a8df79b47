package main

import "testing"

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
