package tui

import (
	"slices"
	"strings"

	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// newRedo lists the readings of this round, newest first, to take one again.
func newRedo(m *Model) *listPage {
	p := &listPage{title: "take one again", lead: []line{{Text, "Which? The old value stays in the record, struck through."}}, mark: 0}
	ts := slices.Clone(m.taken())
	ss, _ := m.st.Step(m.st.Cursor.Step)
	slices.Reverse(ts)
	for _, t := range ts {
		label := takenWords(ss, t)
		p.items = append(p.items, item{words: label + "   " + t.Short() + old(t), do: func(m *Model) tea.Cmd { m.again(t.Field); return nil }})
	}
	if len(ts) == 0 {
		p.lead = []line{{Text, "Nothing was read in this round yet. / looks at the steps before; one of them can be read again there."}}
		p.mark = -1
	}
	return p
}

// old are the values that a reading replaced.
func old(t fold.Taken) string {
	if len(t.Before) == 0 {
		return ""
	}
	return "   instead of " + strings.Join(t.Before, ", ")
}

// newReview lists the steps; before marks the one before the current.
func newReview(m *Model, before bool) *listPage {
	p := &listPage{title: "the steps so far", lead: []line{{Text, "+ or Enter opens one to look at: its verdict, numbers and readings. " +
		"Nothing changes by looking."}}, mark: 0}
	for i, ss := range m.st.Steps {
		word, role := m.standing(&ss)
		w := word + "  " + ss.Title
		if ss.Verdict == fold.Void && ss.Cause != nil {
			w += ": " + causeWords(ss.Cause, &m.st)
		}
		id := ss.ID
		p.items = append(p.items, item{words: w, role: role, do: func(m *Model) tea.Cmd { m.push(newLook(m, id)); return nil }})
		if id == m.st.Cursor.Step {
			p.mark = i
			if before && i > 0 {
				p.mark = i - 1
			}
		}
	}
	return p
}

// lookPage shows one step's newest round: readings, verdict, and the way to read it again.
type lookPage struct {
	step fold.StepID
	from int
}

func newLook(m *Model, id fold.StepID) *lookPage { return &lookPage{step: id} }

func (p *lookPage) focus(*Model) Focus { return Focus{Place: Lists} }
func (p *lookPage) words(*Model) map[Intent]string {
	return map[Intent]string{Open: "-", Choose: "-", Close: "close", Again: "read this step again", PageDown: "more"}
}

func (p *lookPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	switch in {
	case Again, Choose:
		if in == Choose && s.Rune != '1' {
			return nil, true
		}
		p.ask(m)
	case Up, PageUp:
		p.from = max(p.from-5, 0)
	case Down, PageDown:
		p.from += 5
	case Open, Insert:
	default:
		return nil, false
	}
	return nil, true
}

// ask makes sure that the step is to be read again.
func (p *lookPage) ask(m *Model) {
	ss, ok := m.st.Step(p.step)
	if !ok || ss.Round == nil || ss.Round.First == 0 {
		m.notice = "this step was not read yet"
		return
	}
	if p.step == m.st.Cursor.Step {
		m.home()
		m.push(newRedo(m))
		return
	}
	q := &listPage{title: "read again: " + ss.Title, asks: true, mark: 0,
		lead: []line{{Text, "A new round is opened. What rests on its results falls with the first new reading; the old round stays in the " +
			"record."}},
		items: []item{{words: "no, go back", do: func(m *Model) tea.Cmd { m.pop(); return nil }},
			{words: "yes, a new round", do: func(m *Model) tea.Cmd {
				es, err := m.st.Reopen(p.step)
				return m.save(es, err, func(m *Model) { m.just = ""; m.home() })
			}}}}
	m.push(q)
}

func (p *lookPage) middle(m *Model, s *sheet) {
	v := verdictPage{step: p.step, look: true}
	in := &sheet{t: m.t, w: s.w}
	in.put(must, m.t.Paint(KeyName, "1 or F4 reads this step again; Esc closes"))
	v.write(m, in)
	ss, ok := m.st.Step(p.step)
	if ok && ss.Round != nil {
		in.put(must, "", m.t.Paint(Dim, "Readings, newest round"))
		for _, t := range ss.Round.Taken {
			label := takenWords(ss, t)
			val := t.Short()
			if len(t.Before) > 0 {
				val = m.t.Paint(Void, m.t.Say(strings.Join(t.Before, " "))) + "  " + val
			}
			in.put(must, m.ends("  "+label, val+"  "+t.By, s.w, Text, Text)...)
		}
	}
	ls := in.fit(1 << 20)
	h := m.room()
	p.from = min(p.from, max(len(ls)-h, 0))
	s.put(must, port(ls, s.w, h, p.from)...)
}
