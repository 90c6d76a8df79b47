package tui

import (
	"fmt"
	"runtime/debug"
	"sync"

	tea "github.com/charmbracelet/bubbletea"
)

// CrashError is a mistake of the program's own that ended a screen. What was taken before
// is on the disk.
type CrashError struct {
	What  string // one line
	Stack []byte // where, for whoever mends it
}

func (c *CrashError) Error() string { return "the program made a mistake: " + c.What }

// guard stands round a model and turns a panic in it into the end of the screen, so that
// the terminal is put back and no stack is poured over it.
type guard struct {
	tea.Model
	quit  func() // ends the screen from anywhere; may block
	mu    sync.Mutex
	crash *CrashError

	ask  func()      // puts questions to the terminal, once it takes keys; may be nil
	back *Background // what its background is, if that is asked; else nil
}

// caught is deferred round whatever of the model may panic; then is what to do after it.
func (g *guard) caught(then func()) {
	if r := recover(); r != nil {
		g.mu.Lock()
		defer g.mu.Unlock()
		if g.crash == nil {
			g.crash = &CrashError{fmt.Sprint(r), debug.Stack()}
		}
		then()
	}
}

// err is the crash if there was one, else the error of the program.
func (g *guard) err(other error) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.crash != nil {
		return g.crash
	}
	return other
}

func (g *guard) Init() (c tea.Cmd) {
	defer g.caught(func() { c = tea.Quit })
	if g.ask != nil {
		g.ask()
	}
	g.back.light(g.Model)
	return g.cmd(g.Model.Init())
}

func (g *guard) Update(msg tea.Msg) (m tea.Model, c tea.Cmd) {
	defer g.caught(func() { m, c = g, tea.Quit })
	if g.err(nil) != nil {
		return g, tea.Quit
	}
	if a, ok := msg.(backgroundMsg); ok {
		return g, g.cmd(g.back.answered(bool(a), g.Model))
	}
	m, c = g.Model.Update(msg)
	if m != g.Model {
		g.Model = m
		g.back.light(m)
	}
	return g, g.cmd(c)
}

// View of a model that broke is empty.
func (g *guard) View() (s string) {
	defer g.caught(func() {
		s = ""
		go g.quit() // not here: the loop that takes the message is waiting for this frame
	})
	if g.err(nil) != nil {
		return ""
	}
	return g.Model.View()
}

// cmd guards a command, and those within a batch. A command of Bubble Tea's own cannot
// be looked into and is passed on.
func (g *guard) cmd(c tea.Cmd) tea.Cmd {
	if c == nil {
		return nil
	}
	return func() (msg tea.Msg) {
		defer g.caught(func() { msg = tea.QuitMsg{} })
		msg = c()
		if batch, ok := msg.(tea.BatchMsg); ok {
			for i := range batch {
				batch[i] = g.cmd(batch[i])
			}
		}
		return msg
	}
}
