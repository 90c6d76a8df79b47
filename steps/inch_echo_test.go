package steps_test

import (
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/kit"
)

// An inch job on a machine card in mm: what the page shows to 0.0001 in can be read back.
func TestInchOffsetCanBeReadBack(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Unit = unit.Imperial; j.Machine.Readout = 0.001 })
	if got := kit.Keyed(p); got < 0.00254*(1-1e-9) {
		t.Fatalf("last digit %g mm, finer than 0.0001 in", got)
	}
	for _, v := range []float64{-223.0151234, 0.0031, 177.7777} {
		shown := unit.Format(kit.Round(p, v), unit.KLength, unit.Imperial, 0)
		n, err := unit.Parse(shown, unit.KLength, unit.Imperial)
		if err != nil {
			t.Fatal(err)
		}
		if d := n.Value - kit.Round(p, v); d > kit.Keyed(p)/2 || d < -kit.Keyed(p)/2 {
			t.Errorf("%g shown as %s in is off by %g", v, shown, d)
		}
	}
}
