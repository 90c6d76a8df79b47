package tui

import (
	"strings"

	"fliptrue/steps/fold"
)

// unitWord is the unit of a field; the frame it is read in stands in the head.
func (m *Model) unitWord(a fold.Ask) string {
	if a.Kind != fold.Reading && a.Kind != fold.Echo {
		return ""
	}
	return strings.TrimSpace(a.EntryUnit(m.o.Plan.System()))
}

// frameWord is M for a machine coordinate.
func frameWord(w fold.What) string {
	if w.Axis != "" && (w.By == "probe" || w.By == "tool" || w.By == "touch") {
		return "M"
	}
	return ""
}

// field is one field of the form: open where the focus is, else one line.
func (p *walkPage) field(m *Model, s *sheet, a fold.Ask, here bool) {
	e := m.entries[m.address(a.Field)]
	ss, _ := m.st.Step(m.st.Cursor.Step)
	var was fold.Taken
	taken := false
	if m.st.Cursor.Open {
		was, taken = ss.Round.Get(a.Field)
	}
	label := a.Label
	u := m.unitWord(a)
	if f, ok := p.ask(m); !here && ok && u == m.unitWord(f) {
		u = "" // said beside the field in hand
	}
	if u != "" && !strings.HasSuffix(label, ", "+u) {
		label += "  [" + u + "]"
	}
	if !here {
		state := "_"
		switch {
		case !e.Empty():
			state = e.Text()
		case taken:
			state = was.Value + "  taken"
		}
		s.put(must, m.ends("  "+label, state, s.w, Dim, Text)...)
		return
	}
	p.openField(m, s, a, label)
}

// openField is the field in hand under its label: what was taken before, what is expected, what is typed.
func (p *walkPage) openField(m *Model, s *sheet, a fold.Ask, label string) {
	e := m.entries[m.address(a.Field)]
	lines := WrapHung("> ", m.t.Say(label), s.w)
	for i := range lines {
		lines[i] = m.t.Paint(Act, lines[i])
	}
	s.put(must, lines...)
	if old := m.before(a.Field); old != "" && a.Kind != fold.Reading && a.Kind != fold.Echo {
		s.put(must, "  before    "+m.t.Paint(Void, old))
	}
	switch a.Kind {
	case fold.Choice:
		if m.view != FarView || !m.tallOptions(s, a.Options, e.Text()) {
			m.options(s, a.Options, e.Text())
		}
	case fold.Text, fold.Count:
		lead := "  answer    "
		for _, l := range Wrap(m.t.Say(e.Shown()), s.w-fieldLead) {
			s.put(must, lead+m.t.Paint(Typed, l))
			lead = strings.Repeat(" ", fieldLead)
		}
	default:
		m.number(s, a, e)
	}
}

// fieldLead is how far in what is typed begins.
const fieldLead = 12

// before are the values of a field that were taken, the last one last; "" for none.
func (m *Model) before(field string) string {
	if ss, ok := m.st.Step(m.st.Cursor.Step); ok && m.st.Cursor.Open {
		if was, ok := ss.Round.Get(field); ok {
			return m.t.Say(strings.Join(append(append([]string{}, was.Before...), was.Value), ", "))
		}
	}
	return ""
}

// options are the answers that there are, the chosen one marked.
func (m *Model) options(s *sheet, options []string, chosen string) {
	for i, o := range options {
		mark, role := "  ", Text
		if chosen == o {
			mark, role = "> ", Typed
		}
		s.hang(must, role, "  "+mark+itoa(i+1)+"  ", o)
	}
}

// number is what is expected over what is typed.
func (m *Model) number(s *sheet, a fold.Ask, e Entry) {
	room := s.w - fieldLead
	pred, after, apart := m.expected(a)
	// The decimal points stand in one column, so that a slipped point shows.
	w := min(max(Width(pred)+tail, Width(e.Shown())+tail, 14), max(room/2, 14))
	pl, el := AlignPoint(pred, e.Shown(), w)
	if old := m.before(a.Field); old != "" {
		column := el
		if pred != "" {
			column = pl
		}
		s.put(must, "  before    "+m.t.Paint(Void, Cut(under(old, column), room)))
	}
	if pred != "" {
		lead := "  expected  " + pl
		for _, l := range WrapHung(lead, m.t.Say(after), s.w) {
			s.put(must, m.t.Paint(Predicted, l))
		}
	} else if apart != "" {
		for _, l := range WrapHung("  expected  ", m.t.Say(apart), s.w) {
			s.put(must, m.t.Paint(Predicted, l))
		}
	} else if a.Blind {
		s.put(useful, "  expected  "+m.t.Paint(Predicted, hidden(a)))
	}
	s.put(must, "  now       "+m.t.Paint(Typed, Cut(m.t.Say(el), room)))
}

// under sets a number so that its decimal point stands in the column of another line's.
func under(old, line string) string { return strings.Repeat(" ", max(whole(line)-whole(old), 0)) + old }

// hidden says why nothing is expected of a blind field.
func hidden(a fold.Ask) string {
	if a.Kind == fold.Echo {
		return "hidden: read it from the control"
	}
	return "hidden until it is read"
}
