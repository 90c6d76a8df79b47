package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

var (
	anyKind   = rapid.SampledFrom(Kinds())
	anySystem = rapid.SampledFrom([]System{Metric, Imperial})
)

// inside draws a value Parse would take for k.
func inside(t *rapid.T, k Kind) float64 {
	limit, _ := Limit(k, Metric)
	// Most readings are small against the limit: spread the draws over the decades.
	v := limit * math.Pow(10, -rapid.Float64Range(0, 9).Draw(t, "decade")) * rapid.Float64Range(-1, 1).Draw(t, "part")
	if k == Count {
		v = math.Abs(math.Round(v))
	}
	return v
}

// What is shown reads back to the same within half a unit of the last digit shown.
func TestShowReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, sys := anyKind.Draw(t, "kind"), anySystem.Draw(t, "system")
		v := inside(t, k)
		limit, _ := Limit(k, Metric)
		step := Step(k, sys)
		if math.Abs(v) > limit-step {
			v = 0 // rounding up at the very limit would step over it
		}
		s := Show(v, k, sys, 0)
		n, err := Parse(s, k, sys)
		// 1e-14: the printer looks at 15 significant digits.
		if err != nil || math.Abs(n.Value-v) > step/2+1e-14*math.Abs(v) {
			t.Fatalf("%v is shown as %q, which reads as %v, %v", v, s, n.Value, err)
		}
		// What was shown and is shown again does not change.
		if again := Show(n.Value, k, sys, 0); again != s {
			t.Fatalf("%q reads back and shows as %q", s, again)
		}
	})
}

// What is written to a file reads back to the last bit, in whichever system.
func TestWriteReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, sys := anyKind.Draw(t, "kind"), anySystem.Draw(t, "system")
		v := inside(t, k)
		if k != Count && math.Abs(v) < 1e-6*Step(k, sys)/1e-4 {
			v = 0
		}
		s := Write(v, k, sys)
		for _, in := range []System{Metric, Imperial} {
			if n, err := Parse(s, k, in); err != nil || n.Value != v {
				t.Fatalf("%v is written as %q, which reads as %v, %v", v, s, n.Value, err)
			}
		}
	})
}

// Through inches and back: within the digits an inch readout shows, and to the last
// bit when written in full.
func TestInchRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// A reading on a readout of 0.001 mm.
		mm := float64(rapid.IntRange(-9_000_000, 9_000_000).Draw(t, "microns")) / 1000
		shown, err := Parse(Format(mm, KLength, Imperial, 0), KLength, Imperial)
		if half := 0.00005 * float64(Inch); err != nil || math.Abs(shown.Value-mm) > half*(1+1e-9) {
			t.Fatalf("%v mm comes back through inches as %v, %v", mm, shown.Value, err)
		}
		full, err := Parse(Write(mm, KLength, Imperial), KLength, Imperial)
		if err != nil || full.Value != mm {
			t.Fatalf("%v mm comes back through inches written in full as %v, %v", mm, full.Value, err)
		}
		// And an inch reading through mm: 0.0001 in = 0.00254 mm, so 5 decimals hold it exactly.
		tenths := float64(rapid.IntRange(-3_000_000, 3_000_000).Draw(t, "tenths"))
		in := Format(tenths*0.00254, KLength, Imperial, 0)
		n, err := Parse(Format(tenths*0.00254, KLength, Metric, 0.00001)+"mm", KLength, Imperial)
		if err != nil || Format(n.Value, KLength, Imperial, 0) != in {
			t.Fatalf("%s in comes back through mm as %v, %v", in, Format(n.Value, KLength, Imperial, 0), err)
		}
	})
}

// A named slip lands in the window; inside the window only an equal reading is named.
func TestSlipsLand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Window{rapid.Float64Range(-500, 500).Draw(t, "want"), rapid.Float64Range(0, 5).Draw(t, "half")}
		x := rapid.Float64Range(-2000, 2000).Draw(t, "x")
		other := rapid.Float64Range(-500, 500).Draw(t, "other")
		for _, s := range Slips(x, w, SlipContext{Kind: KLength, TipRadius: 1, RefLength: 50, Other: &other, Offset: -267.45, DialTurn: 1}) {
			if w.Has(x) || !w.Has(s.Would) || s.Words == "" || s.ID == "" {
				t.Fatalf("Slips(%v, %v): %+v", x, w, s)
			}
		}
	})
}
