package tui

import (
	"fmt"
	"io"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// Terminal is where a screen is shown. The zero value is the process's own terminal.
type Terminal struct {
	In  io.Reader
	Out io.Writer
}

// program makes a Bubble Tea program of a model: alternate screen, 120 frames a
// second so that the first frame comes after 8 ms, and the keypad put right first.
func (t Terminal) program(m tea.Model) *tea.Program {
	out := t.Out
	if out == nil {
		out = output()
	}
	io.WriteString(out, Sane)
	opts := []tea.ProgramOption{tea.WithAltScreen(), tea.WithFPS(120), tea.WithOutput(out)}
	if t.In != nil {
		opts = append(opts, tea.WithInput(t.In))
	}
	return tea.NewProgram(m, opts...)
}

// Run shows the screen of a setup until the person leaves it. Everything taken is
// on the disk when it returns, whatever the error. An error is the terminal's: it
// could not be opened, or the program was killed; tea.ErrInterrupted for an interrupt.
func Run(o Options, t Terminal) (Result, error) {
	m := New(o)
	_, err := t.program(m).Run()
	return m.Result(), err
}

// Result is the state with the lines to print once the screen is gone.
func (m *Model) Result() Result {
	r := Result{State: m.st, Released: m.st.Released}
	var b strings.Builder
	j := m.o.Plan.Job.Name
	if m.o.Part != "" {
		j += " " + m.o.Part
	}
	switch {
	case m.st.Released:
		fmt.Fprintf(&b, "%s, %s: RELEASED at %s\n", j, m.st.Setup, clockTime(m.st.ReleasedAt))
	case m.st.Ready:
		fmt.Fprintf(&b, "%s, %s: everything passes, not released yet\n", j, m.st.Setup)
	default:
		_, next := m.lastDone()
		fmt.Fprintf(&b, "%s, %s: not released. Next: %s\n", j, m.st.Setup, next)
	}
	for _, w := range m.st.Waivers {
		fmt.Fprintln(&b, waiverWords(w))
	}
	for _, v := range voided(&m.st) {
		fmt.Fprintln(&b, v)
	}
	if m.o.Record != "" {
		fmt.Fprintf(&b, "record: %s\n", m.o.Record)
	}
	r.Summary = m.t.Say(b.String())
	return r
}
