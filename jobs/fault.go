package jobs

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Fault is one thing wrong in a file: where, what on which value, and what to do next.
// Line and Column count from 1; 0 means that the place is not known.
type Fault struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
	What   string `json:"what"`
	Hint   string `json:"hint"`
}

// Error is "file:line:column: what; hint".
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
		if f.Column > 0 {
			fmt.Fprintf(&b, ":%d", f.Column)
		}
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	b.WriteString(f.What)
	if f.Hint != "" {
		b.WriteString("; " + f.Hint)
	}
	return b.String()
}

// Faults are all the faults found in one reading. As an error it prints one a line;
// empty Faults are no error: use Err where an error is wanted.
type Faults []Fault

// Error prints one fault a line.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Err is nil when there are no faults.
func (fs Faults) Err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs
}

// sorted orders faults by line and column, keeping the order found within a place.
func (fs Faults) sorted() Faults {
	slices.SortStableFunc(fs, func(a, b Fault) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
	return fs
}

// quote shows a value taken from a file: escaped, so that nothing in it can reach
// a terminal as a command, and cut to a length that fits a line.
func quote(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return strconv.Quote(string(r[:most])) + "..."
	}
	return strconv.Quote(s)
}

// harmless writes what a terminal would obey as an escape: a fault holds words and
// keys of the file as they stand there.
func harmless(s string) string {
	if strings.IndexFunc(s, func(r rune) bool { return !strconv.IsPrint(r) }) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if strconv.IsPrint(r) {
			b.WriteRune(r)
		} else {
			b.WriteString(strings.Trim(strconv.QuoteRune(r), "'"))
		}
	}
	return b.String()
}
