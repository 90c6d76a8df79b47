package worth

import (
	"testing"

	"fliptrue/calc/unit"

	"pgregory.net/rapid"
)

// The corners of the table, on both sides of each.
func TestChoose(t *testing.T) {
	old := Case{GoodFixture: 3, GoodPrograms: 3, Scale: true}
	with := func(c Case, f func(*Case)) Case { f(&c); return c }
	for _, tt := range []struct {
		name string
		c    Case
		want Level
	}{
		{"nothing said", with(old, func(c *Case) { c.Allowance = 0.05 }), Irreplaceable},
		{"cheap and proven", with(old, func(c *Case) { c.Allowance, c.Worth = 0.05, 222 }), Proven},
		{"a little dearer", with(old, func(c *Case) { c.Allowance, c.Worth = 0.05, 223 }), FirstUse},
		{"dear", with(old, func(c *Case) { c.Allowance, c.Worth = 0.05, 2301 }), Irreplaceable},
		{"dear, strapped", with(old, func(c *Case) { c.Allowance, c.Worth, c.Strapped = 0.05, 2301, true }), FirstUse},
		{"dear with spares", with(old, func(c *Case) { c.Allowance, c.Worth, c.Spares = 0.05, 2301, 10 }), Proven},
		{"small allowance", with(old, func(c *Case) { c.Allowance, c.Worth = 0.02, 63 }), FirstUse},
		{"small allowance, dear", with(old, func(c *Case) { c.Allowance, c.Worth = 0.02, 651 }), Irreplaceable},
		{"wide allowance", with(old, func(c *Case) { c.Allowance, c.Worth = 0.2, 462 }), Proven},
		{"between rows the smaller one", with(old, func(c *Case) { c.Allowance, c.Worth = 0.19, 400 }), FirstUse},
		{"new fixture", with(old, func(c *Case) { c.Allowance, c.Worth, c.GoodFixture = 0.05, 100, 2 }), FirstUse},
		{"new program", with(old, func(c *Case) { c.Allowance, c.Worth, c.GoodPrograms = 0.05, 100, 0 }), FirstUse},
		{"one bore, no thermometer", with(old, func(c *Case) { c.Allowance, c.Worth, c.Scale = 0.05, 100, false }), FirstUse},
		{"after a mishap", with(old, func(c *Case) { c.Allowance, c.Worth, c.Doubted = 0.05, 100, true }), FirstUse},
		{"spares, no worth", Case{Allowance: 0.05, Spares: 3}, FirstUse},
	} {
		if got, why, err := Choose(tt.c); got != tt.want || err != nil || why == "" {
			t.Errorf("%s: level %d (%s), %v; want %d", tt.name, got, why, err, tt.want)
		}
	}
}

func TestChooseRefuses(t *testing.T) {
	for _, c := range []Case{{}, {Allowance: 0.05, Worth: -1}, {Allowance: 0.05, Spares: -1}, {Allowance: -1}} {
		if _, _, err := Choose(c); err == nil {
			t.Errorf("%+v is taken", c)
		}
	}
}

// Dearer, tighter, newer or doubted never reads less.
func TestNeverLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Case{
			Allowance: unit.Length(rapid.Float64Range(0.005, 0.5).Draw(t, "allowance")), Worth: unit.Duration(rapid.Float64Range(1, 8000).Draw(t, "worth")),
			Spares: rapid.IntRange(0, 5).Draw(t, "spares"), GoodFixture: rapid.IntRange(0, 5).Draw(t, "fixture"), GoodPrograms: rapid.IntRange(0, 5).Draw(t, "programs"),
			Scale: rapid.Bool().Draw(t, "scale"), Doubted: rapid.Bool().Draw(t, "doubted"), Strapped: rapid.Bool().Draw(t, "strapped"),
		}
		b := a
		switch rapid.IntRange(0, 6).Draw(t, "which") {
		case 0:
			b.Worth *= 2
		case 1:
			b.Allowance /= 2
		case 2:
			b.GoodFixture = 0
		case 3:
			b.GoodPrograms = 0
		case 4:
			b.Doubted = true
		case 5:
			b.Scale = false
		case 6:
			b.Spares = 0
		}
		la, _, _ := Choose(a)
		if lb, _, _ := Choose(b); lb < la {
			t.Fatalf("%+v reads at %d, %+v at %d", a, la, b, lb)
		}
	})
}
