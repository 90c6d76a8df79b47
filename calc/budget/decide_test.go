package budget

import (
	"math"
	"testing"
)

// ISO 14253-1 (secondary sources, verified copy): inside the zone reduced by the guard is proven conforming, outside the
// zone widened by it is proven non-conforming, between them neither is. 0.1 ± and 1.65 u with u = 0.018: limits computed here.
func TestDecide(t *testing.T) {
	const g = 1.65 * 0.018
	near(t, "guard", g, 0.0297, 1e-12)
	for _, c := range []struct {
		v    float64
		want Verdict
	}{{0.0702, Pass}, {0.0704, NotProven}, {0.075, NotProven}, {0.1296, NotProven}, {0.1298, Fail}} {
		if got := Decide(c.v, g, 0.1); got != c.want {
			t.Errorf("Decide(%v) = %v, want %v", c.v, got, c.want)
		}
		if got := DecideBetween(c.v, g, -0.1, 0.1); got != c.want {
			t.Errorf("DecideBetween(%v) = %v, want %v", c.v, got, c.want)
		}
		if got := DecideBetween(-c.v, g, -0.1, 0.1); got != c.want {
			t.Errorf("DecideBetween(%v) = %v, want %v", -c.v, got, c.want)
		}
	}
	// on the line, in numbers a float64 holds exactly
	if Decide(0.75, 0.25, 1) != Pass || Decide(1.25, 0.25, 1) != Fail || Decide(1, 0, 1) != Pass {
		t.Error("a value on the line belongs to the proven side")
	}
	near(t, "probability", Conformance(0.075, 0.018, -0.1, 0.1), 0.9175667301, 1e-9)
	if Conformance(0.5, 0, 0, 1) != 1 || Conformance(2, 0, 0, 1) != 0 {
		t.Error("probability without uncertainty")
	}
	if Provable(0.1, 0.1) || !Provable(0.099, 0.1) || Provable(math.NaN(), 1) {
		t.Error("Provable")
	}
	for _, bad := range []float64{math.NaN(), -1, inf} {
		if Decide(0, bad, 1) != NotProven || Decide(5, bad, 1) != NotProven {
			t.Errorf("guard %v gave a verdict", bad)
		}
	}
	if Decide(math.NaN(), 0.1, 1) != NotProven || Decide(0, 0.1, math.NaN()) != NotProven || DecideBetween(math.NaN(), 0, -1, 1) != NotProven {
		t.Error("not a number gave a verdict")
	}
	if Pass.String() != "PASS" || Fail.String() != "FAIL" || NotProven.String() != "NOT PROVEN" {
		t.Error("words")
	}
}

// The release decision on one axis, micrometres: 0.1 mrad over 50 mm and a kink of 2.3 as the value. Computed here.
func TestReleaseDecision(t *testing.T) {
	const value, allowance = 0.1*50 + 2.3, 50
	for _, c := range []struct {
		clearance, sum float64
		want           Verdict
	}{{5, 23.413660876, Pass}, {30, 38.896898851, Pass}, {50, 55.009908858, NotProven}} {
		r := Combine(with(open, R("clearance", c.clearance)))
		near(t, "value + guard", value+r.Guard, c.sum, 2e-6)
		if got := Decide(value, r.Guard, allowance); got != c.want {
			t.Errorf("clearance %v: %v, want %v", c.clearance, got, c.want)
		}
	}
	// what machine and fixture lines leave of half the allowance for the skew, mrad over 50 mm
	r := Combine(with(bare, R("squareness", 5.4)))
	near(t, "left for the skew", (25-r.Guard)/50, 0.291949402, 1e-7)
}

func TestPercent(t *testing.T) {
	for _, c := range []struct {
		share float64
		want  int
	}{{0, 0}, {0.001, 1}, {0.454, 45}, {0.9999, 99}, {1, 100}} {
		if got := Percent(c.share); got != c.want {
			t.Errorf("Percent(%v) = %d, want %d", c.share, got, c.want)
		}
	}
}

// Half-widths in mm; sums computed here.
func TestRank(t *testing.T) {
	in := []Share{{"pickup", .005, false}, {"bore", .004, false}, {"clearance", .030, false}, {"skew", .00873, false}, {"heat", .0082, false},
		{"cutter", .006, true}, {"kink", .004, false}, {"squareness", .0054, false}, {"moisture", .0076, false}}
	r := Rank(in)
	near(t, "worst case", r.Worst, 0.07893, 1e-9)
	near(t, "root of squares", r.RSS, 0.034976748, 1e-9)
	if r.Shares[0].Name != "clearance" || r.Shares[1].Name != "skew" || r.Shares[7].Name != "bore" || r.Shares[8].Name != "kink" || in[0].Name != "pickup" {
		t.Errorf("order %v", r.Shares)
	}
	in[2].Half = .005
	r = Rank(in)
	near(t, "worst case, against the walls", r.Worst, 0.05393, 1e-9)
	near(t, "root of squares, against the walls", r.RSS, 0.018664750, 1e-9)
}
