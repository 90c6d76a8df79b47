package tui

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// breaks is a model that panics in one place.
type breaks string

func (b breaks) at(place string) {
	if string(b) == place {
		panic("tui: broken in " + place)
	}
}

func (b breaks) Init() tea.Cmd {
	b.at("init")
	return tea.Batch(func() tea.Msg { b.at("batch"); return nil }, func() tea.Msg { b.at("cmd"); return "go" })
}
func (b breaks) Update(tea.Msg) (tea.Model, tea.Cmd) { b.at("update"); return b, nil }
func (b breaks) View() string                        { b.at("view"); return "x" }

// Wherever a model panics, the screen ends, the terminal is put back, and the place of
// the panic is known.
func TestPanicEndsTheScreen(t *testing.T) {
	for _, place := range []string{"init", "batch", "cmd", "update", "view"} {
		in, keep := io.Pipe()
		defer keep.Close()
		var out bytes.Buffer
		done := make(chan error, 1)
		go func() { done <- Terminal{In: in, Out: &out}.show(breaks(place)) }()
		select {
		case err := <-done:
			var crash *CrashError
			if !errors.As(err, &crash) || !strings.HasSuffix(crash.What, place) || !bytes.Contains(crash.Stack, []byte("breaks")) {
				t.Errorf("%s: %v", place, err)
			}
			if !strings.Contains(out.String(), "\x1b[?1049l") || strings.Contains(out.String(), "goroutine") {
				t.Errorf("%s left the terminal so: %q", place, out.String())
			}
		case <-time.After(5 * time.Second):
			t.Fatalf("%s: the screen does not end", place)
		}
	}
}
