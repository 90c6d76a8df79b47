package steps_test

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/steps/checks"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/side2"
)

// Side 1 measured 26.70 where the job says 16.02: side 2 jogs over that, waits for that to cool, looks for its top
// there. All of them took the job's.
func TestThicknessAsMeasuredOnSide1(t *testing.T) {
	p := lidPlan(t, nil)
	measured := facts.Thickness.Is(facts.ThicknessFact{T: unit.Length(26.70)})
	measured.By = "open"
	at := func(step fold.StepID, fs ...fold.Known) fold.View {
		return standing(p, step, append(fs, fold.Known{ID: "seat"}))
	}
	if got := kit.ThicknessNow(p, at("seat", measured)); got != 26.70 {
		t.Errorf("as it goes in %.3f", got)
	}
	if got, by := checks.PartTop(p, at("seat", measured)), checks.PartTop(p, at("seat")); math.Abs(got-by-10.68) > 1e-9 {
		t.Errorf("its top at %.3f, by the job at %.3f", got, by)
	}
	wait := func(fs ...fold.Known) string {
		var o fold.Outcome
		side2.WarmCheck(p, standing(p, "seat", append(fs, facts.Identity.Is(facts.IdentityFact{T: 20, U: 0.6, Measured: 1})), [2]string{"temp", "34C"}), &o)
		return o.Next[0].Words
	}
	if a, b := wait(measured), wait(); a == b || !strings.Contains(b, "min") {
		t.Errorf("%q for both", a)
	}
}
