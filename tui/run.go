package tui

import (
	"fmt"
	"io"
	"os"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// Terminal is where a screen is shown. The zero value is the process's own terminal.
type Terminal struct {
	In         io.Reader
	Out        io.Writer
	Background *Background // asked for when it is not nil

	// Stays says why the program cannot be put in the background here; empty where it can.
	Stays string
}

// staysMsg is what comes of the wish to be put in the background where nothing could bring
// the program back.
type staysMsg string

// show runs a Bubble Tea program of a model: alternate screen, 120 frames a second so
// that the first frame comes after 8 ms, and the keypad put right first. A panic of the
// model is a *CrashError.
func (t Terminal) show(m tea.Model) error {
	out := t.Out
	if out == nil {
		out = output()
	}
	io.WriteString(out, Sane)
	in := t.In
	if in == nil {
		in = os.Stdin
	}
	var p *tea.Program
	rep := newReplies(func(light bool) { p.Send(backgroundMsg(light)) }, func() { p.Send(tea.KeyMsg{Type: tea.KeyEscape}) })
	opts := []tea.ProgramOption{tea.WithAltScreen(), tea.WithFPS(120), tea.WithOutput(out), tea.WithInput(typedOn(in, rep))}
	if t.Stays != "" {
		opts = append(opts, tea.WithFilter(func(_ tea.Model, msg tea.Msg) tea.Msg {
			if _, ok := msg.(tea.SuspendMsg); ok {
				return staysMsg(t.Stays)
			}
			return msg
		}))
	}
	g := &guard{Model: m, back: t.Background}
	if t.Background.wanted() {
		g.ask = func() { rep.expect(); io.WriteString(out, askBackground) }
	}
	p = tea.NewProgram(g, opts...)
	g.quit = p.Quit
	_, err := p.Run()
	return g.err(err)
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
		fmt.Fprintln(&b, m.waiverWords(w))
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
