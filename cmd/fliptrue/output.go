package main

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"fliptrue/jobs"
)

// output is where a command writes its words. A name from a command line or a folder may
// hold anything; what a terminal would take for a command is written out as an escape. The
// first failure is kept, so that a command need not look at each line it prints.
type output struct {
	w   io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	if o.err != nil {
		return len(p), nil
	}
	_, o.err = io.WriteString(o.w, harmless(string(p)))
	return len(p), nil
}

// harmless is a text with its control characters, and bytes that are no text, as escapes.
func harmless(s string) string {
	var b strings.Builder
	for i, r := range s {
		n := utf8.RuneLen(r)
		if r == utf8.RuneError {
			_, n = utf8.DecodeRuneInString(s[i:])
		}
		switch {
		case r == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case r == '\n', r == '\t', unicode.IsPrint(r), unicode.Is(unicode.Zs, r):
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\x%02x`, r)
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	return b.String()
}

// failed is the failure of standard output in words, nil when all was written.
func (o *output) failed() error {
	if o.err == nil {
		return nil
	}
	return &jobs.DiskError{Op: "write", Path: "standard output", What: "the output could not be written: " + plainError(o.err),
		Hint: "free some space, or send it elsewhere", Err: o.err}
}
