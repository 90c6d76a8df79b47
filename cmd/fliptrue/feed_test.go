//go:build !windows

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/tui"

	"github.com/creack/pty"
)

// hears waits for the next arrival: the deadline only ends a test that fails.
func hears(t *testing.T, ch <-chan tui.Arrival) tui.Arrival {
	t.Helper()
	select {
	case a := <-ch:
		return a
	case <-time.After(20 * time.Second):
		t.Fatal("nothing arrived")
		return tui.Arrival{}
	}
}

// heard is an arrival as one text.
func heard(a tui.Arrival) string {
	s := a.From + ":"
	for _, n := range a.Numbers {
		s += " " + strings.ToUpper(n.Axis) + n.Text
	}
	switch {
	case a.Back:
		s += " back"
	case a.Gone != "":
		s += " gone " + a.Gone
	case a.Why != "":
		s += " why " + a.Why
	}
	return s
}

func (w *waits) next(want string) {
	w.t.Helper()
	if got := heard(hears(w.t, w.ch)); !strings.Contains(got, want) {
		w.t.Fatalf("%q, want %q", got, want)
	}
}

type waits struct {
	t  *testing.T
	ch <-chan tui.Arrival
}

func listening(t *testing.T, m jobs.Machine) *waits {
	t.Helper()
	e := surroundings()
	ch, stop := e.feeds(m)
	t.Cleanup(stop)
	return &waits{t, ch}
}

// settled waits until a feed has looked at its file for the first time: what another program
// appends from then on arrives.
func settled() { time.Sleep(5 * feedEvery) }

// A file that another process appends to: what stood in it does not arrive, a line in two
// pieces does once, and one begun again is read from its beginning.
func TestFeedFile(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "probe.log")
	if err := os.WriteFile(path, []byte("X1 Y1\nX2 Y2\nX3"), 0o644); err != nil {
		t.Fatal(err)
	}
	w := listening(t, jobs.Machine{Path: filepath.Join(dir, "mill.machine.yaml"), Feed: map[string]jobs.Feed{"axes": {File: "probe.log", Unit: "mm"}}})
	settled()
	other := func(script string) {
		t.Helper()
		cmd := exec.Command("sh", "-c", script)
		cmd.Dir = dir
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatal(err, string(out))
		}
	}
	other(`printf '9 Y3\nX-274.539 Y-152.809\n' >> probe.log`)
	w.next("without its beginning")
	w.next("axes: X-274.539mm Y-152.809mm")
	other(`printf 'X-27' >> probe.log; sleep 0.3; printf '1.5 Y-3\n' >> probe.log`)
	w.next("axes: X-271.5mm Y-3mm")
	other(`printf 'program P7\n[hit:-1.0,-2.0,-3.0:1]\n' >> probe.log`)
	w.next("why")
	w.next("axes: X-1.0mm Y-2.0mm Z-3.0mm")
	other(`printf 'X5 Y5\n' > probe.log`)
	w.next("axes: X5mm Y5mm")
	other(`rm probe.log`)
	w.next("probe.log is not there")
	other(`printf 'X6 Y6\n' > probe.log`)
	w.next("back")
	w.next("axes: X6mm Y6mm")
	other(`head -c 100000 /dev/zero | tr '\0' '1' >> probe.log`)
	w.next("no readings")
	other(`printf '\nX7 Y7\n' >> probe.log`)
	w.next("without its beginning")
	w.next("axes: X7mm Y7mm")
}

// A flood fills no memory and stops nothing.
func TestFeedFileFlood(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "probe.log")
	w := listening(t, jobs.Machine{Path: filepath.Join(dir, "mill.machine.yaml"), Feed: map[string]jobs.Feed{"axes": {File: path}}})
	w.next("is not there")
	var b strings.Builder
	for i := range 3000 {
		fmt.Fprintf(&b, "X%d Y1\n", i)
	}
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	w.next("back")
	w.next("X0 Y1") // the rest waits in the channel, or is left out
	settled()
	if n := len(w.ch); n > feedHolds {
		t.Errorf("%d wait", n)
	}
}

// A serial line: torn at its beginning and by pulling the cable, gone while it is unplugged,
// heard again when it is there again.
func TestFeedPort(t *testing.T) {
	t.Parallel()
	plug := func(link string) *os.File {
		t.Helper()
		master, tty, err := pty.Open()
		if err != nil {
			t.Skip("no pseudo-terminal here: ", err)
		}
		os.Remove(link)
		if err := os.Symlink(tty.Name(), link); err != nil {
			t.Fatal(err)
		}
		tty.Close()
		return master
	}
	link := filepath.Join(t.TempDir(), "dial")
	cable := plug(link)
	w := listening(t, jobs.Machine{Feed: map[string]jobs.Feed{"dial": {Port: link, Baud: 9600, Frame: "8N1", Unit: "mm"}}})
	time.Sleep(1500 * time.Millisecond) // a quiet line: what comes now has its beginning
	fmt.Fprint(cable, "+000.01")
	fmt.Fprint(cable, "2\r\n-0.003\r\n")
	w.next("dial: +000.012mm")
	w.next("dial: -0.003mm")
	fmt.Fprint(cable, "+000.")
	cable.Close()
	w.next("was unplugged")
	cable = plug(link)
	defer cable.Close()
	for { // it is looked for once a second
		got := heard(hears(t, w.ch))
		if strings.Contains(got, "back") {
			break
		}
		if !strings.Contains(got, "gone") {
			t.Fatal(got)
		}
	}
	time.Sleep(1500 * time.Millisecond)
	fmt.Fprint(cable, "7.5\r\n")
	w.next("dial: 7.5mm") // and not +000.7.5
}

// An instrument that sends all the time: its newest arrives, not all of it.
func TestFeedNewest(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path := filepath.Join(dir, "dial.log")
	if err := os.WriteFile(path, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	w := listening(t, jobs.Machine{Path: filepath.Join(dir, "m"), Feed: map[string]jobs.Feed{"dial": {File: path, Keep: "last"}}})
	settled()
	f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var b strings.Builder
	for i := range 500 {
		fmt.Fprintf(&b, "0.%03d\n", i)
	}
	f.WriteString(b.String())
	for n := 1; ; n++ {
		a := hears(t, w.ch)
		if !a.Newest || n > 10 {
			t.Fatalf("%+v after %d", a, n)
		}
		if heard(a) == "dial: 0.499" {
			break
		}
	}
}
