package skim

import (
	"math"
	"testing"

	"fliptrue/calc/budget"

	"pgregory.net/rapid"
)

func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g within %g", name, got, want, tol)
	}
}

// Last pass programmed at 16.300, rim 12.004 over the floor: the face should stand 4.296 over the rim.
func height(t *testing.T, d float64) Height {
	t.Helper()
	h, err := Skim{Face: -205.704 + d, Rim: -210.000, Programmed: 16.300, RimHeight: 12.004}.Height()
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func TestHeight(t *testing.T) {
	h := height(t, 0)
	near(t, "d", h.D, 0, 1e-9)
	near(t, "u", h.Std, 0.002517, 1e-6)
	near(t, "u by hand", h.Std, math.Sqrt(2*0.001*0.001+(0.003*0.003+0.002*0.002)/3), 1e-12)
	near(t, "cutter high by 0.1", height(t, 0.1).D, 0.1, 1e-9)
	far, _ := Skim{Apart: 30, Tilt: 0.0004, Refitted: true}.Height()
	near(t, "with tilt over 30 and a cutter put back", far.Std, math.Sqrt(2e-6+(9e-6+4e-6+0.012*0.012+0.02*0.02)/3), 1e-12)
	close, _ := Skim{Apart: 20, Tilt: 0.0004}.Height()
	near(t, "20 apart is near", close.Std, 0.002517, 1e-6)
	for _, bad := range []Skim{{Face: math.NaN()}, {Rim: math.Inf(1)}, {URim: -1}, {Apart: -1}} {
		if _, err := bad.Height(); err == nil {
			t.Errorf("%+v was taken", bad)
		}
	}
}

func TestDecide(t *testing.T) {
	for _, c := range []struct {
		name           string
		d              float64
		plan           Plan
		verdict        budget.Verdict
		act            Act
		offset, length float64
	}{
		{"right", 0.002, Plan{Cutters: 1, Left: 0.3}, budget.Pass, GoOn, 0, 0},
		{"right, raise still in", 0.002, Plan{Cutters: 1, Left: 0.6, Raised: 0.3}, budget.Pass, Correct, -0.302, 0},
		{"right, raise still in, two cutters", 0.002, Plan{Cutters: 2, Left: 0.6, Raised: 0.3}, budget.Pass, Correct, -0.3, 0},
		{"high by 0.1", 0.1, Plan{Cutters: 1, Left: 0.3}, budget.Fail, Correct, -0.1, 0},
		{"low by 0.1, stock left", -0.1, Plan{Cutters: 1, Left: 0.3}, budget.Fail, Correct, 0.1, 0},
		{"high by 0.1, two cutters", 0.1, Plan{Cutters: 2, Left: 0.3}, budget.Fail, Correct, 0, -0.1},
		{"high by 0.1, two cutters, raised", 0.1, Plan{Cutters: 2, Left: 0.6, Raised: 0.3}, budget.Fail, Correct, -0.3, -0.1},
		{"low by 0.1, nothing left", -0.1, Plan{Cutters: 1}, budget.Fail, TooThin, 0, 0},
		{"low by 0.5, and 0.3 left", -0.5, Plan{Cutters: 1, Left: 0.3}, budget.Fail, TooThin, 0, 0},
		{"high by 1", 1, Plan{Cutters: 1, Left: 0.3}, budget.Fail, TouchCutter, 0, 0},
		{"low by 2.8, deep stock", -2.8, Plan{Cutters: 1, Left: 5}, budget.Fail, TouchCutter, 0, 0},
		{"between", 0.018, Plan{Cutters: 1, Left: 0.3}, budget.NotProven, Measure, 0, 0},
		{"just under size is within the allowance", -0.010, Plan{Cutters: 1}, budget.Pass, GoOn, 0, 0},
		{"a wide allowance", 0.1, Plan{Cutters: 1, Left: 0.3, Allowance: 1}, budget.Pass, GoOn, 0, 0},
	} {
		d := height(t, c.d).Decide(c.plan)
		if d.Verdict != c.verdict || d.Act != c.act || math.Abs(d.OffsetBy-c.offset) > 1e-9 || math.Abs(d.LengthBy-c.length) > 1e-9 {
			t.Errorf("%s: %+v", c.name, d)
		}
	}
}

// What is corrected comes out right: after the move the cutter stands where it is programmed,
// with the raise out. No cutter length wrong by 0.1 to 2.8 is passed.
func TestCorrectionComesOutRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wrong := rapid.Float64Range(-3, 3).Draw(t, "length wrong")
		raise := rapid.SampledFrom([]float64{0, Raise}).Draw(t, "raise")
		cutters := rapid.IntRange(1, 3).Draw(t, "cutters")
		floor := rapid.Float64Range(-300, 0).Draw(t, "floor")
		offset, length := raise, 0.0 // over the right ones
		// The tip stands wrong too high of what is commanded, whatever was entered.
		face := floor + 16 + offset + length + wrong
		h, err := Skim{Face: face, Rim: floor + 12.004, Programmed: 16 + raise, RimHeight: 12.004}.Height()
		if err != nil {
			t.Fatal(err)
		}
		d := h.Decide(Plan{Cutters: cutters, Left: 1 + raise, Raised: raise})
		if math.Abs(wrong) >= 0.1 && d.Verdict != budget.Fail {
			t.Fatalf("length wrong by %g: %+v", wrong, d)
		}
		if d.Act == Correct && d.Verdict == budget.Fail {
			if after := offset + d.OffsetBy + length + d.LengthBy + wrong; math.Abs(after) > 1e-9 {
				t.Fatalf("after the move the cutter stands %g high: %+v", after, d)
			}
		}
		if d.Act == GoOn && raise > 0 {
			t.Fatal("went on with the raise left in")
		}
	})
}

// The lid: thrown above 2.247, slips above 0.252, 0.2 planned.
func TestGapLimit(t *testing.T) {
	g, err := GapLimit(2.247, 0.252, 0.2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "gap limit", g.Most, 0.3, 0) // 0.5 (2.247 - 0.2) is 1.02
	near(t, "raise left in: 0.026 no feeler proves", g.Raise, 0.3, 0)
	g, _ = GapLimit(0.5, 0.4, 0.2)
	near(t, "half of what is left", g.Most, 0.15, 1e-12)
	near(t, "0.1 a feeler proves", g.Raise, 0, 0)
	if _, err := GapLimit(0.2, 0.1, 0.2); err == nil {
		t.Error("a cut at the depth that throws the part was taken")
	}
	rapid.Check(t, func(t *rapid.T) { // as deep as proven and no deeper, the part is never thrown
		retention, ap := rapid.Float64Range(0.05, 3).Draw(t, "retention"), rapid.Float64Range(0.01, 3).Draw(t, "ap")
		g, err := GapLimit(retention, rapid.Float64Range(0, retention).Draw(t, "register"), ap)
		if err == nil && ap+g.Most > retention {
			t.Fatalf("gap %g under %g with ap %g", g.Most, retention, ap)
		}
	})
}
