package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// FuzzParse: what is taken is finite and within its limit, its canonical text is short ASCII
// and reads back to the same value in either system, and so does what Show, Echo and
// Write make of it; what is refused leaves a zero Number and an error of one printable line.
func FuzzParse(f *testing.F) {
	for i, s := range []string{"12.5", "12,5", ".5", "+0.012", "-0.003", "1/32in", "1-1/2in", `0.25"`, "3mm", "45µm",
		"20.5°C", "68F", "58mNm", "8.2in-oz", "0.6kgf·cm", "0.05deg", "0.2mrad", "0.010/100", "0.0012in/ft",
		"0.010 mm per 100 mm", "35N/mm²", "10min", "+0012.345", "1_000", "0x10", "12:30", "1e308", "NaN", "1,234.5",
		"１２", "1\x1b[2J", "1/0in", "-0", "5m m", strings.Repeat("9", 70)} {
		for k := range Kinds() {
			f.Add(s, k, i%2 == 0)
		}
	}
	f.Fuzz(func(t *testing.T, text string, kind int, imperial bool) {
		k, sys := Kinds()[uint(kind)%uint(len(kinds))], Metric
		if imperial {
			sys = Imperial
		}
		n, err := Parse(text, k, sys)
		if err != nil {
			var e *EntryError
			if n != (Number{}) || !errors.As(err, &e) || e.What == "" || e.Hint == "" {
				t.Fatalf("refused with %+v, %#v", n, err)
			}
			s := err.Error()
			if strings.ContainsFunc(s, unicode.IsControl) || !utf8.ValidString(s) || len(s) > 1200 {
				t.Fatalf("not fit for a terminal: %q", s)
			}
			return
		}
		limit, _ := Limit(k, Metric)
		if math.IsNaN(n.Value) || math.Abs(n.Value) > limit || n.Value == 0 && math.Signbit(n.Value) {
			t.Fatalf("took %v", n.Value)
		}
		c := n.Canonical()
		if len(c) == 0 || len(c) > MaxText || strings.ContainsFunc(c, func(r rune) bool { return r > '~' }) {
			t.Fatalf("canonical text %q", c)
		}
		for _, in := range []System{Metric, Imperial} {
			back, err := Parse(c, k, in)
			if err != nil || back.Value != n.Value || back.Canonical() != c {
				t.Fatalf("%q is canonically %q, which reads as %+v, %v", text, c, back, err)
			}
		}
		if e := Echo(n, sys); e == "" || strings.ContainsFunc(e, unicode.IsControl) {
			t.Fatalf("echo %q", e)
		}
		w, err := Parse(Write(n.Value, k, sys), k, sys)
		// Write keeps 23 decimals where it cannot keep every bit.
		if err != nil || w.Value != n.Value && math.Abs(w.Value-n.Value) > 1e-17 {
			t.Fatalf("%v is written as %q, which reads as %v, %v", n.Value, Write(n.Value, k, sys), w.Value, err)
		}
	})
}
