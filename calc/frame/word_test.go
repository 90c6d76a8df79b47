package frame

import (
	"math"
	"strings"
	"testing"
)

// NISTIR 6556, 3.5.5 and 3.5.13 (verified copy): `G10 L2 P1 X3.5 Y17.2` puts the origin of the first system (the one
// selected by G54) at X 3.5, Y 17.2; systems 1 to 9 are G54 to G59, G59.1, G59.2, G59.3.
func TestG10(t *testing.T) {
	for _, c := range []struct {
		w    WorkOffset
		dec  int
		axes []Word
		want string
	}{
		{1, 4, []Word{{'X', 3.5}, {'Y', 17.2}}, "G10 L2 P1 X3.5 Y17.2"},
		{9, 3, []Word{{'X', -267.449875317}, {'Y', -138.176126719}, {'Z', -285.69}}, "G10 L2 P9 X-267.45 Y-138.176 Z-285.69"},
		{2, 3, []Word{{'Z', -0.0004}}, "G10 L2 P2 Z0"},
		{2, 0, []Word{{'Z', 100}}, "G10 L2 P2 Z100"},
		{3, 6, []Word{{'X', 1e-5}, {'Y', 123456789}}, "G10 L2 P3 X0.00001 Y123456789"},
	} {
		got, err := G10(c.w, c.dec, c.axes...)
		if err != nil || got != c.want {
			t.Errorf("got %q, %v, want %q", got, err, c.want)
		}
	}
	for _, v := range []float64{math.NaN(), math.Inf(1)} {
		if s, err := G10(1, 3, Word{'X', v}); err == nil || s != "" {
			t.Errorf("%v gave %q", v, s)
		}
	}
	for name, f := range map[string]func(){
		"system 0":    func() { G10(0, 3, Word{'X', 1}) },
		"system 10":   func() { G10(10, 3, Word{'X', 1}) },
		"no axis":     func() { G10(1, 3) },
		"axis A":      func() { G10(1, 3, Word{'A', 1}) },
		"X twice":     func() { G10(1, 3, Word{'X', 1}, Word{'X', 2}) },
		"10 decimals": func() { G10(1, 10, Word{'X', 1}) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s did not panic", name)
				}
			}()
			f()
		}()
	}
}

func TestParseWorkOffset(t *testing.T) {
	for i, s := range []string{"G54", "g55", " G56 ", "G57", "G58", "G59", "G59.1", "g59.2", "G59.3"} {
		got, err := ParseWorkOffset(s)
		if err != nil || int(got) != i+1 {
			t.Errorf("ParseWorkOffset(%q) = %d, %v", s, got, err)
		}
		if back, _ := ParseWorkOffset(got.String()); back != got {
			t.Errorf("%v does not read back", got)
		}
	}
	for _, s := range []string{"", "G53", "G60", "G59.4", "G54.1 P1", "54", "G92"} {
		if _, err := ParseWorkOffset(s); err == nil || !strings.Contains(err.Error(), "G59.3") {
			t.Errorf("ParseWorkOffset(%q): %v", s, err)
		}
	}
	if WorkOffset(0).String() != "work offset 0" {
		t.Error("the zero value is no system")
	}
}

func FuzzParseWorkOffset(f *testing.F) {
	f.Add("G59.1")
	f.Fuzz(func(t *testing.T, s string) {
		w, err := ParseWorkOffset(s)
		if err == nil && (w < 1 || w > 9 || !strings.EqualFold(w.String(), strings.TrimSpace(s))) {
			t.Errorf("%q read as %v", s, w)
		}
	})
}

// A line of manual entry says unit and distances itself, and each value has its point: "X8" is
// 0.008 at some controls.
func TestManualLineIsComplete(t *testing.T) {
	for _, c := range []struct {
		inch     bool
		decimals int
		x        float64
		want     string
	}{
		{true, 4, 8, "G20 G90 G10 L2 P2 X8.0000"},
		{false, 3, -0.0001, "G21 G90 G10 L2 P2 X0.000"},
		{false, 3, -12.5, "G21 G90 G10 L2 P2 X-12.500"},
	} {
		if got, err := Manual(2, c.inch, c.decimals, Word{'X', c.x}); err != nil || got != c.want {
			t.Errorf("%q %v, want %q", got, err, c.want)
		}
	}
	if _, err := Manual(1, false, 3, Word{'X', math.NaN()}); err == nil {
		t.Error("no number was taken")
	}
}
