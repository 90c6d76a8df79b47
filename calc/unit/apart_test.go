package unit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestApart(t *testing.T) {
	for _, c := range []struct {
		v, limit float64
		k        Kind
		sys      System
		a, b     string
	}{
		{0.0504, 0.05, KLength, Metric, "0.0504 mm", "0.0500 mm"},
		{0.0496, 0.05, KLength, Metric, "0.0496 mm", "0.0500 mm"},
		{0.051, 0.05, KLength, Metric, "0.051 mm", "0.050 mm"},
		{0.05, 0.05, KLength, Metric, "0.050 mm", "0.050 mm"},
		{0.050004, 0.05, KLength, Metric, "0.050004 mm", "0.050000 mm"},
		{0.05 * 1.0001, 0.05, KLength, Imperial, "0.0019687 in", "0.0019685 in"},
		{math.NaN(), 0.05, KLength, Metric, "- mm", "0.050 mm"},
	} {
		if a, b := Apart(c.v, c.limit, c.k, c.sys, 0); a != c.a || b != c.b {
			t.Errorf("%v of %v: %q of %q, want %q of %q", c.v, c.limit, a, b, c.a, c.b)
		}
	}
}

// A value beyond its limit never prints as one within it, and neither prints alike.
func TestApartNeverAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.Float64Range(-2, 2).Draw(t, "limit")
		v := limit + rapid.Float64Range(1e-7, 1e-3).Draw(t, "off")*rapid.SampledFrom([]float64{-1, 1}).Draw(t, "side")
		sys := rapid.SampledFrom([]System{Metric, Imperial}).Draw(t, "sys")
		a, b := Apart(v, limit, KLength, sys, 0)
		if a == b {
			t.Fatalf("%v and %v both print %q", v, limit, a)
		}
		x, errX := Parse(a, KLength, sys)
		y, errY := Parse(b, KLength, sys)
		if errX != nil || errY != nil || (x.Value < y.Value) != (v < limit) {
			t.Fatalf("%v of %v prints %q of %q", v, limit, a, b)
		}
	})
}
