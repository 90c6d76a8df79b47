// Package skim decides the height of side 2 from the first cut itself: the skimmed face and
// the fixture's rim, touched in one mounting of the probe. No probe length, no cutter length
// and no machine zero is in their difference, so it shows what all of them together did.
//
// Goals: the height with its uncertainty, what to do about it as data, and the limit of the
// gap that must be proven before that first cut.
//
// Non-goals: it says nothing in words for a person and enters nothing at a control. It can't see a chip
// under the part: the face is where the cutter is, not where the part is.
//
// Lengths mm, heights up positive.
package skim

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
)

// Limits and presets. D: a default that a shop may change. Common practice, from memory.
const (
	ThicknessPreset = 0.10  // allowance of the thickness, T_z (D)
	HeightShare     = 0.2   // of it that the height of the skim may take (D)
	LengthWrong     = 0.5   // beyond this no offset is at fault but the cutter's length (D)
	GapMost         = 0.3   // of the gap under the tip before the first cut (D)
	GapShare        = 0.5   // of what is left of the ceiling over the planned depth (D)
	FeelerLeast     = 0.05  // a gap below this no feeler or gauge block proves at a moving machine (D)
	Raise           = 0.3   // left in for the first skim (D)
	TouchFar        = 20.0  // face and rim farther apart than this in plan: the floor's tilt counts (D)
	NotRetouched    = 0.020 // half-width of a length whose cutter left its collet for the probe
)

// Skim is one touch of the face just cut and one of the rim, in one mounting of the probe.
type Skim struct {
	Face, Rim  float64 // Z as read
	Programmed float64 // Z of the pass that cut the face, raise included, over the floor
	RimHeight  float64 // of the rim over the floor, from the fixture card
	URim       float64 // half-width of that; 0 takes 0.003
	UFace      float64 // half-width of the face's roughness; 0 takes 0.002
	Touch      float64 // standard uncertainty of one touch; 0 takes 0.001
	Apart      float64 // face to rim in plan
	Tilt       float64 // of the floor, half-width, ratio: counts where Apart is above TouchFar
	Refitted   bool    // the cutter left its collet since it cut, and its length was not touched again
}

// Height is how much higher than programmed the cutter stands: positive, it cut too little.
type Height struct {
	D     float64
	Lines []budget.Line
	budget.Result
}

// Height finds it:
//
//	d = (Z_face - Z_rim) - (z_programmed - h_rim)
//
// u 0.0025 with the presets, against 0.0174 for what is known before a skim.
func (s Skim) Height() (Height, error) {
	for _, v := range []struct {
		name  string
		value float64
	}{{"face", s.Face}, {"rim", s.Rim}, {"programmed height", s.Programmed}, {"height of the rim", s.RimHeight},
		{"distance of face and rim", s.Apart}, {"tilt", s.Tilt}} {
		if math.IsNaN(v.value) || math.IsInf(v.value, 0) {
			return Height{}, fmt.Errorf("%s is %g: it must be a finite number; touch it again", v.name, v.value)
		}
	}
	if s.URim < 0 || s.UFace < 0 || s.Touch < 0 || s.Tilt < 0 || s.Apart < 0 {
		return Height{}, fmt.Errorf("an uncertainty, tilt or distance is below 0; correct it")
	}
	touch := preset(s.Touch, 0.001)
	h := Height{D: (s.Face - s.Rim) - (s.Programmed - s.RimHeight)}
	h.Lines = []budget.Line{
		budget.N("touch of the face", touch, 0), budget.N("touch of the rim", touch, 0),
		budget.R("rim on the card", preset(s.URim, 0.003)), budget.R("face as cut", preset(s.UFace, 0.002)),
	}
	if s.Apart > TouchFar {
		h.Lines = append(h.Lines, budget.R("tilt between face and rim", s.Tilt*s.Apart))
	}
	if s.Refitted {
		h.Lines = append(h.Lines, budget.R("cutter put back", NotRetouched).AsAssumed())
	}
	h.Result = budget.Combine(h.Lines)
	return h, nil
}

func preset(v, otherwise float64) float64 {
	if v == 0 {
		return otherwise
	}
	return v
}

// Act is what follows from a height.
type Act int

const (
	GoOn        Act = iota // the height is proven and no raise is left in
	Measure                // not proven either way: touch both again, or with less doubt
	Correct                // move by OffsetBy and LengthBy, read back, skim again
	TouchCutter            // the length is wrong, not the offset: touch the cutter
	TooThin                // the face stands under its finished height: no correction brings it back
)

// Decision is the verdict on a height with what to do. Moves are to be added to the entry at
// the control, which lifts the tip by as much; negative is DOWN.
type Decision struct {
	Verdict  budget.Verdict
	Limit    float64
	Act      Act
	OffsetBy float64 // Z offset
	LengthBy float64 // length entry of the cutter that skimmed
}

// Plan is what a decision needs beside the height.
type Plan struct {
	Allowance float64 // T_z; 0 takes ThicknessPreset
	Cutters   int     // in the program
	Left      float64 // programmed height of the face, raise included, over its finished height
	Raised    float64 // still left in at this skim
}

// Decide judges |D| with its guard against HeightShare of the allowance. One cutter: raise
// and d go out together by the offset. Several: d belongs to the cutter that skimmed and goes
// into its length, for the offset would move the others too; the raise goes out of the offset.
func (h Height) Decide(p Plan) Decision {
	limit := HeightShare * preset(p.Allowance, ThicknessPreset)
	d := Decision{Limit: limit, Verdict: budget.Decide(math.Abs(h.D), h.Guard, budget.AtMost, limit)}
	switch {
	case d.Verdict == budget.Fail && p.Left+h.D < 0:
		d.Act = TooThin
	case math.Abs(h.D) > LengthWrong && d.Verdict == budget.Fail:
		d.Act = TouchCutter
	case d.Verdict == budget.NotProven:
		d.Act = Measure
	case d.Verdict == budget.Pass && p.Raised == 0:
		d.Act = GoOn
	case p.Cutters <= 1:
		d.Act, d.OffsetBy = Correct, -(p.Raised + h.D)
	default:
		d.Act, d.OffsetBy = Correct, -p.Raised
		if d.Verdict == budget.Fail {
			d.LengthBy = -h.D
		}
	}
	return d
}

// Gap is the limit of the gap between tip and rim before the first cut, over what it should be.
type Gap struct {
	Most  float64 // |as proven by block or feeler - as programmed|
	Raise float64 // to leave in for the first skim; 0: none
}

// GapLimit is the most the tip may be too low before anything is cut: half of what is left
// of the depth that throws the part, never above GapMost:
//
//	min(0.3, 0.5 (retention - ap))
//
// Where half of what is left of the depth that slips the part is less than a feeler
// proves, the first skim is cut with the raise left in, touched, and only then lowered. No room
// at all, ap at or above the retention ceiling, is an error: nothing may be cut.
func GapLimit(retention, register, ap float64) (Gap, error) {
	if !(ap > 0) || math.IsNaN(retention) || math.IsNaN(register) {
		return Gap{}, fmt.Errorf("depth of cut %g and ceilings %g, %g give no limit; state the cut", ap, retention, register)
	}
	if ap >= retention {
		return Gap{}, fmt.Errorf("depth of cut %g is not below the %g that throws the part; take a lighter cut", ap, retention)
	}
	g := Gap{Most: math.Min(GapMost, GapShare*(retention-ap))}
	if GapShare*(register-ap) < FeelerLeast {
		g.Raise = Raise
	}
	return g, nil
}
