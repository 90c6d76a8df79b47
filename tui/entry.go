package tui

import (
	"strings"
	"unicode"
)

// EntryMax is the most an entry field holds, in characters.
const EntryMax = 64

// Entry is the text in a field with a mark in it. It is a plain value: a copy is
// independent. It never throws away what was typed except when asked to erase.
type Entry struct {
	text string
	cur  int // in runes from the start
}

// NewEntry is a field that holds s, with the mark at its end.
func NewEntry(s string) Entry {
	rs := []rune(s)
	if len(rs) > EntryMax {
		rs = rs[:EntryMax]
	}
	return Entry{string(rs), len(rs)}
}

// Accepts reports whether a character can be part of an entry at the place:
// digits, sign, point, comma, slash, inch mark, blank, and the letters of a unit
// behind a digit. A text field takes any character that prints.
func Accepts(p Place, r rune, empty bool) bool {
	if p == Words {
		return unicode.IsPrint(r) && r != '*'
	}
	if strings.ContainsRune("0123456789.,+-/\" '", r) {
		return true
	}
	if p == Reads && strings.ContainsRune("XYZxyz", r) { // the axis before a number
		return true
	}
	return !empty && (isLetter(r) || r == 'µ' || r == '°' || r == '=')
}

// Text is what the field holds, untrimmed.
func (e Entry) Text() string { return e.text }

// Cursor is where the mark is, in characters from the start.
func (e Entry) Cursor() int { return e.cur }

// Empty reports a field with nothing in it.
func (e Entry) Empty() bool { return e.text == "" }

// Insert puts text at the mark. What does not fit in EntryMax is not taken, and
// ok is false.
func (e Entry) Insert(s string) (out Entry, ok bool) {
	rs := []rune(e.text)
	in := []rune(s)
	ok = true
	if room := EntryMax - len(rs); len(in) > room {
		in, ok = in[:room], false
	}
	return Entry{string(rs[:e.cur]) + string(in) + string(rs[e.cur:]), e.cur + len(in)}, ok
}

// Backspace erases the character before the mark.
func (e Entry) Backspace() Entry { return e.cut(e.cur-1, e.cur) }

// Delete erases the character at the mark.
func (e Entry) Delete() Entry { return e.cut(e.cur, e.cur+1) }

// Drop takes back the last n characters put in at the mark: a refused burst.
func (e Entry) Drop(n int) Entry { return e.cut(e.cur-n, e.cur) }

// Clear empties the field.
func (e Entry) Clear() Entry { return Entry{} }

func (e Entry) cut(from, to int) Entry {
	rs := []rune(e.text)
	from, to = max(from, 0), min(to, len(rs))
	if from >= to {
		return e
	}
	cur := e.cur
	if cur >= to {
		cur -= to - from
	} else if cur > from {
		cur = from
	}
	return Entry{string(rs[:from]) + string(rs[to:]), cur}
}

// Move shifts the mark by n characters, to the ends at most.
func (e Entry) Move(n int) Entry {
	e.cur = min(max(e.cur+n, 0), len([]rune(e.text)))
	return e
}

// Home and End put the mark before the first and behind the last character.
func (e Entry) Home() Entry { e.cur = 0; return e }
func (e Entry) End() Entry  { return e.Move(EntryMax) }

// Do applies an editing intent; ok is false for any other.
func (e Entry) Do(in Intent, r rune) (out Entry, ok bool) {
	switch in {
	case Insert:
		if sign := func(s string) bool { return s == "+" || s == "-" }; sign(e.text) && sign(string(r)) && e.cur == 1 {
			return Entry{string(r), 1}, true // one sign takes the place of the other
		}
		return e.Insert(string(r))
	case Erase:
		return e.Backspace(), true
	case Delete:
		return e.Delete(), true
	case Clear:
		return e.Clear(), true
	case Left:
		return e.Move(-1), true
	case Right:
		return e.Move(1), true
	case Home:
		return e.Home(), true
	case End:
		return e.End(), true
	}
	return e, false
}

// whole is the number of cells before the decimal point: all of them when there
// is none. A comma counts as the point.
func whole(s string) int {
	if i := strings.IndexAny(s, ".,"); i >= 0 {
		return Width(s[:i])
	}
	end := strings.LastIndexAny(s, "0123456789") + 1
	if end == 0 {
		end = len(s)
	}
	return Width(s[:end])
}

// Shown is the text with its mark as glyphs: an underline at the end, a bar
// before the character it stands at elsewhere. No colour is needed to see it.
func (e Entry) Shown() string {
	rs := []rune(e.text)
	if e.cur >= len(rs) {
		return e.text + "_"
	}
	return string(rs[:e.cur]) + "|" + string(rs[e.cur:])
}

// tail is what AlignPoint keeps free behind the prediction: digits too many, a unit.
const tail = 4

// AlignPoint sets two texts so that their decimal points stand in one column, and
// pads both to w cells: a slipped point shows at once. The column follows from the
// prediction alone, so that nothing moves while a person types, until an entry is
// too long for it.
func AlignPoint(prediction, entry string, w int) (p, e string) {
	a, b := whole(prediction), whole(entry)
	col := w - (Width(prediction) - a + tail)
	col = min(col, w-(Width(entry)-b))
	col = max(col, a, b)
	return Pad(strings.Repeat(" ", col-a)+prediction, w), Pad(strings.Repeat(" ", col-b)+entry, w)
}
