package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/tui"

	"github.com/mattn/go-isatty"
)

// env is all of the world that a command meets, so that a test can give it another.
type env struct {
	in       io.Reader
	out, err io.Writer
	disk     jobs.Disk
	now      func() time.Time
	getenv   func(string) string
	pid      int
	host     string

	background *tui.Background // of the terminal, where it is to be asked

	outTerminal, inTerminal bool // a person sits there

	editor func(path string) error // lets the person edit a file, and returns when that is done

	openPort func(jobs.Feed) (io.ReadCloser, error) // the serial line of a feed

	ownInterrupts func() // a screen handles interrupts from here on
	cannotStop    bool   // there is no job control: a stopped process would stay so
}

func surroundings() *env {
	host, _ := os.Hostname()
	return &env{editor: ownEditor, openPort: serialPort,
		in: os.Stdin, out: os.Stdout, err: os.Stderr, disk: jobs.OS(), now: time.Now, getenv: os.Getenv, pid: os.Getpid(), host: host,
		outTerminal: isatty.IsTerminal(os.Stdout.Fd()), inTerminal: isatty.IsTerminal(os.Stdin.Fd()),
		ownInterrupts: func() {}, cannotStop: !jobControl(),
	}
}

// who names this process to another that finds its lock: the person and where they sit, as
// far as the system says.
func (e *env) who() string {
	s := "fliptrue"
	for _, name := range []string{"USER", "LOGNAME", "USERNAME"} {
		if v := e.getenv(name); v != "" {
			s += " of " + v
			break
		}
	}
	s += fmt.Sprintf(", process %d", e.pid)
	if e.host != "" {
		s += " on " + e.host
	}
	if from, _, _ := strings.Cut(e.getenv("SSH_CONNECTION"), " "); from != "" {
		s += " by ssh from " + from
	}
	return s + ", since " + e.now().Format("2006-01-02 15:04")
}

// stateDir is the user's state folder for this program: XDG_STATE_HOME, else ~/.local/state.
func (e *env) stateDir() (string, error) {
	if dir := e.getenv("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "fliptrue"), nil
	}
	for _, home := range []string{e.getenv("HOME"), e.getenv("USERPROFILE")} {
		if home != "" {
			return filepath.Join(home, ".local", "state", "fliptrue"), nil
		}
	}
	return "", &usageError{"no home folder is known to put the practice under", "give one with --out DIR"}
}
