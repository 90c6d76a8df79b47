package tui

import "testing"

// TestWhatCantBeIsSaidInItsUnit: a torque asked in newton metres is not refused in thousandths of them.
func TestWhatCantBeIsSaidInItsUnit(t *testing.T) {
	s := practice(t, lid(t, "T"), 80, 24)
	s.until(func() bool {
		w, ok := s.m.top().(*walkPage)
		if !ok || w.doing(s.m) || s.state().Cursor.Step != "straps" {
			return false
		}
		a, _ := w.ask(s.m)
		return a.Field == "torque"
	})
	s.Type("31Nm").Enter().Sees(`31 N·m can't be`, "23.4 N·m; read it again")
}
