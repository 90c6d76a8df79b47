package tui

import (
	"strings"
)

// entryRun is how the text in the reading field came to be.
type entryRun struct {
	keys   int    // printing keys
	run    int    // of these, the last so many came closer together than instrumentGap
	pasted bool   // a paste was part of it
	edited bool   // corrected by hand
	waits  Source // held for confirmation as this, or ""
}

// instrument reports whether all of it was sent: the ending counts as a key.
func (e entryRun) instrument(quickEnd bool) bool {
	n := e.keys
	if quickEnd {
		n++
	}
	return !e.edited && !e.pasted && e.keys > 0 && e.run == e.keys && n >= instrumentChars
}

// mixed reports something sent, ending and all, behind something that was there before.
func (e entryRun) mixed(quickEnd bool) bool {
	return quickEnd && e.run+1 >= instrumentChars && (e.run < e.keys || e.pasted)
}

func (e entryRun) source(quickEnd bool) Source {
	switch {
	case e.pasted:
		return FromPaste
	case e.waits != "" && !e.edited:
		return e.waits
	case e.instrument(quickEnd):
		return Instrument
	}
	return Keyed
}

// sentWhole reports whether the message alone is enough to know a burst.
func sentWhole(ps []press) bool {
	n := 0
	for _, p := range ps {
		if p.Rune != 0 {
			n++
		}
	}
	return n >= instrumentChars
}

func ends(name string) bool { return name == "enter" || name == "tab" || name == "ctrl+j" }

// isNumber reports text that could be a gauge's reading.
func isNumber(rs []rune) bool {
	return strings.Trim(string(rs), "+-0123456789., ") == "" && strings.ContainsAny(string(rs), "0123456789")
}
