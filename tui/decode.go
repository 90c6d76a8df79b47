package tui

import (
	"strings"
	"time"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"
)

// press is one key as the person pressed it. Printing keys have a Rune and their
// own text as Name; others have a Name such as "enter", "up", "f1", "ctrl+c".
type press struct {
	Name string
	Rune rune
}

func printing(r rune) press { return press{Name: string(r), Rune: r} }

// splitWait is how long the tail of an escape sequence may lag behind its Esc on
// a slow link and still be read as one key.
const splitWait = 500 * time.Millisecond

type decodeState int

const (
	plain    decodeState = iota
	afterEsc             // a lone Esc came last: a "[" or "O" may be its tail
	afterSS3             // Esc O: the next letter is a keypad key
	afterCSI             // Esc [: parameters, then a final letter
)

// decoder mends what Bubble Tea makes of bytes: keypad keys in application mode
// (Esc O p arrives as alt+O, p), sequences split between two reads, several keys
// in one message, and Esc followed quickly by a key (arrives as alt+key).
type decoder struct {
	state  decodeState
	since  time.Time
	params string
}

// ss3 maps the letter after Esc O: the DEC numeric keypad in application mode
// (VT220 Programmer Reference Manual, table 3-8; from memory), arrows and PF keys.
var ss3 = map[rune]press{
	'p': printing('0'), 'q': printing('1'), 'r': printing('2'), 's': printing('3'), 't': printing('4'),
	'u': printing('5'), 'v': printing('6'), 'w': printing('7'), 'x': printing('8'), 'y': printing('9'),
	'n': printing('.'), 'l': printing(','), 'm': printing('-'), 'k': printing('+'), 'j': printing('*'), 'o': printing('/'),
	'X': printing('='), ' ': printing(' '), 'M': {Name: "enter"}, 'I': {Name: "tab"},
	'A': {Name: "up"}, 'B': {Name: "down"}, 'C': {Name: "right"}, 'D': {Name: "left"}, 'H': {Name: "home"}, 'F': {Name: "end"},
	'P': {Name: "f1"}, 'Q': {Name: "f2"}, 'R': {Name: "f3"}, 'S': {Name: "f4"},
	'{': {Name: pasteKey}, '}': {Name: pasteEnd}, // ours: see unbracket
}

// csiFinal and csiTilde map a sequence split after its Esc (ECMA-48 5.4; the
// numbers before ~ as in the VT220 and xterm).
var (
	csiFinal = map[rune]string{'A': "up", 'B': "down", 'C': "right", 'D': "left", 'H': "home", 'F': "end", 'Z': "shift+tab"}
	csiTilde = map[string]string{"1": "home", "2": "insert", "3": "delete", "4": "end", "5": "pgup", "6": "pgdown", "7": "home", "8": "end",
		"11": "f1", "12": "f2", "13": "f3", "14": "f4", "15": "f5", "17": "f6", "18": "f7", "19": "f8", "20": "f9", "21": "f10",
		"200": pasteKey, "201": pasteEnd}
)

// decode gives the keys in one message, oldest first. at is when it came.
func (d *decoder) decode(m tea.KeyMsg, at time.Time) []press {
	if d.state != plain && at.Sub(d.since) > splitWait {
		d.state = plain
	}
	if m.Type != tea.KeyRunes && m.Type != tea.KeySpace {
		d.state = plain
		out := make([]press, 0, 2)
		if m.Alt && m.Type != tea.KeyEscape {
			out = append(out, press{Name: "esc"})
		}
		if name := keyName(m.Type); name != "" {
			out = append(out, press{Name: name})
		}
		if m.Type == tea.KeyEscape {
			d.enter(afterEsc, at)
		}
		return out
	}
	runes := m.Runes
	var out []press
	if m.Alt && len(runes) > 0 {
		switch runes[0] {
		case 'O':
			d.enter(afterSS3, at)
			runes = runes[1:]
		case '[':
			d.enter(afterCSI, at)
			runes = runes[1:]
		default: // Esc and a quick key: two keys, neither lost
			d.state = plain
			out = append(out, press{Name: "esc"})
		}
	}
	for _, r := range runes {
		if unicode.IsControl(r) {
			continue
		}
		out = append(out, d.rune(r, at)...)
	}
	return out
}

func (d *decoder) enter(s decodeState, at time.Time) { d.state, d.since, d.params = s, at, "" }

func (d *decoder) rune(r rune, at time.Time) []press {
	switch d.state {
	case afterEsc:
		switch r {
		case 'O':
			d.enter(afterSS3, at)
			return nil
		case '[':
			d.enter(afterCSI, at)
			return nil
		}
	case afterSS3:
		d.state = plain
		if p, ok := ss3[r]; ok {
			return []press{p}
		}
		return []press{printing('O'), printing(r)}
	case afterCSI:
		if strings.ContainsRune("0123456789;:<=>?", r) {
			d.params += string(r)
			return nil
		}
		d.state = plain
		first, _, _ := strings.Cut(d.params, ";")
		name := csiFinal[r]
		if r == '~' {
			name = csiTilde[first]
		}
		if name == "" {
			return nil // an unknown sequence is no text
		}
		return []press{{Name: name}}
	}
	d.state = plain
	return []press{printing(r)}
}

// keyName is our name of a key that prints nothing. Modified cursor keys count
// as the plain ones: a glove on Ctrl changes nothing.
func keyName(t tea.KeyType) string {
	name := t.String()
	switch name {
	case "ctrl+h":
		return "backspace"
	case "ctrl+m":
		return "enter"
	case "shift+tab":
		return name
	}
	base := name
	for _, pre := range []string{"ctrl+", "shift+"} {
		base = strings.TrimPrefix(base, pre)
	}
	switch base {
	case "up", "down", "left", "right", "home", "end", "pgup", "pgdown":
		return base
	}
	return name
}
