package tui

import (
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"

	tea "github.com/charmbracelet/bubbletea"
)

// small says that the window shows nothing that could be worked at.
func (m *Model) small() bool { return m.w < MinWidth || m.h < MinHeight }

// shut says that keys are kept for nobody: the window is too small, or was so recently that
// nobody can have seen the field again.
func (m *Model) shut() bool {
	return m.small() || !m.sight.IsZero() && m.now.Sub(m.sight) < guardTime
}

// resized takes the size of the window. When it is large enough again, the page says
// what came meanwhile.
func (m *Model) resized(w, h int) {
	was := m.w > 0 && m.small()
	m.w, m.h = w, h
	if !was || m.small() {
		return
	}
	m.sight, m.shownAt = m.now, m.now
	if m.blind > 0 {
		m.notice = plural(m.blind, "key") + " came while the window was too small: nothing was taken"
	}
	m.blind = 0
}

// miss counts keys that nobody could see the use of, and says so once there is a page.
func (m *Model) miss() {
	m.keys.Drop()
	if m.small() {
		m.blind++
	} else {
		m.notice = "the window has just become large enough: that key was not taken"
	}
}

// missed lets nothing through but what leaves.
func (m *Model) missed(ss []Stroke) []Stroke {
	for _, s := range ss {
		if s.Name == "ctrl+c" {
			return []Stroke{s}
		}
	}
	m.miss()
	return nil
}

// acts says that an intent changes the field or answers.
func acts(in Intent) bool {
	switch in {
	case Insert, Take, Answer, Choose, Nothing, Offer, Erase, Delete, Clear:
		return true
	}
	return false
}

// unseen says that the person has turned away from what such a key would act on: a picture
// fills the page, or the field was scrolled out of sight.
func (m *Model) unseen() bool {
	if p, ok := m.top().(*verdictPage); ok && p.passed {
		return false // it only goes on
	}
	if m.view == PictureView {
		return true
	}
	if m.scroll < 0 {
		return false
	}
	ls, h := m.text()
	if len(ls) <= h || h < 4 {
		return false
	}
	from := m.from(ls, h)
	for i, l := range ls {
		if strings.HasPrefix(ansi.Strip(l), "> ") {
			return i < from || i >= from+h || i == from && from > 0 || i == from+h-1 && from+h < len(ls)
		}
	}
	return false
}

// lookFirst shows the field again instead of taking a key for it.
func (m *Model) lookFirst() tea.Cmd {
	if m.view == PictureView {
		m.view = Whole
	}
	m.scroll = -1
	m.keys.Drop()
	m.shownAt = m.now
	m.sight = time.Time{}
	m.draw()
	m.notice = "the field was out of sight: that key was not taken, press it again"
	return nil
}
