package tui

import (
	"time"
)

// Source says who made an entry. The values are those of the record.
type Source string

const (
	Keyed      Source = "keyed"
	Instrument Source = "instrument"
	FromPaste  Source = "pasted"
)

// Place is what kind of thing the keys go to.
type Place int

const (
	Lists   Place = iota // a list, a menu, help: nothing is answered or read here
	Reads                // a reading field: Enter takes it
	Answers              // a number that answers a question, a count, a read-back: + answers
	Words                // a text that answers: letters are characters, + answers
	Asks                 // a question or pause point without a field: + answers
)

// Focus is where the keys go now: the place, what its field holds, and when the
// page was shown. The page model gives it with every message.
type Focus struct {
	Place Place
	Text  string
	Shown time.Time
}

func (f Focus) empty() bool { return f.Text == "" }

// field reports whether there is a field to type into.
func (f Focus) field() bool { return f.Place == Reads || f.Place == Answers || f.Place == Words }

// plusAnswers reports whether + is an answer here, or opens: in an empty number field it
// is a sign.
func (f Focus) plusAnswers() bool {
	switch f.Place {
	case Asks, Lists:
		return true
	case Answers, Words:
		return !f.empty()
	}
	return false
}

// StrokeKind says what a Stroke is.
type StrokeKind int

const (
	Pressed StrokeKind = iota // one key
	Pasted                    // a bracketed paste for the field; Rows: a block of rows
	Refused                   // a burst or paste that this place does not take; Why says it
)

// Stroke is one thing the keys said, after bursts and pastes were sorted out.
type Stroke struct {
	Kind   StrokeKind
	Name   string // of the key: "5", "+", "enter", "up", "f1"
	Rune   rune   // of a printing key, else 0
	At     time.Time
	Text   string // Pasted: what to insert. Refused: what came
	Rows   bool   // Pasted: Text is several rows of numbers
	Passed int    // Refused: so many runes of it were already delivered; take them back
	Why    string // Refused, or Pasted in part: one line for the person
	Source Source // of the entry that "enter" ends in a reading field
	Hold   string // why this "enter" must be pressed once more before the entry counts, or ""
}

// String is the name of the key, by which bindings match it.
func (s Stroke) String() string { return s.Name }
