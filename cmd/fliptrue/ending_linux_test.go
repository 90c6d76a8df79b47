package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"fliptrue/jobs"

	"github.com/creack/pty"
	"golang.org/x/sys/unix"
)

// seat is the program in a pseudo-terminal of its own session, as ssh -t starts one.
type seat struct {
	t      *testing.T
	cmd    *exec.Cmd
	master *os.File
	tty    *os.File
	lock   string
	before unix.Termios
	mu     sync.Mutex
	text   []byte
	ended  chan error
	hung   atomic.Bool   // the terminal is to hang up
	deaf   chan struct{} // closed once nobody reads from it
}

// hangUp takes the terminal away.
func (s *seat) hangUp() {
	s.hung.Store(true)
	<-s.deaf
	s.tty.Close()
	s.master.Close()
}

func (s *seat) modes() unix.Termios {
	m, err := unix.IoctlGetTermios(int(s.tty.Fd()), unix.TCGETS)
	if err != nil {
		s.t.Fatal(err)
	}
	return *m
}

func (s *seat) said() string { s.mu.Lock(); defer s.mu.Unlock(); return string(s.text) }

func (s *seat) sees(text string) {
	s.t.Helper()
	for range 1000 {
		if strings.Contains(s.said(), text) {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	s.t.Fatalf("%q does not come:\n%q", text, s.said())
}

// sit starts a practice by a shell line with the program in place of $0, and waits for its screen.
func sit(t *testing.T, shell string) *seat {
	t.Helper()
	if testing.Short() {
		t.Skip("seconds of real time")
	}
	t.Parallel()
	program, err := exec.LookPath("fliptrue")
	if err != nil {
		t.Fatal(err)
	}
	master, tty, err := pty.Open()
	if err != nil {
		t.Skip("no pseudo-terminal here: ", err)
	}
	if err := pty.Setsize(master, &pty.Winsize{Cols: 80, Rows: 24}); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	s := &seat{t: t, master: master, tty: tty, lock: filepath.Join(dir, ".back.1.record.yaml.lock"), ended: make(chan error, 1), deaf: make(chan struct{})}
	s.before = s.modes()
	s.cmd = exec.Command("sh", "-c", shell, program, "practice", "--mistake", "none", "--out", dir)
	s.cmd.Env = append(os.Environ(), "TERM=xterm-256color", "LC_ALL=C.UTF-8", "HOME="+dir)
	s.cmd.Stdin, s.cmd.Stdout, s.cmd.Stderr = tty, tty, tty
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() {
		defer close(s.deaf)
		b := make([]byte, 4096)
		poll := []unix.PollFd{{Fd: int32(master.Fd()), Events: unix.POLLIN}}
		for !s.hung.Load() { // a read that waits would keep the terminal open
			if n, err := unix.Poll(poll, 20); n == 0 || err != nil {
				continue
			}
			n, err := master.Read(b)
			s.mu.Lock()
			s.text = append(s.text, b[:n]...)
			s.mu.Unlock()
			if err != nil {
				return
			}
		}
	}()
	go func() { s.ended <- s.cmd.Wait() }()
	t.Cleanup(func() { s.cmd.Process.Kill(); s.hangUp() })
	s.sees("FIXTURE")
	return s
}

// leaves waits for the end and gives the exit code.
func (s *seat) leaves() int {
	s.t.Helper()
	select {
	case err := <-s.ended:
		s.ended <- err
		return s.cmd.ProcessState.ExitCode()
	case <-time.After(20 * time.Second):
		s.t.Fatalf("it does not end:\n%q", s.said())
	}
	return -1
}

func (s *seat) isFree() {
	s.t.Helper()
	l, err := jobs.OS().Lock(s.lock, "test")
	if err != nil {
		s.t.Fatalf("the record is locked still: %v", err)
	}
	l.Close()
}

// A signal that ends the program puts the terminal back and lets go of the record.
func TestSignalsPutTheTerminalBack(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGHUP, syscall.SIGQUIT, syscall.SIGTERM, syscall.SIGINT} {
		t.Run(sig.String(), func(t *testing.T) {
			s := sit(t, `exec "$0" "$@"`)
			if reflect.DeepEqual(s.modes(), s.before) {
				t.Fatal("the screen has not changed the terminal: this test sees nothing")
			}
			if err := s.cmd.Process.Signal(sig); err != nil {
				t.Fatal(err)
			}
			if code := s.leaves(); code != int(exitInterrupted) {
				t.Errorf("exit %d", code)
			}
			if m := s.modes(); !reflect.DeepEqual(m, s.before) {
				t.Errorf("the terminal was left at %+v, it was %+v", m, s.before)
			}
			s.sees("\x1b[?1049l")
			s.sees("\x1b[?25h")
			s.isFree()
		})
	}
}

// A terminal that is gone frees the record, also where the hang-up is ignored.
func TestLostTerminal(t *testing.T) {
	for name, shell := range map[string]string{"plain": `exec "$0" "$@"`, "nohup": `trap '' HUP; exec "$0" "$@"`} {
		t.Run(name, func(t *testing.T) {
			s := sit(t, shell)
			s.hangUp()
			s.leaves()
			s.isFree()
		})
	}
}

// Where no shell could bring it back, Ctrl-Z is answered with a word.
func TestNoJobControl(t *testing.T) {
	s := sit(t, `exec "$0" "$@"`)
	time.Sleep(time.Second) // the keypad is put right first
	if _, err := s.master.WriteString("\x1a"); err != nil {
		t.Fatal(err)
	}
	s.sees("no job control")
	if err := s.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	s.leaves()
}
