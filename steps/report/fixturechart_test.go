package report

import (
	"fmt"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// The individuals chart of NIST/SEMATECH 6.3.2.2, ten flow rates about 50.81 with limits 45.8159 and 55.8041, here taken as hundredths of
// a millimetre off 50: each part stands where its value says, the limits where they are printed, zero in the middle.
func TestFixtureChart(t *testing.T) {
	var f jobs.Fixture
	flow := []float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	for i, x := range flow {
		f.Found = append(f.Found, jobs.Found{Record: fmt.Sprintf("lid.%02d", i+1), At: fmt.Sprintf("2026-03-%02d", i+1), X: (x-50)/100 + 0.02,
			Grew: jobs.Grew{X: 0.02}})
	}
	lines := FixtureChart(&f, unit.Metric)
	if len(lines) != 1+10+1+10+1 {
		t.Fatalf("%d lines:\n%s", len(lines), strings.Join(lines, "\n"))
	}
	const end = 0.1 // the limit 0.058 in a round scale
	column := func(v float64) int { return len("  lid.01  ") + half + int(half*v/end+100.5) - 100 }
	for i, x := range flow {
		l := lines[1+i]
		for mark, v := range map[byte]float64{'*': (x - 50) / 100} {
			if l[column(v)] != mark {
				t.Errorf("%q has no %c at %.4f", l, mark, v)
			}
		}
		for _, v := range []float64{-0.041841, 0.058041} {
			if c := l[column(v)]; c != ':' && c != '*' {
				t.Errorf("%q has no limit at %.4f", l, v)
			}
		}
		if !strings.HasSuffix(strings.TrimSpace(l), unit.Signed((x-50)/100, unit.KLength, unit.Metric, 0)) {
			t.Errorf("%q does not say %.3f", l, (x-50)/100)
		}
	}
	f.Found[4].Took.X, f.Found[2].LeftOut = 0.01, "part bumped"
	text := strings.Join(FixtureChart(&f, unit.Metric), "\n")
	if strings.Count(text, "the card corrected by -0.010") != 1 || strings.Count(text, "o ") < 2 {
		t.Errorf("a correction, and a part that does not count:\n%s", text)
	}
	if FixtureChart(&jobs.Fixture{}, unit.Metric) != nil {
		t.Error("a chart of no parts")
	}
}
