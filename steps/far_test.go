package steps_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// A reading outside its window is named by the slip that brings it in, or nearly in.
func TestFarNamesTheSlip(t *testing.T) {
	p := lidPlan(t, nil)
	length := fold.Ask{Field: "x", Kind: fold.Reading, Unit: unit.KLength, Window: kit.Around(78.74, 0.05, "as before")}
	jog := fold.Ask{Field: "jog1", Kind: fold.Reading, Unit: unit.KLength, Window: kit.JogWindow(p, 0.1, 0.2)}
	for _, c := range []struct {
		a     fold.Ask
		typed string
		far   bool
		names string
	}{
		{length, "78.75", false, ""},
		{length, "787.40", true, "decimal point"},
		{length, "788.00", true, "decimal point one place too far right: 788.00 / 10, nearly"},
		{length, "79.70", true, ""},
		{length, "60.00", true, ""},
		{jog, "0.310", false, ""},
		{jog, "-0.110", false, ""},
		{jog, "0.105", true, "the needle hardly moved"},
		{jog, "1.700", true, ""},
	} {
		n, err := unit.Parse(c.typed, unit.KLength, unit.Metric)
		if err != nil {
			t.Fatal(err)
		}
		far, slips := p.Far(c.a, c.typed, n.Value)
		got := ""
		if len(slips) > 0 {
			got = slips[0].Words
		}
		if far != c.far || (c.names == "") != (got == "") || !strings.Contains(got, c.names) {
			t.Errorf("%s at %s: far %v, %q", c.typed, c.a.Field, far, got)
		}
	}
}

// Before the first move by a new offset the height named clears the highest thing that stands.
func TestClearHeight(t *testing.T) {
	p := lidPlan(t, nil)
	on := func(fs ...fold.FactID) func(fold.FactID) bool {
		return func(f fold.FactID) bool { return slices.Contains(fs, f) }
	}
	rim := desk.SeatZ(p) + p.Job.Fixture.AsMade.Floor.Depth
	for _, c := range []struct {
		on      func(fold.FactID) bool
		over    float64
		highest string
	}{
		{on(), rim, "the fixture's rim"},
		{on("seat"), desk.SeatZ(p) + kit.Thickness(p), "the part's top"},
		{on("seat", "clamps"), p.Setup.Clamps[0].Top, "clamp " + p.Setup.Clamps[0].Name},
	} {
		z, highest := desk.ClearHeight(p, c.on, kit.Thickness(p))
		if highest != c.highest || z < c.over+10 || z >= c.over+11 || z != math.Trunc(z) {
			t.Errorf("%s at %.3f: Z%+.3f over %s", c.highest, c.over, z, highest)
		}
	}
	say := desk.JogOver(p, fold.Outside(p, nil), "part zero")
	if !strings.Contains(say, "the probe in, its length active") || !strings.Contains(say, "W Z+22.000") {
		t.Error(say)
	}
}
