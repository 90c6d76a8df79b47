package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

type keyAt struct {
	m  tea.KeyMsg
	at time.Time
}

// strayFor is how long after a refused letter another one is taken for more of the same
// word, and not for a key of its own.
const strayFor = time.Second

// key takes a key message, or keeps it until the disk has answered.
func (m *Model) key(k keyAt) tea.Cmd {
	if m.writing || m.folding && !m.works() {
		if k.m.Type == tea.KeyCtrlC && m.writing { // a disk that never answers must not hold the person
			if m.hurry {
				m.quit = true
				return tea.Quit
			}
			m.hurry = true
			m.notice = "the disk has not answered yet; Ctrl-C again leaves, and what is being written may be lost"
			return nil
		}
		if m.shut() {
			m.miss()
			return nil
		}
		if len(m.waiting) < 512 {
			m.waiting = append(m.waiting, k)
		}
		return nil
	}
	ss, wait := m.keys.Feed(k.m, k.at, m.focus())
	if m.shut() {
		ss = m.missed(ss)
	}
	cmd := m.strokesIn(ss)
	if wait > 0 {
		cmd = tea.Batch(cmd, m.tick(wait, HeldMsg{}))
	}
	return cmd
}

func (m *Model) strokesIn(ss []Stroke) tea.Cmd {
	var cmds []tea.Cmd
	for _, s := range ss {
		if m.writing || m.folding && !m.works() {
			m.strokes = append(m.strokes, s)
			continue
		}
		cmds = append(cmds, m.stroke(s))
	}
	return tea.Batch(cmds...)
}

// stroke turns one stroke into an intent and hands it to its one owner.
func (m *Model) stroke(s Stroke) tea.Cmd {
	m.notice = ""
	if m.small() { // what is asked can't be seen
		if s.Name == "ctrl+c" {
			m.quit = true
			return tea.Quit
		}
		m.miss()
		return nil
	}
	f := m.focus()
	top := m.top()
	switch s.Kind {
	case Refused:
		m.notice = s.Why
		if f.field() && s.Passed > 0 {
			if e, ok := top.(editor); ok {
				e.edit(m, func(t Entry) Entry { return t.Drop(s.Passed) })
			}
		}
		return nil
	case Pasted:
		return m.pasted(s, f)
	}
	in, why := m.km.Of(s, f)
	if in == Offer && s.Rune != 0 && s.At.Sub(m.stray) < strayFor {
		in, why = None, "not part of an entry here: "+string(s.Rune)
	}
	if in == None {
		m.notice = why
		if isLetter(s.Rune) {
			m.stray = s.At
		}
		return nil
	}
	if m.unseen() && f.Place != Lists && acts(in) {
		return m.lookFirst()
	}
	if s.Hold != "" && in == Take {
		m.notice = s.Hold
		return nil
	}
	if cmd, ok := top.act(m, in, s); ok {
		return cmd
	}
	return m.general(in)
}

// editor is a page with a field to type into.
type editor interface {
	edit(m *Model, f func(Entry) Entry)
}

// pasted puts a pasted text into the field in hand, rows into as many as there are.
func (m *Model) pasted(s Stroke, f Focus) tea.Cmd {
	if m.unseen() {
		return m.lookFirst()
	}
	if s.Rows {
		return m.block(s.Text, FromPaste, false)
	}
	e, ok := m.top().(editor)
	if !ok {
		return nil
	}
	m.notice = s.Why
	fits := true
	e.edit(m, func(t Entry) Entry { t, fits = t.Insert(s.Text); return t })
	switch {
	case !fits:
		m.notice = "too long for a field: only its first " + itoa(EntryMax) + " characters are in it"
	case s.Why == "" && f.Place == Reads:
		m.notice = "pasted into this field, not taken yet: Enter takes it"
	}
	return nil
}
