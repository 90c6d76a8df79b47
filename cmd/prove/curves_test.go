package main

import (
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"

	"fliptrue/steps/fold"
)

// By hand: a walk that says 0.02 within 0.01 while 0.04 is true passes at half of the allowance (0.08) and at the limit (0.04), since
// 0.03 is below both; past 4/3 of it nothing is proven, and at 4 times (0.01) it would fail.
func TestDecidedByHand(t *testing.T) {
	for _, s := range decided([]seen{{0.02, 0.01, 0.04}}) {
		limit := 0.04 / s.at
		want := verdicts{at: s.at, n: 1}
		switch {
		case s.at == 0 || 0.03 <= limit*(1+1e-8):
			want.pass = 1
		case 0.01 >= limit:
			want.fail = 1
		default:
			want.open = 1
		}
		if s != want {
			t.Errorf("%+v, want %+v", s, want)
		}
	}
}

func TestBinnedByHand(t *testing.T) {
	got := binned([]moved{{0.1, fold.Pass, true}, {0.2, fold.Fail, true}, {0.2, fold.Fail, false}, {2.9, fold.NotProven, true}, {7, fold.Fail, true}})
	if len(got) != 12 || got[0] != (verdicts{0.125, 0.5, 0.5, 0, 2}) || got[11] != (verdicts{2.875, 0, 0, 1, 1}) || got[5].n != 0 {
		t.Errorf("%+v", got)
	}
}

// The curves are drawn once for a terminal and once for paper, and both show the same; what passes at the limit is a miss.
func TestCurvesSlice(t *testing.T) {
	wholeSlice(t)
	o := slice(6)
	o.at = "first use"
	o.out = t.TempDir()
	tb := made(t, curves, o)
	if r := numbers(t, tb, "0.0"); r[1] != "100   0   0" {
		t.Errorf("no mismatch: %v", r)
	}
	if n := strings.Count(tb.Drawing, "\n"); n != 17 || !strings.Contains(tb.Drawing, "> ") {
		t.Errorf("drawn in %d lines:\n%s", n, tb.Drawing)
	}
	cs := []curve{{"x", decided([]seen{{0.01, 0.01, 0.05}}), binned(nil)}}
	var miss table
	miss.curves(cs)
	if len(miss.Missed) != 1 {
		t.Errorf("a part 0.05 off that is said to be within 0.02: %q", miss.Missed)
	}
	d, paths := xml.NewDecoder(strings.NewReader(svgCurves(cs))), 0
	for {
		k, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := k.(xml.StartElement); ok && e.Name.Local == "path" {
			paths++
		}
	}
	if paths != 5 { // axes, limit, three curves
		t.Errorf("%d paths", paths)
	}
	if math.IsNaN(cs[0].decision[3].pass) {
		t.Error("no number")
	}
}
