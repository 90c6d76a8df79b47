package tui

import (
	"slices"
	"strings"

	"fliptrue/calc/sent"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// arrivedAt is when what stands in a field arrived; ok is false where something else stands there.
func (m *Model) arrivedAt(field string) (at string, ok bool) {
	key := m.address(field)
	at, ok = m.feed.at[key]
	e := m.entries[key]
	return at, ok && !e.Empty() && m.offered[key].text == e.Text()
}

// holds says that a form has a field with something that arrived and is not taken.
func (m *Model) holds(w *walkPage) bool {
	return slices.ContainsFunc(w.fields, func(f string) bool { _, ok := m.arrivedAt(f); return ok })
}

// receive puts an arrival into the fields of a form. A number goes by its axis, or alone
// into the field in hand; why says what keeps it out.
func (p *walkPage) receive(m *Model, w waiting) (why string) {
	var open []fold.Ask
	for _, f := range p.fields {
		a, ok := m.st.Ask(f)
		if !ok || a.Kind != fold.Reading || feedOf(a) != w.From || len(m.redo) == 0 && has(m.taken(), f) {
			continue
		}
		if _, old := m.arrivedAt(f); !m.entries[m.address(f)].Empty() && !old {
			return "the field is typed in; empty it and read again"
		}
		open = append(open, a)
	}
	if len(open) == 0 {
		return "the " + w.From + " is not read here"
	}
	into := map[string]string{}
	switch {
	case sent.Lettered(w.Numbers):
		for _, a := range open {
			for _, n := range w.Numbers {
				if n.Axis == a.What.Axis {
					into[a.Field] = n.Text
				}
			}
		}
		if len(into) == 0 {
			return "no axis of it is read here"
		}
	case len(w.Numbers) == 1 && len(open) > 1 && w.From != "axes":
		a, _ := p.ask(m)
		if feedOf(a) != w.From {
			a = open[0]
		}
		into[a.Field] = w.Numbers[0].Text
	case len(w.Numbers) == len(open):
		for i, a := range open {
			into[a.Field] = w.Numbers[i].Text
		}
	default:
		return plural(len(w.Numbers), "number") + " for " + plural(len(open), "reading") + "; name its columns on the machine card"
	}
	for _, a := range open {
		text := m.plain(a, into[a.Field])
		if _, err := m.st.Understand(a.Field, text); text != "" && err != nil {
			return err.Error()
		}
	}
	for _, a := range open {
		key := m.address(a.Field)
		delete(m.entries, key)
		delete(m.offered, key)
		if text := m.plain(a, into[a.Field]); text != "" {
			m.entries[key] = NewEntry(text)
			m.offered[key] = offered{text, string(Instrument)}
			m.feed.at[key] = w.at.Format("15:04:05")
		}
	}
	return ""
}

// plain is a number as it would be typed here: without a unit that a bare number has anyway.
func (m *Model) plain(a fold.Ask, text string) string {
	return strings.TrimSpace(strings.TrimSuffix(text, strings.TrimSpace(a.EntryUnit(m.o.Plan.System()))))
}

// feedOf is the feed that may fill a reading: by its instrument, "" for none.
func feedOf(a fold.Ask) string {
	switch by := a.What.By; by {
	case "dial", "calliper", "micrometer":
		return by
	case "probe", "finder", "touch", "tool", "pin", "paper", "readout", "block", "hand":
		if len(a.What.Axis) == 1 {
			return "axes"
		}
	}
	return ""
}

// takeArrived takes the fields of a form that all arrived, together. One that lies outside
// its window is held alone; handled is false where something of the form was typed.
func (p *walkPage) takeArrived(m *Model) (cmd tea.Cmd, handled bool) {
	a, _ := p.ask(m)
	if _, ok := m.arrivedAt(a.Field); !ok {
		return nil, false
	}
	var values [][2]string
	var fields []string
	for i, f := range p.fields {
		if _, ok := m.arrivedAt(f); !ok {
			continue
		}
		q, _ := m.st.Ask(f)
		e, err := m.st.Understand(f, m.entries[m.address(f)].Text())
		if err != nil {
			p.at, m.notice = i, err.Error()
			return nil, true
		}
		if e.Far && !q.Blind {
			p.at, p.by = i, string(Instrument)
			p.doubts(m, e)
			return nil, true
		}
		values = append(values, [2]string{f, e.Value})
		fields = append(fields, f)
	}
	es, err := m.st.Take(string(Instrument), values...)
	return m.save(es, err, func(m *Model) { m.retaken(fields...) }), true
}

// arrivedWords marks what arrived, with the key that takes it.
func (p *walkPage) arrivedWords(m *Model) string {
	var names []string
	from, at := "", ""
	for _, f := range p.fields {
		t, ok := m.arrivedAt(f)
		a, asked := m.st.Ask(f)
		if !ok || !asked {
			continue
		}
		from, at = feedOf(a), t
		if a.What.Axis != "" {
			names = append(names, upper(a.What.Axis))
		}
	}
	if from == "" {
		return ""
	}
	what := "Arrived from the " + from + " feed at " + at
	if len(names) > 1 {
		what += ": " + strings.Join(names, " and ")
	}
	what += ". Not taken yet: Enter takes it."
	if len(names) > 1 {
		what = strings.TrimSuffix(what, "it.") + "them."
	}
	switch n := len(m.feed.waiting); n {
	case 0:
	case 1:
		what += " 1 more waits."
	default:
		what += " " + itoa(n) + " more wait."
	}
	return what
}
