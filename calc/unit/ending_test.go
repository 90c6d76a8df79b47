package unit

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestEnding(t *testing.T) {
	for _, c := range []struct {
		text       string
		want, half float64
		sys        System
		step       float64
		out, why   string
	}{
		{"..12", -152.809, 1, Metric, 0, "-152.812", ""},
		{"..5", -152.806, 0.2, Metric, 0, "-152.805", ""},
		{"..12", 0.010, 1.2, Metric, 0, "0.012", ""},
		{"..12", -0.010, 1.2, Metric, 0, "-0.012", ""},
		{"..12", 0, 1.2, Metric, 0, "", "equally near"}, // which side, nobody knows
		{"..00", 0.004, 1.2, Metric, 0, "0.000", ""},
		{"..50", -152.8, 1, Metric, 0, "", "equally near"},
		{"..9.812", -152.809, 20, Metric, 0, "-149.812", ""},
		{"..2,812", -152.809, 20, Metric, 0, "-152.812", ""},
		{"..12", -152.809, 1, Metric, 0.01, "-153.12", ""}, // two decimals on this readout
		{"..12", -10.8086 * 25.4, 2, Imperial, 0, "-10.8112", ""},
		{"..12", -200, 201, Metric, 0, "", "too rough"},
		{"..", 1, 1, Metric, 0, "", "no last digits"},
		{"..1x", 1, 1, Metric, 0, "", "no last digits"},
		{"..-1", 1, 1, Metric, 0, "", "no last digits"},
		{"..1.", 1, 1, Metric, 0, "", "no last digits"},
	} {
		out, err := Ending(c.text, c.want, c.half, KLength, c.sys, c.step)
		if out != c.out || (err != nil) != (c.why != "") || err != nil && !strings.Contains(err.Error(), c.why) {
			t.Errorf("%+v: %q, %v", c, out, err)
		}
	}
	if _, err := Parse("..12", KLength, Metric); err == nil {
		t.Error("a number begins with two points")
	}
}

// What is given ends so, and of all numbers that end so, found one by one, none is as near.
func TestEndingIsNearest(t *testing.T) {
	given := 0
	rapid.Check(t, func(rt *rapid.T) {
		digits := rapid.StringMatching(`[0-9]{1,3}`).Draw(rt, "digits")
		want := rapid.Float64Range(-300, 300).Draw(rt, "want")
		out, err := Ending(".."+digits, want, 0.1, KLength, Metric, 0)
		best, next := math.Inf(1), math.Inf(1)
		near := ""
		for i := int(math.Floor(want*1000)) - 2500; i <= int(want*1000)+2500; i++ {
			s := strconv.FormatFloat(float64(i)/1000, 'f', 3, 64)
			if !strings.HasSuffix(strings.ReplaceAll(s, ".", ""), digits) {
				continue
			}
			if d := math.Abs(float64(i)/1000 - want); d < best {
				best, next, near = d, best, s
			} else if d < next {
				next = d
			}
		}
		switch ratio := next / best; {
		case ratio > 1.5*(1+1e-6) && (err != nil || out != near):
			rt.Fatalf("..%s near %v: %q %v, want %q", digits, want, out, err, near)
		case ratio < 1.5*(1-1e-6) && err == nil:
			rt.Fatalf("..%s near %v: %q, and another is %.3g times as far", digits, want, out, ratio)
		case err == nil:
			given++
		}
	})
	if given < 5 {
		t.Errorf("only %d were given", given)
	}
}
