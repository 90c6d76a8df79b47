package tui

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/unit"
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
