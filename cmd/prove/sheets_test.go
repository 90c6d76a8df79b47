package main

import (
	"os"
	"testing"
)

// One sheet of a second side is printed and measured, where there is a browser to do it. A browser takes
// longer to begin than most packages to be tested: FULL=1 go test -run Sheet ./cmd/prove.
func TestSheetSlice(t *testing.T) {
	if os.Getenv("FULL") == "" {
		t.Skip("a browser is slow to begin: FULL=1")
	}
	if browser() == "" {
		t.Skip("no Chromium is installed here")
	}
	o := slice(0)
	o.only = "back-T"
	tb := made(t, sheets, o)
	for _, m := range tb.Missed {
		t.Error(m)
	}
	if len(tb.Rows) != 1 {
		t.Fatalf("rows %v", tb.Rows)
	}
	// A page that is too high, or runs over its side, does not pass.
	s := sheet{name: "bad", pages: 1, html: []byte(`<!doctype html>
<html><head><title>x</title><style>
@page{margin:8mm}
.page{width:190mm}.first{height:261mm;overflow:hidden}</style></head><body><main class="page first"><div style="height:280mm;color:#999">light</div><div style="width:250mm">wide</div></main></body></html>`)}
	bad := &table{}
	if err := s.measured(t.Context(), browser(), t.TempDir(), o, bad); err != nil {
		t.Fatal(err)
	}
	if len(bad.Missed) != 2 { // over its place, in both ways; contrast
		t.Errorf("missed of a bad page: %q", bad.Missed)
	}
}
