package tui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

// used counts the rows of the page between the rules of a frame, the list of steps left out,
// and those of them with anything on them.
func used(v string) (rows, all int) {
	lines := strings.Split(v, "\n")
	from, to := -1, -1
	for i, l := range lines {
		if strings.HasPrefix(l, "──") {
			if from < 0 {
				from = i + 1
			}
			to = i
		}
	}
	for _, l := range lines[from:to] {
		_, page, _ := cutList(l)
		all++
		if strings.TrimSpace(page) != "" {
			rows++
		}
	}
	return rows, all
}

// TestRowsUsed prints for twenty pages how many of their rows have something on them. Those
// with a picture have that much to show: seven rows of ten are used, at few sizes six.
func TestRowsUsed(t *testing.T) {
	t.Parallel()
	sizes := [][2]int{{80, 24}, {100, 30}, {120, 36}, {160, 45}, {200, 60}}
	want := []string{"mount act", "mount arrow", "lengths t3", "square act", "square low", "square verdict", "square s4", "bore act", "bore hit3.y", "bore verdict", "floor z5",
		"offset act", "offset x", "offset verdict", "seat z2", "straps act", "baseline py1", "drill act", "drill depth", "release pause", "ready"}
	var b strings.Builder
	fmt.Fprintf(&b, "%-16s", "")
	for _, z := range sizes {
		fmt.Fprintf(&b, "%10s", fmt.Sprintf("%dx%d", z[0], z[1]))
	}
	s := practice(t, lid(t, "T"), 80, 24)
	done := map[string]bool{}
	sum, few := make([]float64, len(sizes)), 0
	for n := 0; n < 700 && len(done) < len(want) && !s.state().Released; n++ {
		name := string(s.state().Cursor.Step)
		switch p := s.m.top().(type) {
		case *walkPage:
			if a, _ := p.ask(s.m); p.doing(s.m) {
				name += " act"
			} else {
				name += " " + a.Field
			}
		case *verdictPage:
			name = string(p.step) + " verdict"
		case *readyPage:
			name = "ready"
		}
		if slices.Contains(want, name) && !done[name] {
			done[name] = true
			fmt.Fprintf(&b, "\n%-16s", name)
			for i, z := range sizes {
				s.m.Update(tea.WindowSizeMsg{Width: z[0], Height: z[1]})
				rows, all := used(s.View())
				share := float64(rows) / float64(all)
				sum[i] += share
				fmt.Fprintf(&b, "%9.0f%%", 100*share)
				if share < 0.7 && len(s.m.pictures) > 0 {
					few++
				}
				if share < 0.58 && len(s.m.pictures) > 0 {
					t.Errorf("%s at %dx%d: %d of %d rows:\n%s", name, z[0], z[1], rows, all, s.View())
				}
			}
			s.m.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
		}
		s.next()
	}
	fmt.Fprintf(&b, "\n%-16s", "mean")
	for i, v := range sum {
		fmt.Fprintf(&b, "%9.0f%%", 100*v/float64(len(done)))
		if v/float64(len(done)) < 0.75 {
			t.Errorf("%v: too much is empty", sizes[i])
		}
	}
	if few > 4 {
		t.Errorf("%d pages use less than seven rows of ten", few)
	}
	t.Logf("rows used\n%s", b.String())
	if len(done) < 20 {
		t.Errorf("only %d pages", len(done))
	}
}
