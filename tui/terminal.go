package tui

import (
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
)

// Background has the terminal asked once whether its background is light, while the first frame
// is being made; nothing waits for the answer. Whenever it comes the screen is
// painted anew for it, and Keep is told. It serves one screen after the other.
type Background struct {
	Keep func(light bool) // called from another goroutine; may be nil

	asked bool
	known *bool
}

// backgroundMsg is the terminal's answer: light.
type backgroundMsg bool

// lit is a screen that can be painted for a light or a dark background.
type lit interface{ light(bool) }

// wanted says, once, that the terminal is to be asked.
func (b *Background) wanted() bool {
	if b == nil || b.asked {
		return false
	}
	b.asked = true
	return true
}

// answered paints the screen for the answer and gives the command that keeps it.
func (b *Background) answered(light bool, m tea.Model) tea.Cmd {
	if b == nil { // nobody asked
		return nil
	}
	b.known = &light
	b.light(m)
	if b.Keep == nil {
		return nil
	}
	return func() tea.Msg { b.Keep(light); return nil }
}

// light paints a screen for what is known.
func (b *Background) light(m tea.Model) {
	if b == nil || b.known == nil {
		return
	}
	if l, ok := m.(lit); ok {
		l.light(*b.known)
	}
}

func (m *Model) light(on bool) {
	if m.o.Look.Light == on {
		return
	}
	m.o.Look.Light = on
	m.t = NewTheme(lipgloss.NewRenderer(output()), m.o.Look)
	m.draw()
}

func (d *desk) light(on bool) {
	if d.t.Look.Light == on {
		return
	}
	l := d.t.Look
	l.Light = on
	d.t = NewTheme(lipgloss.NewRenderer(output()), l)
}
