package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync/atomic"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/tui"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/spf13/pflag"
)

// lookOptions say how a screen is to look; the environment fills in what is not said.
type lookOptions struct {
	light  bool
	ascii  bool
	colour string
	said   func() bool // --light was given, or --light=false
}

func (o *lookOptions) flags(f *pflag.FlagSet) {
	f.BoolVar(&o.light, "light", false, "the terminal has a light background; without it, it is asked and remembered")
	o.said = func() bool { return f.Changed("light") }
	f.BoolVar(&o.ascii, "ascii", false, "draw with ASCII characters only")
	f.StringVar(&o.colour, "colour", "", "full, 16, none or plain; default by the terminal, none with NO_COLOR set")
}

// look is the screen's look: what was said, else what the environment asks for.
func (e *env) look(o lookOptions) (tui.Look, error) {
	l := tui.Look{Light: o.light, ASCII: o.ascii || !e.utf8()}
	term := e.getenv("TERM")
	l.NoBraille = term == "linux" // the console's fonts have none
	switch {
	case o.colour == "full":
		l.Colour = tui.Full
	case o.colour == "16" || o.colour == "" && e.getenv("NO_COLOR") == "" && term == "linux":
		l.Colour = tui.Sixteen
	case o.colour == "none" || o.colour == "" && e.getenv("NO_COLOR") != "":
		l.Colour = tui.Attributes
	case o.colour == "plain" || o.colour == "" && term == "dumb":
		l.Colour = tui.Off
	case o.colour != "":
		return l, &usageError{"colour " + quoted(o.colour) + " is not known", "write full, 16, none or plain"}
	}
	said := o.light || o.said != nil && o.said()
	if !said && (l.Colour == tui.Full || l.Colour == tui.Sixteen) {
		l.Light = e.askBackground(term)
	}
	return l, nil
}

// utf8 reports whether the locale, if one is set, can show more than ASCII.
func (e *env) utf8() bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if v := e.getenv(name); v != "" {
			v = strings.ToLower(v)
			return strings.Contains(v, "utf-8") || strings.Contains(v, "utf8")
		}
	}
	return true
}

// wantTerminal refuses a screen where there is none, before anything is written.
func (e *env) wantTerminal(instead string) error {
	if e.inTerminal && e.outTerminal {
		return nil
	}
	return &terminalError{"the screen wants a terminal for its keys and its picture", instead}
}

// terminalError is a terminal that is not there or failed.
type terminalError struct{ what, hint string }

func (t *terminalError) Error() string { return withHint(t.what, t.hint) }

// terminal is where screens are shown.
func (e *env) terminal() tui.Terminal {
	t := tui.Terminal{Background: e.background}
	if e.cannotStop {
		t.Stays = "there is no job control here that could bring it back: it stays in front"
	}
	return t
}

// show runs a screen that opens its session meanwhile, and says what it was left with.
// job names it until it is open. With errInterrupted and errLeft the session may be opening
// still: it must not be touched then.
func (e *env) show(look tui.Look, job string, opens func() (tui.Options, error)) (tui.Result, error) {
	e.ownInterrupts()
	stem, opens := beside(job, opens)
	res, err := tui.RunOpening(tui.OpeningOptions{Look: look, Now: e.now, Title: filepath.Base(job), Read: opens}, e.terminal())
	summary := res.Summary
	if path := stem() + ".record.yaml"; strings.Contains(summary, "record: "+path+"\n") {
		if es, _, faults := jobs.ReadRecord(e.disk, path); len(es)+len(faults) == 0 {
			summary = strings.Replace(summary, "record: "+path+"\n", "nothing was taken, and nothing is written\n", 1)
		}
	}
	fmt.Fprint(e.out, summary)
	if unread := (*tui.ReadError)(nil); errors.As(err, &unread) {
		return res, unread.Err
	}
	return res, e.ended(err, stem())
}

// beside gives opens back with the stem of the file beside which a crash is written down:
// the job's until the session is open, its record's from then on.
func beside(job string, opens func() (tui.Options, error)) (stem func() string, opened func() (tui.Options, error)) {
	var record atomic.Value // opens runs beside the screen
	stem = func() string {
		if path, ok := record.Load().(string); ok {
			return stemOf(path)
		}
		return stemOf(job)
	}
	return stem, func() (tui.Options, error) {
		t, err := opens()
		if err == nil {
			record.Store(t.Record)
		}
		return t, err
	}
}

// options are those of a session's screen.
func (s *session) options(e *env, look tui.Look) tui.Options {
	return tui.Options{
		Look: look, Now: e.now, Plan: s.plan, Log: s.log, Part: fmt.Sprintf("part %d", partOf(s.path)), Notices: s.notes, First: s.first,
		Record:   s.path,
		Settle:   s.settle,
		Standing: s.due.standing,
		Save:     s.save,
		Open: func(setup string) (*fold.Plan, error) {
			p, err := s.planOf(e, setup)
			if err == nil {
				s.plan = p
				s.due.walks(p)
			}
			return p, err
		},
	}
}

// ended is how a screen ended, as an error of the program: nil when it was left by choice.
// stem names the file that says where it broke, if it did.
func (e *env) ended(err error, stem string) error {
	var crash *tui.CrashError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &crash):
		return e.crashed(stem, crash)
	case errors.Is(err, tea.ErrInterrupted):
		return errInterrupted
	case errors.Is(err, tui.ErrLeft):
		return errLeft
	}
	return &terminalError{"the terminal failed: " + err.Error(), "what was taken is on the disk; open it again"}
}
