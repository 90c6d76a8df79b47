package ncode

import (
	"cmp"
	"fmt"
	"slices"
)

// Severity says what a finding does to the verdict.
type Severity uint8

const (
	Note      Severity = iota // said, nothing more
	Warn                      // worth a look; it decides nothing
	NotProven                 // could not be followed or not be held against anything: never a pass
	Fail                      // contradicts what was expected or measured
	Refused                   // an error of the language: a control that keeps to it stops here
)

func (s Severity) String() string {
	switch s {
	case Note:
		return "note"
	case Warn:
		return "warn"
	case NotProven:
		return "not proven"
	case Fail:
		return "fail"
	case Refused:
		return "refused"
	}
	return fmt.Sprintf("Severity(%d)", uint8(s))
}

// Finding is one thing found in a program. The IDs, by what they are about:
//
//   - the language, refused: line-length, letter, number,
//     comment, repeat, group, m-words, axis-words, arc-radius, arc-short, arc-closed,
//     arc-zero, arc-form, cycle, word-unused, g-word, m-word, parameter, expression, no-end
//   - what can't be followed: control-flow, subprogram, program-number, rotary, probe,
//     parameter, start, offset-data, compensation, cycle-height, cancel-word
//   - how it begins and ends: units-missing, units-late, units-change, mode-missing,
//     plane-missing, plane, offset-missing, first-move, incremental, end-state,
//     title, unread, nothing-read, rotation-left, shift-left, home-through, home-low, zero-shift, rotation, rotation-missing, block-delete
//   - tools: tool, tool-missing, tool-list, length-register, length-missing, lengths, spindle,
//     spindle-speed, spindle-direction, drill-sideways, feed
//   - against what is expected: units, offset, offsets, floor, other-z0, inch-ratio,
//     travel, rapid-low, rapid-in-part, rapid-corner, holder-in-part, z-step
//   - of [Clearance]: clearance, clearance-tool, clearance-offset, clearance-start
type Finding struct {
	Line     int // 1 is the first; 0 when it concerns the program as a whole
	Severity Severity
	ID       string // what kind: see above
	Clause   string // of NISTIR 6556, for a refusal
	Words    string // the words or values it is about
	Hint     string // what to do
	More     int    // how many more of this ID and severity were found and not kept
}

func (f Finding) String() string {
	s := f.Severity.String() + ": " + f.ID
	if f.Line > 0 {
		s = fmt.Sprintf("line %d: %s", f.Line, s)
	}
	if f.Words != "" {
		s += ": " + f.Words
	}
	if f.Clause != "" {
		s += " (" + f.Clause + ")"
	}
	if f.Hint != "" {
		s += "; " + f.Hint
	}
	if f.More > 0 {
		s += fmt.Sprintf(" (and %d more like it)", f.More)
	}
	return s
}

// fault is a finding without its line; it is the error of the parts below the walk.
type fault struct {
	sev               Severity
	id, clause, words string
	hint              string
}

func refuse(clause, id, words, hint string) *fault {
	return &fault{Refused, id, clause, words, hint}
}

// keep is how many findings of one ID and severity are kept; a broken file must not fill the memory.
const keep = 5

// list collects findings.
type list struct {
	all  []Finding
	seen map[kind]int // how many of a kind
	last map[kind]int // where the last one kept is
}

type kind struct {
	id  string
	sev Severity
}

func (l *list) add(f Finding) {
	if l.seen == nil {
		l.seen, l.last = map[kind]int{}, map[kind]int{}
	}
	k := kind{f.ID, f.Severity}
	most := keep
	if f.Severity == Note {
		most = 1
	}
	if l.seen[k]++; l.seen[k] > most {
		l.all[l.last[k]].More++
		return
	}
	l.last[k] = len(l.all)
	l.all = append(l.all, f)
}

// sorted returns the findings by line, those of the whole program last.
func (l *list) sorted() []Finding {
	slices.SortStableFunc(l.all, func(a, b Finding) int {
		if (a.Line == 0) != (b.Line == 0) {
			return cmp.Compare(b.Line, a.Line)
		}
		return cmp.Compare(a.Line, b.Line)
	})
	return l.all
}

// clip shortens text of a program for a finding and makes it printable.
func clip(t []byte) string {
	const most = 40
	cut := len(t) > most
	if cut {
		t = t[:most]
	}
	s := fmt.Sprintf("%q", t)
	if cut {
		s += "..."
	}
	return s
}
