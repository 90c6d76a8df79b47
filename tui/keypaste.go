package tui

import (
	"fmt"
	"strings"
	"time"
	"unicode"
)

// Pasting says that a paste is on its way in.
func (k *Keys) Pasting() bool { return k.pasting.on }

// paste handles a bracketed paste: one value into a reading field, several into it and
// those that follow; a line into a text field; nothing anywhere else.
func (k *Keys) paste(text string, at time.Time, f Focus) Stroke {
	k.last, k.afterCR = at, false
	if len(text) > pasteMost {
		return Stroke{Kind: Refused, At: at, Why: tooLong}
	}
	if f.Place != Reads && f.Place != Words {
		return Stroke{Kind: Refused, At: at, Text: text, Why: "a paste is taken by a reading field only"}
	}
	var lines []string
	for _, l := range strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n") {
		l = strings.TrimSpace(strings.Map(func(r rune) rune {
			if r == '\t' || r == ';' {
				return ' '
			}
			if unicode.IsControl(r) {
				return -1
			}
			return r
		}, l))
		if l != "" {
			lines = append(lines, l)
		}
	}
	if len(lines) == 0 {
		return Stroke{Kind: Refused, At: at, Text: text, Why: "the paste was empty"}
	}
	if f.empty() {
		k.entry = entryRun{}
	}
	k.entry.pasted = true
	if f.Place == Reads && f.empty() {
		n, rows, letters := 0, true, false
		for _, l := range lines {
			vs, ok := values(l)
			n, rows = n+len(vs), rows && ok
			letters = letters || lettered(vs)
		}
		if rows && (n > 1 || letters) {
			return Stroke{Kind: Pasted, At: at, Text: strings.Join(lines, "\n"), Rows: true, Source: FromPaste}
		}
	}
	s := Stroke{Kind: Pasted, At: at, Text: lines[0], Source: FromPaste}
	if n := len(lines); n > 1 {
		s.Why = fmt.Sprintf("only the first of %d pasted lines is in the field: numbers alone, into an empty field, fill those "+
			"that follow too", n)
	}
	return s
}
