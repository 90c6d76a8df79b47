package tui

import (
	"strings"

	"fliptrue/jobs"

	tea "github.com/charmbracelet/bubbletea"
)

// notePage takes a line of text into the record. It changes no result.
type notePage struct{ text freeText }

func newNote() *notePage { return &notePage{newFreeText()} }

func (p *notePage) focus(*Model) Focus { return Focus{Place: Words, Text: p.text.Text()} }
func (p *notePage) words(*Model) map[Intent]string {
	return map[Intent]string{Answer: "write it", Close: "leave it", Far: "-", Picture: "-"}
}
func (p *notePage) edit(_ *Model, f func(Entry) Entry) { p.text.edit(f) }

func (p *notePage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	if in == Answer {
		if t := strings.TrimSpace(p.text.Text()); t != "" {
			return m.save([]jobs.Event{{Note: t}}, nil, func(m *Model) { m.home() }), true
		}
		m.notice = "the note is empty"
		return nil, true
	}
	return nil, p.text.Do(in, s.Rune)
}

func (p *notePage) middle(m *Model, s *sheet) {
	s.put(must, m.t.Paint(Act, "A NOTE INTO THE RECORD"))
	s.say(useful, Text, "It stands in the record and on the report, with its time. It changes no result.")
	s.gap()
	s.put(must, "  "+m.t.Paint(Typed, Cut(m.t.Say(p.text.Shown()), s.w-2)))
}
