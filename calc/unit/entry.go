package unit

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxText is the longest entry taken, in characters.
const MaxText = 64

// EntryError says why a text was not taken as a number.
type EntryError struct {
	Text string // as typed; cut at MaxText characters
	What string // what is wrong
	Hint string // what to type instead; may be empty
}

// Error is one line; control characters in the text are shown escaped.
func (e *EntryError) Error() string {
	s := fmt.Sprintf("%q: %s", e.Text, e.What)
	if e.Hint != "" {
		s += "; " + e.Hint
	}
	return s
}

// refusal is an EntryError without its text, which only Parse knows.
type refusal struct{ what, hint string }

func refuse(hint, format string, args ...any) *refusal {
	return &refusal{what: fmt.Sprintf(format, args...), hint: hint}
}

// inUnits are the only characters beyond ASCII an entry may hold, and what stands for each.
var inUnits = strings.NewReplacer("µ", "u", "μ", "u", "°", "deg", "″", `"`, "²", "2")

// clean checks the characters of an entry, and returns it with the outer blanks
// off and the unit signs in ASCII.
func clean(text string) (string, *refusal) {
	if !utf8.ValidString(text) {
		return "", refuse("type the number again", "not valid text (UTF-8)")
	}
	if n := utf8.RuneCountInString(text); n > MaxText {
		return "", refuse("type one number", "%d characters, a number has at most %d", n, MaxText)
	}
	for _, r := range text {
		switch {
		case unicode.IsControl(r):
			return "", refuse("type the number again", "control character U+%04X", r)
		case r < utf8.RuneSelf, strings.ContainsRune("µμ°″²·", r):
		case unicode.IsDigit(r):
			return "", refuse("type the digits 0 to 9", "%q (U+%04X) is not one of the digits 0 to 9", r, r)
		case r == '\u2212' || r == '\u2013' || r == '\u2014':
			return "", refuse("type a plain -", "%q (U+%04X) is not the minus sign of a keyboard", r, r)
		default:
			return "", refuse("type digits, a point and a unit", "character %q (U+%04X) has no place in a number", r, r)
		}
	}
	s := strings.Trim(inUnits.Replace(text), " ")
	if s == "" {
		return "", refuse("type a number", "nothing typed")
	}
	return s, nil
}

// cut shortens a text for an error.
func cut(s string) string {
	n := 0
	for i := range s {
		if n == MaxText {
			return s[:i] + "..."
		}
		n++
	}
	return s
}
