package tui

import (
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// cardPage is the first minute after something let go: what is done at once in the tallest letters, and what is
// never done. Nothing is asked, and nothing is in the record before it is left.
type cardPage struct {
	listPage
	h fold.Mishap
}

// newCard is that page of a mishap which opens a setup of its own.
func newCard(m *Model, h fold.Mishap) *cardPage {
	p := &cardPage{h: h, listPage: listPage{title: h.Words, asks: true, mark: 0, plus: "do that"}}
	p.items = []item{
		{words: "it stands still, no hand in the machine: go on", do: func(m *Model) tea.Cmd { return m.opened(h) }},
		{words: "nothing let go: back", do: func(m *Model) tea.Cmd { m.home(); return nil }},
	}
	return p
}

func (p *cardPage) middle(m *Model, s *sheet) {
	list := &sheet{t: m.t, w: s.w}
	for i, it := range p.items {
		mark, role := "  ", Text
		if i == p.mark {
			mark, role = "> ", Act
		}
		list.say(must, role, mark+itoa(i+1)+"  "+it.words)
	}
	rest := list.height() + 1
	for _, t := range p.h.Card {
		rest += len(Wrap(m.t.Say(t), s.w-2))
	}
	if !m.tall(s, must, p.h.Tall, m.room()-rest-1) {
		s.say(must, Banner, p.h.Tall)
	}
	s.gap()
	for _, t := range p.h.Card {
		s.hang(must, Caution, "- ", t)
	}
	s.gap()
	s.parts = append(s.parts, list.parts...)
}

// opened declares a mishap, begins the setup that it opens and goes on there.
func (m *Model) opened(h fold.Mishap) tea.Cmd {
	es, name, ok := m.o.Log.Open(m.o.Plan, h.ID, m.st.By)
	if !ok {
		m.notice = "it can't be told here: " + h.Words
		return nil
	}
	return m.save(es, nil, func(m *Model) {
		m.home()
		plan, err := m.o.Open(name)
		if err != nil {
			m.trouble = err.Error()
			return
		}
		m.o.Plan, m.just, m.redo, m.saw = plan, "", nil, false
		m.st = m.o.Log.State(plan)
	})
}
