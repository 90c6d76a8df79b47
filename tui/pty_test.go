//go:build !windows

package tui

import (
	"errors"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"

	"github.com/creack/pty"
	"github.com/hinshun/vt10x"
)

// console is a real pseudo-terminal with an emulator behind it, which answers no query.
type console struct {
	t      *testing.T
	master *os.File
	tty    *os.File
	vt     vt10x.Terminal
	mu     sync.Mutex
	bytes  int
}

func newConsole(t *testing.T, w, h int) *console {
	t.Helper()
	master, tty, err := pty.Open()
	if err != nil {
		t.Skip("no pseudo-terminal here: ", err)
	}
	c := &console{t: t, master: master, tty: tty, vt: vt10x.New(vt10x.WithSize(w, h))}
	if err := pty.Setsize(master, &pty.Winsize{Cols: uint16(w), Rows: uint16(h)}); err != nil {
		t.Fatal(err)
	}
	go func() {
		buf := make([]byte, 4096)
		for {
			n, err := master.Read(buf)
			if err != nil {
				return
			}
			c.mu.Lock()
			c.bytes += n
			c.vt.Write(buf[:n])
			c.mu.Unlock()
		}
	}()
	t.Cleanup(func() { tty.Close(); master.Close() })
	return c
}

func (c *console) text() string { c.mu.Lock(); defer c.mu.Unlock(); return c.vt.String() }

// sees waits until a text is on the screen.
func (c *console) sees(text string) {
	c.t.Helper()
	for range 500 {
		if strings.Contains(joined(c.text()), text) {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	c.t.Fatalf("%q does not come:\n%s", text, c.text())
}

// types sends keys the way a person does: one at a time.
func (c *console) types(keys string) {
	c.t.Helper()
	time.Sleep(guardTime + 50*time.Millisecond)
	for _, r := range keys {
		if _, err := c.master.WriteString(string(r)); err != nil {
			c.t.Fatal(err)
		}
		time.Sleep(30 * time.Millisecond)
	}
}

// TestInARealTerminal runs the program in a pseudo-terminal: it starts, takes an
// answer, is still at rest, and leaves the terminal as it was.
func TestInARealTerminal(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("seconds of real time")
	}
	c := newConsole(t, 80, 24)
	p := lid(t, "T")
	l := steps.NewLog()
	begin := fold.Begin("side2", nil, "")
	begin.At = noon
	l.Apply(begin)
	var saved []jobs.Event
	done := make(chan error, 1)
	var res Result
	go func() {
		var err error
		res, err = run(Options{Now: time.Now, Plan: p, Log: l, Record: "lid.1.record.yaml",
			Save: func(es []jobs.Event) error { saved = append(saved, es...); return nil }}, Terminal{In: c.tty, Out: c.tty})
		done <- err
	}()
	c.sees("MOUNT FIXTURE")
	c.types("+")
	c.sees("> the fixture's arrow points")
	c.types("1")
	c.types("+")
	c.sees("> number engraved on it")
	c.types(p.Job.Fixture.ID)
	c.types("+")
	c.sees("> how warm is the fixture")
	c.types("1")
	c.types("+")
	c.sees("> on the table it stands")
	c.types("1")
	c.types("+")
	c.sees("> temperature of the fixture")
	time.Sleep(100 * time.Millisecond) // the last bytes are still on their way to the emulator
	c.mu.Lock()
	before := c.bytes
	c.mu.Unlock()
	time.Sleep(300 * time.Millisecond)
	c.mu.Lock()
	if c.bytes != before {
		t.Errorf("%d bytes were sent at rest", c.bytes-before)
	}
	c.mu.Unlock()
	c.types("\x03")
	c.sees("All that was taken is on the disk")
	c.types("2")
	c.types("+")
	select {
	case err := <-done:
		if err != nil {
			t.Fatal(err)
		}
	case <-time.After(5 * time.Second):
		t.Fatalf("it does not end:\n%s", c.text())
	}
	if len(saved) != 5 || saved[1].Answer != "side2/mount/1/arrow" || saved[2].Value != p.Job.Fixture.ID { // the round and the form
		t.Errorf("saved %+v", saved)
	}
	if !strings.Contains(res.Summary, "not released") || !strings.Contains(res.Summary, "lid.1.record.yaml") {
		t.Errorf("summary %q", res.Summary)
	}
	time.Sleep(50 * time.Millisecond) // the last bytes are still on their way to the emulator
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.vt.Mode()&vt10x.ModeAltScreen != 0 {
		t.Error("the alternate screen was left on")
	}
	if !c.vt.CursorVisible() {
		t.Error("the cursor was left hidden")
	}
}

// A terminal that answers is painted for its background at once and what it said is kept; the
// answer is no key, nor is one that comes when the screen has long stood.
func TestARealTerminalIsAskedForItsBackground(t *testing.T) {
	t.Parallel()
	c := newConsole(t, 80, 24)
	l := steps.NewLog()
	begin := fold.Begin("side2", nil, "")
	begin.At = noon
	l.Apply(begin)
	kept := make(chan bool, 2)
	saved := 0
	done := make(chan error, 1)
	go func() {
		_, err := run(Options{Now: time.Now, Plan: lid(t, "T"), Log: l, Save: func(es []jobs.Event) error { saved += len(es); return nil }},
			Terminal{In: c.tty, Out: c.tty, Background: &Background{Keep: func(light bool) { kept <- light }}})
		done <- err
	}()
	c.sees("MOUNT FIXTURE")
	for _, part := range []string{"\x1b]11;rgb:ff", "ff/ffff/ff", "ff\x1b", "\\\x1b[?62", ";22c"} {
		c.master.WriteString(part)
		time.Sleep(20 * time.Millisecond)
	}
	select {
	case light := <-kept:
		if !light {
			t.Error("white is kept as dark")
		}
	case <-time.After(5 * time.Second):
		t.Error("nothing is kept")
	}
	c.master.WriteString("\x1b]11;rgb:0000/0000/0000\x07") // late, and for nobody
	c.types("+")
	c.sees("the fixture's arrow points")
	if s := c.text(); strings.Contains(s, "rgb") || strings.Contains(s, "ffff") || saved != 0 {
		t.Errorf("%d events saved:\n%s", saved, s)
	}
	c.types("\x03")
	c.sees("All that was taken is on the disk")
	c.types("2")
	c.types("+")
	select {
	case err := <-done:
		if err != nil {
			t.Fatal(err)
		}
	case <-time.After(5 * time.Second):
		t.Fatalf("it does not end:\n%s", c.text())
	}
}

// The program in a pseudo-terminal: the end of a paste is lost. Nothing of it is taken, and
// what is typed after it stands alone.
func TestPasteWithoutItsEnd(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("seconds of real time")
	}
	at := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	c := newConsole(t, 80, 24)
	o := at.o
	saved := make(chan jobs.Event, 16)
	o.Bench, o.Now = nil, time.Now
	o.Save = func(es []jobs.Event) error {
		for _, e := range es {
			saved <- e
		}
		return nil
	}
	done := make(chan error, 1)
	go func() { _, err := run(o, Terminal{In: c.tty, Out: c.tty}); done <- err }()
	c.sees("What did the machine do meanwhile?")
	c.types("1")
	c.types("+")
	c.sees("Done?")
	c.types("+")
	c.sees("hit 1 at")
	c.master.WriteString("\x1b[200~-26.")
	c.sees("a paste came without its end") // by itself
	c.master.WriteString("\x1b[201~")      // late: what comes now is no part of it
	c.types("-26.5")
	c.types("\r")
	select {
	case e := <-saved:
		if e.Value != "-26.5" || e.By == "pasted" || e.Read != "side2/bore/1/hit1.x" {
			t.Errorf("saved %+v", e)
		}
	case <-time.After(5 * time.Second):
		t.Fatalf("nothing was taken:\n%s", c.text())
	}
	c.types("\x03\x03")
	select {
	case <-done:
	case <-time.After(5 * time.Second):
		t.Fatalf("it does not end:\n%s", c.text())
	}
}

// run shows the screen of a setup until the person leaves it. Everything taken is
// on the disk when it returns, whatever the error. An error is the terminal's: it
// could not be opened, or the program was killed; tea.ErrInterrupted for an interrupt;
// *CrashError for a mistake of this program, with an empty Result.
func run(o Options, t Terminal) (Result, error) {
	m := New(o)
	err := t.show(m)
	if crash := (*CrashError)(nil); errors.As(err, &crash) {
		return Result{}, crash // the model is not fit to be asked
	}
	return m.Result(), err
}
