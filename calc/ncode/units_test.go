package ncode

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"fliptrue/calc/clearance"
)

// In a job in inches every length in words is in inches: those of a program that is wrong in
// every way, read in both, differ by 25.4.
func TestUnitsOfMessages(t *testing.T) {
	text := "G20 G17 G90 G94 G40 G80\nG54\nT3 M6\nS9000 M3\nG0 Z1\nX-3 Y.5\nG43 H3 Z.1\nG1 Z-.5 F8\nX-.9 F20\nG0 X.5\nX20.\n" +
		"G2 X21. Y.6 I.3 J0\nG2 X22. R.1\nG28 Z0\nG81 X1. Y1. Z-.2 R-.5\nG1 X1. Z-.6\nG68 X.1 Y.1 R1\nG69\nG0 Z2.\nM30\n"
	say := func(u Units) []string {
		opts, obs, tools := setupOf(t, "plate-inch")
		opts.Say = u
		c, err := NewClearance(clearance.Usual, obs, tools, nil)
		if err != nil {
			t.Fatal(err)
		}
		c.In(u)
		s, err := Walk(context.Background(), strings.NewReader(text), opts, c)
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, f := range append(s.Findings, c.Findings()...) {
			out = append(out, f.String())
		}
		return out
	}
	mm, inch := say(MM), say(Inch)
	if len(mm) != len(inch) || len(mm) < 10 {
		t.Fatalf("%d and %d findings: %q", len(mm), len(inch), mm)
	}
	length := regexp.MustCompile(`-?\d+\.\d{4}`)
	seen := 0
	for i := range mm {
		a, b := length.FindAllString(mm[i], -1), length.FindAllString(inch[i], -1)
		if len(a) != len(b) {
			t.Errorf("%q and %q", mm[i], inch[i])
			continue
		}
		for k := range a {
			var x, y float64
			if _, err := scan(a[k], &x, b[k], &y); err != nil {
				t.Fatal(err)
			}
			if d := x - y*25.4; d > 0.0026 || d < -0.0026 {
				t.Errorf("%q and %q: %s is not %s", mm[i], inch[i], a[k], b[k])
			}
			seen++
		}
	}
	if seen < 20 {
		t.Errorf("%d lengths only: %q", seen, inch)
	}
}

func scan(a string, x *float64, b string, y *float64) (int, error) { return fmt.Sscan(a+" "+b, x, y) }
