package tui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
)

// Intent is what a key asks for. The page model acts on intents and sees no keys.
type Intent string

const (
	None     Intent = ""
	Insert   Intent = "insert" // Stroke.Rune into the field
	Take     Intent = "take"
	Answer   Intent = "answer"
	Open     Intent = "open"   // the line the mark is on, in a list
	Choose   Intent = "choose" // a digit picks a line of a list or question
	Nothing  Intent = "nothing typed"
	NotEnter Intent = "enter does not answer"
	Back     Intent = "back"
	Happened Intent = "happened"
	Close    Intent = "close"
	Help     Intent = "help"
	Far      Intent = "far"
	Picture  Intent = "picture"
	Again    Intent = "again" // take one reading again
	Undo     Intent = "undo"
	Record   Intent = "record"
	Waive    Intent = "waive"
	Glossary Intent = "glossary"
	Reload   Intent = "reload"
	Offer    Intent = "offer" // practice: what the bench reads
	Next     Intent = "next field"
	Prev     Intent = "field before"
	Up       Intent = "up"
	Down     Intent = "down"
	Left     Intent = "left"
	Right    Intent = "right"
	Home     Intent = "home"
	End      Intent = "end"
	PageUp   Intent = "page up"
	PageDown Intent = "page down"
	Erase    Intent = "erase"
	Delete   Intent = "delete"
	Clear    Intent = "clear"
	Suspend  Intent = "suspend"
	Quit     Intent = "quit"
)

// when narrows a binding to a state of the field.
type when int

const (
	always  when = iota
	unfield      // no field, or an empty one
	filled       // a field with something in it
	blank        // an empty field
	typing       // a field, empty or not
)

// Binding is one line of the key map: keys with the short word at the foot of a page
// (the first key is the one to show, no word is not shown there), and where they act.
type Binding struct {
	Intent Intent
	key.Binding
	In   []Place // nil: everywhere
	When when
	Does string // for help; "" is not listed
}

// bind is one line of the key map.
func bind(in Intent, keys []string, places []Place, w when, does, short string) Binding {
	return Binding{Intent: in, Binding: key.NewBinding(key.WithKeys(keys...), key.WithHelp(KeyWord(keys[0]), short)), In: places, When: w,
		Does: does}
}

// Short is the word at the foot of a page.
func (b Binding) Short() string { return b.Binding.Help().Desc }

// shown is the key to show at the focus: where letters are typed no letter is a key.
func (b Binding) shown(f Focus) string {
	for _, k := range b.Keys() {
		if f.Place != Words || len(k) > 1 || !isLetter(rune(k[0])) {
			return KeyWord(k)
		}
	}
	return KeyWord(b.Keys()[0])
}

// KeyMap is all keys of the program, in the order help lists them.
type KeyMap []Binding

// DefaultKeys is the one key map. A numeric keypad with arrows, Enter and Esc
// does all that the work needs; letters and function keys are second names. Only
// what changes nothing or asks once more hangs on a letter.
func DefaultKeys() KeyMap {
	fields := []Place{Reads, Answers, Words}
	return KeyMap{
		bind(Take, []string{"enter", "tab", "ctrl+j"}, []Place{Reads}, filled, "takes the reading; a gauge ends with Enter, line feed or Tab",
			"takes it"),
		bind(Nothing, []string{"enter", "ctrl+j"}, []Place{Reads}, blank, "", ""),
		bind(Answer, []string{"+"}, []Place{Answers, Words}, filled, "answers with what is typed", "answers"),
		bind(Answer, []string{"+"}, []Place{Asks}, always, "answers the question or passes the pause point", "answers"),
		bind(NotEnter, []string{"enter", "ctrl+j"}, []Place{Answers, Words, Asks}, always, "", ""),
		bind(Open, []string{"+", "enter"}, []Place{Lists}, always, "opens the marked line; it answers nothing", "open"),
		bind(Choose, []string{"1", "2", "3", "4", "5", "6", "7", "8", "9", "0"}, []Place{Lists, Asks}, always, "marks the line of that number",
			""),
		bind(Offer, []string{"b"}, []Place{Reads, Answers, Words, Asks}, unfield,
			"practice: fills an empty field with what the bench reads; so does Enter where a reading is asked, + where a count or an answer is", ""),
		bind(Back, []string{"/"}, nil, unfield, "where nothing is typed: goes back to look at the steps; nothing is lost. Behind a whole "+
			"number: a fraction, 1/32", "back"),
		bind(Happened, []string{"*"}, nil, unfield, "where nothing is typed: something happened, a bump, a pulled tool, a crash",
			"something happened"),
		bind(Help, []string{"?", "f1"}, nil, always, "help for this page and all keys", "help"),
		bind(Far, []string{"f2", "v"}, nil, unfield, "far view: only the act, the number, the verdict", "far"),
		bind(Far, []string{"f2"}, nil, filled, "", "far"),
		bind(Picture, []string{"f3", "p"}, nil, unfield, "next picture", "picture"),
		bind(Picture, []string{"f3"}, nil, filled, "", "picture"),
		bind(Again, []string{"f4", "r"}, []Place{Reads, Answers}, unfield, "takes one reading again; the old one stays in the record", "redo"),
		bind(Again, []string{"f4", "r"}, []Place{Asks, Lists, Words}, unfield, "takes one reading again; the old one stays in the record", ""),
		bind(Undo, []string{"f5", "u"}, nil, unfield, "takes the last reading again", ""),
		bind(Record, []string{"f6", "l"}, nil, unfield, "lists the steps: what each found, and its readings", ""),
		bind(Waive, []string{"f7", "w"}, nil, unfield, "waives a limit, with a reason; asks first", ""),
		bind(Glossary, []string{"f8", "g"}, nil, unfield, "what the words mean", ""),
		bind(Reload, []string{"f9", "e"}, []Place{Lists, Asks}, always, "reads the job files again after editing", ""),
		bind(Close, []string{"esc"}, nil, always, "closes what lies on top; what was typed stays", ""),
		bind(Erase, []string{"backspace"}, fields, filled, "erases the character before the mark; what is taken already is taken again with F4",
			"erases"),
		bind(Erase, []string{"backspace"}, fields, blank, "", ""),
		bind(Delete, []string{"delete"}, fields, always, "erases the character at the mark", ""),
		bind(Clear, []string{"ctrl+u"}, fields, filled, "empties the field", ""),
		bind(Left, []string{"left"}, nil, always, "", ""),
		bind(Right, []string{"right"}, nil, always, "", ""),
		bind(Up, []string{"up"}, nil, always, "up and down: from field to field, from line to line", ""),
		bind(Down, []string{"down"}, nil, always, "", ""),
		bind(Next, []string{"tab"}, nil, always, "next field", ""),
		bind(Prev, []string{"shift+tab"}, nil, always, "field before", ""),
		bind(Home, []string{"home"}, nil, always, "", ""),
		bind(End, []string{"end"}, nil, always, "", ""),
		bind(PageUp, []string{"pgup"}, nil, always, "page up and down in long lists", ""),
		bind(PageDown, []string{"pgdown"}, nil, always, "", ""),
		bind(Suspend, []string{"ctrl+z"}, nil, always, "", ""),
		bind(Quit, []string{"q", "ctrl+c"}, nil, unfield, "leaves; asks first; all readings are on disk already", "leave"),
		bind(Quit, []string{"ctrl+c"}, nil, filled, "", ""),
	}
}

// Of gives the intent of a key for the focus. None comes with a reason the person
// should see, or with an empty one for a key that means nothing here.
func (km KeyMap) Of(s Stroke, f Focus) (Intent, string) {
	for _, b := range km {
		if !b.in(f) || !key.Matches(s, b.Binding) {
			continue
		}
		if s.Rune != 0 && f.Place == Words && isLetter(s.Rune) {
			continue // in a text field a letter is a letter
		}
		if (b.Intent == Answer || b.Intent == Open && s.Rune == '+') && Guarded(s.At, f) {
			return None, ""
		}
		return b.Intent, ""
	}
	if s.Rune != 0 && f.field() {
		if s.Rune == '*' {
			return None, "* is no part of a number; in an empty field: something happened"
		}
		if !Accepts(f.Place, s.Rune, f.empty()) {
			return None, "not part of an entry here: " + string(s.Rune)
		}
		if s.Rune == '/' && f.Place != Words && !divides(f.Text) {
			return None, "/ goes back in an empty field, and makes a fraction such as 1/32 behind a whole number: Backspace empties the field"
		}
		return Insert, ""
	}
	return None, ""
}

// divides says that a / behind the text can be a fraction's: what stands there ends in a
// whole number, with no point and no / in it.
func divides(text string) bool {
	i := strings.LastIndexAny(text, " -+xyzXYZ")
	last := text[i+1:]
	return last != "" && strings.Trim(last, "0123456789") == ""
}

func isLetter(r rune) bool { return 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' }

func (b Binding) in(f Focus) bool {
	if b.In != nil && !slices.Contains(b.In, f.Place) {
		return false
	}
	switch b.When {
	case unfield:
		return !f.field() || f.empty()
	case filled:
		return f.field() && !f.empty()
	case blank:
		return f.field() && f.empty()
	case typing:
		return f.field()
	}
	return true
}
