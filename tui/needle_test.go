package tui

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// TestATapShowsTheNeedle: the one tall number of a tap is what the dial shall show, by its own
// figures, with the sense in which it gets there; near and from afar.
func TestATapShowsTheNeedle(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{80, 24}, {120, 36}, {200, 60}} {
		s := practice(t, lid(t, "T"), size[0], size[1])
		s.until(func() bool { v, ok := s.m.top().(*verdictPage); return ok && !v.passed && v.step == "square" })
		ss, _ := s.m.st.Step("square")
		n := ss.Outcome.Next[0].Needle
		high, err := unit.Parse(lastTaken(s, "high"), unit.KLength, unit.Metric)
		if err != nil || n.By == 0 || math.Abs(n.To-n.By-high.Value) > 1e-9 {
			t.Fatalf("%v: from %v by %v to %v, %v", size, high.Value, n.By, n.To, err)
		}
		want := unit.Signed(n.To, unit.KLength, unit.Metric, n.Step)
		verb := map[bool]string{true: "rises", false: "falls"}[n.By > 0]
		for _, view := range []string{"near", "far"} {
			s.Sees("NEEDLE TO", verb+" by")
			if !s.tall(want) {
				t.Errorf("%v %s: %s is not tall:\n%s", size, view, want, s.View())
			}
			if s.tall(unit.Format(ss.Outcome.Next[0].Amount, unit.KLength, unit.Metric, 0)) {
				t.Errorf("%v %s: the tap's own amount is tall, too:\n%s", size, view, s.View())
			}
			s.Press("f2")
		}
	}
}

// lastTaken is what was read last of a field in the step in hand.
func lastTaken(s *screen, field string) string {
	for i := len(s.saved) - 1; i >= 0; i-- {
		if strings.HasSuffix(s.saved[i].Read, "/"+field) {
			return s.saved[i].Value
		}
	}
	return ""
}

// TestWhatCounts: the number that decides stands tall with its guard in it, and never on
// the other side of its limit; figures never stand on each other.
func TestWhatCounts(t *testing.T) {
	m := practice(t, lid(t, "T"), 80, 24).m
	for _, c := range []struct {
		got, guard, max float64
		min             bool
		want            string
	}{
		{0.0033, 0.0033, 0.010, false, "0.007"},
		{0.0034, 0.0034, 0.0072, false, "0.0068"}, // a digit more: it would read as its limit
		{0.0025, 0.0149, 0.05, false, "0.017"},
		{17.4, 0.042, 17, true, "17.358"},
		{4.2, 0, 4, true, "4.200"},
	} {
		fs := m.counted(fold.Check{Got: c.got, Guard: c.guard, Limit: fold.Limit{Max: c.max, Min: c.min, Unit: unit.KLength, Why: "x"}})
		if len(fs) != 1 || fs[0].text != c.want {
			t.Errorf("%v with %v: %+v, want %s", c.got, c.guard, fs, c.want)
		}
	}
	for label, want := range map[string]string{"X0 (M)": "X", "Z0 (offset)": "Z", "bore Y (M)": "Y", "X and Y": "", "thread": ""} {
		if got := axisOf(label); got != want {
			t.Errorf("%s: %q, want %q", label, got, want)
		}
	}
	for _, tall := range []int{5, 8} {
		s := &sheet{t: m.t, w: 90, tall: tall}
		if m.figures(s, must, []figure{{text: "0.000"}, {text: "0.003"}}, 2*tall+1); len(s.fit(2*tall+1)) != 2*tall+1 || strings.TrimSpace(s.fit(99)[tall]) != "" {
			t.Errorf("%d lines:\n%s", tall, strings.Join(s.fit(99), "\n"))
		}
	}
}
