package tui

import (
	"slices"
	"strings"

	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// walkPage is the one act now and the fields answered together after it: first DO,
// then READ. Everything it shows comes from the step's Asks and Page.
type walkPage struct {
	fields []string // of the form, in order
	at     int
	far    *fold.Entry // a reading outside its window, asked about
	mark   int         // the line of that question that + answers with
	by     string      // who made it
	undone bool        // the act: the mark is on going on without it
}

// newWalk is the page of the cursor's form, or of the readings to be taken again. It
// panics on an ask that nobody could answer: a mistake of the step, caught here once.
func newWalk(m *Model) *walkPage {
	p := walkOf(m)
	for _, f := range p.fields {
		if a, ok := m.st.Ask(f); ok {
			if bad := unanswerable(a); bad != "" {
				panic("tui: " + m.address(f) + " " + bad)
			}
		}
	}
	return p
}

// unanswerable says why no key could answer an ask, "" where one can.
func unanswerable(a fold.Ask) string {
	switch {
	case strings.TrimSpace(a.Label) == "":
		return "has no words beside its field"
	case a.Kind == fold.Choice && len(a.Options) == 0:
		return "is a choice of nothing"
	case a.Kind == fold.Choice && len(a.Options) > 9:
		return "is a choice of more than there are digits for"
	}
	return ""
}

func walkOf(m *Model) *walkPage {
	c := m.st.Cursor
	p := &walkPage{fields: c.Form}
	if len(m.redo) > 0 {
		form := ""
		if a, ok := m.st.Ask(m.redo[0]); ok {
			form = a.Form
		}
		p.fields = nil
		for _, f := range m.redo {
			if a, ok := m.st.Ask(f); ok && (f == m.redo[0] || form != "" && a.Form == form) {
				p.fields = append(p.fields, f)
			}
		}
		return p
	}
	p.at = max(slices.Index(p.fields, c.Field), 0)
	return p
}

// ask is the focused field's; ok is false when the step asks nothing.
func (p *walkPage) ask(m *Model) (fold.Ask, bool) {
	if p.at >= len(p.fields) {
		return fold.Ask{}, false
	}
	return m.st.Ask(p.fields[p.at])
}

// acts are what is to be done before the form is read.
func (p *walkPage) acts(m *Model) []fold.Act {
	var out []fold.Act
	if len(m.redo) > 0 {
		return nil
	}
	for _, f := range p.fields {
		if a, ok := m.st.Ask(f); ok {
			out = append(out, a.Do...)
		}
	}
	return out
}

func (p *walkPage) key(m *Model) string {
	if len(p.fields) == 0 {
		return ""
	}
	return m.address(p.fields[0])
}

// begun says that something of the form was taken already.
func (p *walkPage) begun(m *Model) bool {
	for _, t := range m.taken() {
		if slices.Contains(p.fields, t.Field) {
			return true
		}
	}
	return false
}

// doing says that the act comes first and nothing is read yet.
func (p *walkPage) doing(m *Model) bool {
	return (m.first() || p.blind(m)) && len(p.acts(m)) > 0 && !m.did[p.key(m)] && !p.begun(m)
}

// blind says that a value is read back: what is to be keyed in never stands beside it.
func (p *walkPage) blind(m *Model) bool {
	for _, f := range p.fields {
		if a, ok := m.st.Ask(f); ok && a.Blind {
			return true
		}
	}
	return false
}

// perform says that the acts were done; a bench does them.
func (p *walkPage) perform(m *Model) {
	if m.did[p.key(m)] {
		return
	}
	m.did[p.key(m)] = true
	if m.o.Bench != nil {
		m.perform(p.acts(m))
	}
}

// leave goes on without the act.
func (p *walkPage) leave(m *Model) {
	m.did[p.key(m)] = true
	m.notice = "not done, and the bench knows it"
	m.turned()
}

// newUndone asks once more before an act is left out that has a caution.
func newUndone(m *Model, p *walkPage) *listPage {
	q := &listPage{title: "go on without doing it", caution: m.pg.Caution, asks: true, mark: 0}
	for _, w := range sayWords(p.acts(m)) {
		q.lead = append(q.lead, line{Text, "Not done: " + w})
	}
	q.lead = append(q.lead, line{Act, "At a machine this is how parts and hands are lost. On this bench it shows what is said then."})
	q.items = []item{{words: "no, go back", do: func(m *Model) tea.Cmd { m.pop(); p.undone = false; return nil }},
		{words: "yes, go on with it undone", do: func(m *Model) tea.Cmd { m.pop(); p.leave(m); return nil }}}
	q.tail = []line{{Dim, "First the number, then +. Enter answers nothing."}}
	return q
}

// perform lets the bench do acts; one that it can't do is said.
func (m *Model) perform(as []fold.Act) {
	for _, a := range as {
		if err := m.o.Bench.Do(a); err != nil {
			m.notice = err.Error()
		}
	}
}

func (p *walkPage) text(m *Model) Entry {
	if p.at >= len(p.fields) {
		return Entry{}
	}
	return m.entries[m.address(p.fields[p.at])]
}

func (p *walkPage) edit(m *Model, f func(Entry) Entry) {
	if p.at < len(p.fields) {
		m.entries[m.address(p.fields[p.at])] = f(p.text(m))
	}
}

// sayWords are the words of acts, each once.
func sayWords(as []fold.Act) []string {
	var out []string
	for _, a := range as {
		if w := strings.TrimSpace(a.Words); w != "" && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}
