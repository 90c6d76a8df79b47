package tui

import (
	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// freeText is a line of words: a reason, a note. Reading fields have an entry of their own,
// which knows numbers, bursts and what an instrument sends.
type freeText struct{ in textinput.Model }

func newFreeText() freeText {
	in := textinput.New()
	in.Prompt, in.CharLimit = "", EntryMax
	in.Cursor.SetMode(cursor.CursorStatic) // nothing runs at rest
	in.Focus()
	// No keys but those that the key map hands on as intents: one owner a key.
	on := func(k string) key.Binding { return key.NewBinding(key.WithKeys(k)) }
	in.KeyMap = textinput.KeyMap{CharacterForward: on("right"), CharacterBackward: on("left"), LineStart: on("home"), LineEnd: on("end"),
		DeleteCharacterBackward: on("backspace"), DeleteCharacterForward: on("delete")}
	return freeText{in}
}

// edits are the messages by which an intent is done.
var edits = map[Intent]tea.KeyType{Erase: tea.KeyBackspace, Delete: tea.KeyDelete, Left: tea.KeyLeft, Right: tea.KeyRight,
	Home: tea.KeyHome, End: tea.KeyEnd}

// Do applies an editing intent; ok is false for any other.
func (f *freeText) Do(in Intent, r rune) (ok bool) {
	switch k, known := edits[in]; {
	case in == Clear:
		f.in.SetValue("")
	case in == Insert:
		f.in, _ = f.in.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
	case known:
		f.in, _ = f.in.Update(tea.KeyMsg{Type: k})
	default:
		return false
	}
	return true
}

// edit changes the text as an entry is changed: a paste, or a burst that is taken back.
func (f *freeText) edit(change func(Entry) Entry) {
	e := change(Entry{f.in.Value(), f.in.Position()})
	f.in.SetValue(e.Text())
	f.in.SetCursor(e.Cursor())
}

func (f *freeText) Text() string { return f.in.Value() }
func (f *freeText) Empty() bool  { return f.in.Value() == "" }

// Shown is the text with its mark, as in every other field: to be seen without colour.
func (f *freeText) Shown() string { return Entry{f.in.Value(), f.in.Position()}.Shown() }
