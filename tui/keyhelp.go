package tui

import (
	"slices"
	"strings"
)

// HelpLine is one line of help: keys, what they do, and why not now.
type HelpLine struct {
	Keys, Does, Short string
	Off               string // why the key does nothing now, or ""
}

// Help lists the keys that act at the focus. off gives the reason for each intent
// that the page cannot serve now: such a key stays listed, with its reason.
func (km KeyMap) Help(f Focus, off map[Intent]string) []HelpLine {
	var out []HelpLine
	seen := map[Intent]bool{}
	for _, b := range km {
		if b.Does == "" || seen[b.Intent] || !b.reaches(f) {
			continue
		}
		seen[b.Intent] = true
		out = append(out, HelpLine{Keys: b.keys(), Does: b.Does, Short: b.Short(), Off: off[b.Intent]})
	}
	return out
}

// reaches is in, but for help: a key that acts once the field is empty or filled
// is listed too.
func (b Binding) reaches(f Focus) bool { return b.In == nil || slices.Contains(b.In, f.Place) }

func (b Binding) keys() string {
	ks := b.Keys()
	if b.Intent == Choose {
		return "1-9, 0"
	}
	out := make([]string, 0, len(ks))
	for _, k := range ks {
		if k == "ctrl+j" {
			continue // a line feed: nobody presses it
		}
		if b.Intent == Take && k == "tab" {
			continue
		}
		out = append(out, KeyWord(k))
	}
	return strings.Join(out, " or ")
}

// KeyWord is a key as the person knows it.
func KeyWord(name string) string {
	switch name {
	case "enter":
		return "Enter"
	case "esc":
		return "Esc"
	case "backspace":
		return "Backspace"
	case "delete":
		return "Delete"
	case "tab":
		return "Tab"
	case "shift+tab":
		return "Shift-Tab"
	case "up", "down", "left", "right", "home", "end":
		return strings.ToUpper(name[:1]) + name[1:]
	case "pgup":
		return "PgUp"
	case "pgdown":
		return "PgDn"
	}
	if rest, ok := strings.CutPrefix(name, "ctrl+"); ok {
		return "Ctrl-" + strings.ToUpper(rest)
	}
	if len(name) > 1 && name[0] == 'f' {
		return strings.ToUpper(name)
	}
	return name
}

// Bottom is the line of keys at the foot of the page: the keys that act at this
// very moment. A disabled one is left to help, which says why.
func (km KeyMap) Bottom(f Focus, off map[Intent]string) []HelpLine {
	var out []HelpLine
	for _, b := range km {
		if b.Short() == "" || !b.in(f) || off[b.Intent] != "" {
			continue
		}
		out = append(out, HelpLine{Keys: b.shown(f), Does: b.Does, Short: b.Short()})
	}
	return out
}

// Keypad draws the numeric keypad with what its keys mean at the focus: a sheet
// to look at or to print. The keys lie as on the common 17-key block.
func (km KeyMap) Keypad() []string {
	short := func(in Intent) string {
		for _, b := range km {
			if b.Intent == in && b.Short() != "" {
				return b.Short()
			}
		}
		return ""
	}
	return []string{
		"+------+------+------+------+",
		"| Num  |  /   |  *   |  -   |   /      empty field: " + short(Back) + "; or 1/32",
		"+------+------+------+------+   *      empty field: " + short(Happened),
		"|  7   |  8   |  9   |      |   -      minus sign; Backspace erases",
		"+------+------+------+  +   |   +      question, count, pause point: " + short(Answer),
		"|  4   |  5   |  6   |      |          empty number field: plus sign",
		"+------+------+------+------+   .  ,   decimal point",
		"|  1   |  2   |  3   |      |   Enter  reading: " + short(Take) + "; it answers nothing",
		"+------+------+------+Enter |",
		"|  0          |  .   |      |",
		"+-------------+------+------+",
	}
}
