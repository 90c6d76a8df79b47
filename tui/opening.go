package tui

import (
	"errors"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// OpeningOptions is what a screen gets that has its files still to read.
type OpeningOptions struct {
	Look  Look
	Now   func() time.Time
	Title string // what is being opened
	// Read reads the files and gives the screen. Called from another goroutine: meanwhile the screen
	// stands and can be left.
	Read func() (Options, error)
}

// RunOpening shows the screen of a setup like Run, and reads the files while the terminal is
// being taken: the first frame need not wait for one after the other, and a long program
// on a slow disk can be left. An error of Read is a *ReadError, others are as with Run;
// left while it reads it is ErrLeft, interrupted tea.ErrInterrupted, and what Read gives later
// must not be used.
func RunOpening(o OpeningOptions, t Terminal) (Result, error) {
	read := sync.OnceValues(func() (*Model, error) {
		o, err := o.Read()
		if err != nil {
			return nil, err
		}
		return New(o), nil
	})
	go func() { // it need not wait for the terminal either
		defer func() { _ = recover() }() // it is panicked with again where that is seen
		_, _ = read()
	}()
	m := newOpening(o, read)
	err := t.show(m)
	switch {
	case errors.As(err, new(*CrashError)):
		return Result{}, err
	case m.err != nil:
		return Result{}, &ReadError{m.err}
	case m.screen == nil && err == nil && m.interrupted:
		return Result{}, tea.ErrInterrupted
	case m.screen == nil && err == nil:
		return Result{}, ErrLeft
	case m.screen == nil && errors.Is(err, tea.ErrInterrupted):
		return Result{}, err
	case m.screen == nil: // no terminal: a fault in the files is the one to mend first
		if _, fault := read(); fault != nil {
			return Result{}, &ReadError{fault}
		}
		return Result{}, err
	}
	if s := m.screen.o.Settle; s != nil {
		if fault := s(); fault != nil {
			return Result{}, &ReadError{fault}
		}
	}
	return m.screen.Result(), err
}

// ErrLeft is a person who chose to leave before there was anything to leave.
var ErrLeft = errors.New("left before it was open")

// ReadError is what kept the files from being read; no screen was shown.
type ReadError struct{ Err error }

func (r *ReadError) Error() string { return r.Err.Error() }

func (r *ReadError) Unwrap() error { return r.Err }

// slow is how long reading may take before the screen speaks of it. A page that stands
// for less would only flash.
const slow = 150 * time.Millisecond

// opening is the screen until the files are read.
type opening struct {
	*desk
	read   func() (*Model, error)
	late   bool
	screen *Model
	err    error // of reading

	interrupted bool // by Ctrl-C
}

type readMsg struct {
	m   *Model
	err error
}

type lateMsg struct{}

func newOpening(o OpeningOptions, read func() (*Model, error)) *opening {
	d := newDesk(o.Look, o.Now)
	d.title, d.busy = o.Title, true
	d.short = map[Intent]string{Quit: "leave"}
	return &opening{desk: d, read: read}
}

func (p *opening) Init() tea.Cmd {
	read := func() tea.Msg {
		m, err := p.read()
		return readMsg{m: m, err: err}
	}
	return tea.Batch(read, tea.Tick(slow, func(time.Time) tea.Msg { return lateMsg{} }))
}

func (p *opening) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case readMsg:
		if p.err = msg.err; p.err != nil {
			return p, tea.Quit
		}
		p.screen = msg.m
		var sized tea.Cmd
		if p.w > 0 {
			_, sized = p.screen.Update(tea.WindowSizeMsg{Width: p.w, Height: p.h})
		}
		return p.screen, tea.Batch(p.screen.Init(), sized)
	case lateMsg:
		p.late = true
		return p, nil
	case tea.KeyMsg:
		p.interrupted = p.interrupted || msg.Type == tea.KeyCtrlC
	}
	_, cmd := p.desk.Update(msg)
	return p, cmd
}

func (p *opening) View() string {
	if !p.late {
		return ""
	}
	return p.desk.View()
}
