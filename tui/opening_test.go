//go:build !windows

package tui

import (
	"errors"
	"sync"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// opens runs an opening in a terminal of its own; its end comes on the channel.
func opens(t *testing.T, read func() (Options, error)) (*console, chan error) {
	t.Helper()
	t.Parallel()
	c := newConsole(t, 80, 24)
	done := make(chan error, 1)
	go func() {
		_, err := RunOpening(OpeningOptions{Now: time.Now, Title: "lid.job.yaml", Read: read}, Terminal{In: c.tty, Out: c.tty})
		done <- err
	}()
	return c, done
}

func ended(t *testing.T, c *console, done chan error) error {
	t.Helper()
	select {
	case err := <-done:
		return err
	case <-time.After(5 * time.Second):
		t.Fatalf("it does not end:\n%s", c.text())
		return nil
	}
}

// TestOpeningIsToldAndCanBeLeft: a file that takes long holds nobody. Only Ctrl-C interrupts.
func TestOpeningIsToldAndCanBeLeft(t *testing.T) {
	t.Parallel()
	for keys, want := range map[string]error{"\x03": tea.ErrInterrupted, "q": ErrLeft, "/": ErrLeft} {
		t.Run(keys, func(t *testing.T) {
			never := make(chan struct{})
			t.Cleanup(func() { close(never) })
			c, done := opens(t, func() (Options, error) { <-never; return Options{}, errors.New("too late") })
			c.sees("lid.job.yaml")
			c.sees("reading")
			c.types(keys)
			if err := ended(t, c, done); !errors.Is(err, want) {
				t.Errorf("ended with %v, want %v", err, want)
			}
		})
	}
}

func TestOpeningGivesTheErrorOfItsFiles(t *testing.T) {
	want := errors.New("line 3: no such unit")
	c, done := opens(t, func() (Options, error) { return Options{}, want })
	var unread *ReadError
	if err := ended(t, c, done); !errors.As(err, &unread) || unread.Err != want {
		t.Errorf("ended with %v, want %v", err, want)
	}
}

// TestOpeningBecomesTheScreen: late or at once, the first page comes with the size known.
func TestOpeningBecomesTheScreen(t *testing.T) {
	hold := make(chan struct{})
	c, done := opens(t, func() (Options, error) {
		<-hold
		l := steps.NewLog()
		begin := fold.Begin("side2", nil, "")
		begin.At = noon
		l.Apply(begin)
		return Options{Now: time.Now, Plan: lid(t, "T"), Log: l, Save: func([]jobs.Event) error { return nil }}, nil
	})
	c.sees("reading")
	close(hold)
	c.sees("MOUNT FIXTURE")
	c.types("\x03")
	c.sees("All that was taken is on the disk")
	c.types("2+")
	if err := ended(t, c, done); err != nil {
		t.Error(err)
	}
}

// TestOpeningWaitsForNoDisk: the first page stands while what Save waits for is still being done, and
// leaving waits for it. A fault in it ends the screen and is given like one of reading.
func TestOpeningWaitsForNoDisk(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]error{"good": nil, "bad": errors.New("disk is full")} {
		t.Run(name, func(t *testing.T) {
			hold := make(chan struct{})
			settle := sync.OnceValue(func() error { <-hold; return want })
			c, done := opens(t, func() (Options, error) {
				l := steps.NewLog()
				l.Apply(jobs.Event{Begin: "side2", At: noon})
				return Options{Now: time.Now, Plan: lid(t, "T"), Log: l, Settle: settle, Save: func([]jobs.Event) error { return settle() }}, nil
			})
			c.sees("MOUNT FIXTURE")
			if want == nil {
				c.types("\x03")
				c.sees("All that was taken is on the disk")
				c.types("2+")
				select {
				case err := <-done:
					t.Fatalf("left with %v before it was settled", err)
				case <-time.After(50 * time.Millisecond):
				}
			}
			close(hold)
			err := ended(t, c, done)
			if unread := (*ReadError)(nil); want != nil && (!errors.As(err, &unread) || unread.Err != want) || want == nil && err != nil {
				t.Errorf("ended with %v, want %v", err, want)
			}
		})
	}
}
