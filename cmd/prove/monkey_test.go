package main

import (
	"runtime"
	"testing"

	"fliptrue/steps/fold"
)

// A few dozen keys at each size; the full run is a command's.
func TestMonkeySlice(t *testing.T) {
	if testing.Short() || runtime.GOOS == "windows" {
		t.Skip("a real process for some seconds")
	}
	t.Parallel()
	o := slice(1)
	o.stride = 2
	tb := made(t, monkey, o)
	for _, m := range tb.Missed {
		t.Error(m)
	}
	for _, f := range tb.Failures {
		t.Error(f.Seed, f.What)
	}
}

// The judge of it sees a step that passes without its readings.
func TestHollow(t *testing.T) {
	n := 0
	st := fold.State{Steps: []fold.StepState{{ID: "bore", Verdict: fold.Pass, Round: &fold.Round{}, Asks: []fold.Ask{{Field: "hit1.x"}, {Field: "note", Optional: true}}}}}
	if got := hollow(&st, &n); len(got) != 1 || n != 1 {
		t.Error(got, n)
	}
}
