package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"

	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
)

// exit is the code of the process; of several the largest wins.
type exit int

const (
	exitOK          exit = 0
	exitNo          exit = 1 // the work says no, or is unfinished
	exitUsage       exit = 2
	exitInput       exit = 3 // missing, faulty, of a newer format or degenerate
	exitDisk        exit = 4 // disk or terminal failed, or another process holds the record
	exitInterrupted exit = 130
)

// usageError is a command line that cannot be followed.
type usageError struct{ what, hint string }

func (e *usageError) Error() string { return withHint(e.what, e.hint) }

// inputError is an input that has no place in a file to point at.
type inputError struct{ file, what, hint string }

func (e *inputError) Error() string {
	if e.file == "" {
		return withHint(e.what, e.hint)
	}
	return e.file + ": " + withHint(e.what, e.hint)
}

// errInterrupted is a person who chose to stop.
var errInterrupted = errors.New("interrupted")

// errLeft is a person who left a screen by choice before it was open: nothing went wrong.
var errLeft = errors.New("left")

func withHint(what, hint string) string {
	if hint == "" {
		return what
	}
	return what + "; " + hint
}

// exitOf is the exit code that an error stands for.
func exitOf(err error) exit {
	var usage *usageError
	var disk *jobs.DiskError
	var locked *jobs.LockedError
	var terminal *terminalError
	switch {
	case err == nil, errors.Is(err, errLeft):
		return exitOK
	case errors.Is(err, errInterrupted):
		return exitInterrupted
	case errors.As(err, &disk), errors.As(err, &locked), errors.As(err, &terminal):
		return exitDisk
	case errors.As(err, &usage):
		return exitUsage
	}
	return exitInput
}

// faultsOf is an error as faults, at least one.
func faultsOf(err error) jobs.Faults {
	var faults jobs.Faults
	var usage *usageError
	var input *inputError
	var disk *jobs.DiskError
	var locked *jobs.LockedError
	var entry *unit.EntryError
	var degenerate *fit.DegenerateError
	switch {
	case errors.As(err, &faults) && len(faults) > 0:
		return faults
	case errors.As(err, &usage):
		return jobs.Faults{{What: usage.what, Hint: usage.hint}}
	case errors.As(err, &input):
		return jobs.Faults{{File: input.file, What: input.what, Hint: input.hint}}
	case errors.As(err, &disk):
		return jobs.Faults{{File: disk.Path, What: disk.What, Hint: disk.Hint}}
	case errors.As(err, &locked):
		return jobs.Faults{{File: locked.Path, What: "it is in use by " + cmp.Or(locked.Holder, "another process"),
			Hint: "leave it there first, or walk another part"}}
	case errors.As(err, &entry):
		return jobs.Faults{{What: fmt.Sprintf("%q: %s", entry.Text, entry.What), Hint: entry.Hint}}
	case errors.As(err, &degenerate):
		what, hint := splitHint(degenerate.Error())
		return jobs.Faults{{What: what, Hint: hint}}
	}
	what, hint := splitHint(err.Error())
	return jobs.Faults{{What: what, Hint: hint}}
}

// splitHint takes "what; what to do" apart.
func splitHint(s string) (what, hint string) {
	for i := len(s) - 2; i > 0; i-- {
		if s[i] == ';' && s[i+1] == ' ' {
			return s[:i], s[i+2:]
		}
	}
	return s, ""
}

// say prints an error in words, and with asJSON also as an object on standard output.
func (e *env) say(err error, asJSON bool) {
	faults := faultsOf(err)
	if asJSON {
		out := struct {
			Error jobs.Fault  `json:"error"`
			More  jobs.Faults `json:"more,omitempty"`
		}{faults[0], faults[1:]}
		e.json(out)
	}
	for _, f := range faults {
		fmt.Fprintln(e.err, "fliptrue:", f.Error())
	}
}

// json prints one object. What cannot be encoded is a programmer's mistake.
func (e *env) json(v any) {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		panic("fliptrue: json: " + err.Error())
	}
	fmt.Fprintf(e.out, "%s\n", b)
}
