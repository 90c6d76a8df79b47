package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
)

// workPage stands while what was written is being worked out for longer than a person
// takes for at once. It can be read, left, and asked for help; it takes nothing.
type workPage struct{}

const oneMoment = "one moment: nothing is taken until it is worked out"

func (p *workPage) focus(*Model) Focus { return Focus{Place: Lists} }

func (p *workPage) words(*Model) map[Intent]string {
	return map[Intent]string{Open: "-", Choose: "-", Back: "-", Happened: "-", Far: "-", Picture: "-", Again: "-"}
}

func (p *workPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	switch in {
	case Help, Glossary, Quit, Suspend, PageUp, PageDown:
		return nil, false
	}
	m.notice = oneMoment
	return nil, true
}

func (p *workPage) middle(m *Model, s *sheet) {
	s.say(must, Act, "WORKING IT OUT")
	s.gap()
	s.say(must, Text, "What was taken is on the disk.")
	long := 0
	for _, g := range m.o.Plan.Setup.Programs {
		f, ok := m.o.Plan.Program(g.Role)
		if !ok {
			continue
		}
		if long++; long == 1 {
			s.gap()
			s.say(must, Text, "Programs are followed from their first line to their last:")
		}
		s.hang(must, Text, "  ", f.Name+", "+size(len(f.Data)))
	}
	s.gap()
	s.say(must, Dim, "This page goes by itself.")
}

// size is the length of a file in words.
func size(n int) string {
	if n < 100_000 {
		return fmt.Sprintf("%d kB", (n+999)/1000)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}

// works says that the page of work in hand is up: keys no longer wait for its end.
func (m *Model) works() bool {
	for _, p := range m.over {
		if _, ok := p.(*workPage); ok {
			return true
		}
	}
	return false
}
