package tui

import (
	"slices"
	"strings"

	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// offer fills the field with what the bench reads; it takes nothing.
func (p *walkPage) offer(m *Model, a fold.Ask) {
	p.perform(m)
	v, err := m.o.Bench.Offer(a)
	if err != nil {
		m.notice = err.Error()
		return
	}
	p.edit(m, func(Entry) Entry { return NewEntry(v) })
	m.offered[m.address(a.Field)] = offered{v, "bench"}
	m.notice = "the bench reads " + v
}

// fill puts the numbers of pasted rows into the field that has the focus and those that
// follow it, or into the form's fields of their axes, where it has an empty field for each;
// it takes none of them.
func (p *walkPage) fill(m *Model, text string) bool {
	rows := rowsOf(text)
	vs := slices.Concat(rows...)
	fields := slices.Clone(p.fields[p.at:])
	if lettered(vs) {
		fields = append(fields, p.fields[:p.at]...)
		fields = slices.DeleteFunc(fields, func(f string) bool {
			return !m.entries[m.address(f)].Empty() || len(m.redo) == 0 && has(m.taken(), f)
		})
	}
	if len(vs) > len(fields) {
		return false
	}
	asks := make([]fold.Ask, len(fields))
	for i, f := range fields {
		asks[i], _ = m.st.Ask(f)
	}
	at, why := place(rows, asks, m.asked())
	if why != "" {
		m.notice = why
		return true
	}
	if slices.Contains(at, passed) {
		return false // shown with the others, as what it is
	}
	said := make([]string, len(vs))
	for i, v := range vs {
		a := asks[at[i]]
		if a.Kind != fold.Reading || !m.entries[m.address(a.Field)].Empty() {
			return false
		}
		said[i] = a.Label + ": " + v.text
	}
	for i, v := range vs {
		key := m.address(fields[at[i]])
		m.entries[key] = NewEntry(v.text)
		m.offered[key] = offered{v.text, string(FromPaste)}
	}
	m.notice = "pasted, not taken yet: " + strings.Join(said, "; ") + ". Enter takes them one by one"
	return true
}

// asked are all asks of the step in hand.
func (m *Model) asked() []fold.Ask {
	ss, ok := m.st.Step(m.st.Cursor.Step)
	if !ok {
		return nil
	}
	return ss.Asks
}

// source is who made the entry of a field.
func (p *walkPage) source(m *Model, field string, keyed Source) string {
	at := m.address(field)
	if o, ok := m.offered[at]; ok && o.text == m.entries[at].Text() {
		return o.by
	}
	return string(keyed)
}

// reading takes a reading, or holds it when it lies outside its window.
func (p *walkPage) reading(m *Model, a fold.Ask, s Stroke) tea.Cmd {
	if cmd, ok := p.takeArrived(m); ok {
		return cmd
	}
	row := p.text(m).Text()
	if IsRow(row) {
		p.edit(m, Entry.Clear)
		return m.block(row, s.Source, true)
	}
	if vs, _ := values(row); lettered(vs) { // one number behind an axis letter
		if _, why := place([][]value{vs}, []fold.Ask{a}, nil); why != "" {
			m.notice = why
			return nil
		}
		p.edit(m, func(Entry) Entry { return NewEntry(vs[0].text) })
	}
	e, err := m.st.Understand(a.Field, p.text(m).Text())
	if err != nil {
		m.notice = err.Error()
		return nil
	}
	if m.o.Bench != nil {
		p.perform(m)
	}
	by := s.Source
	if by == "" {
		by = Keyed
	}
	p.by = p.source(m, a.Field, by)
	if e.Far && !a.Blind {
		p.doubts(m, e)
		return nil
	}
	return p.take(m, p.by)
}

// take writes the focused field.
func (p *walkPage) take(m *Model, by string) tea.Cmd {
	a, _ := p.ask(m)
	es, err := m.st.Take(by, [2]string{a.Field, p.text(m).Text()})
	return m.save(es, err, func(m *Model) { m.retaken(a.Field) })
}

// answer answers the whole form once every field of it is filled.
func (p *walkPage) answer(m *Model, a fold.Ask) tea.Cmd {
	if a.Kind == fold.Choice && p.text(m).Empty() {
		if m.o.Bench != nil {
			p.offer(m, a)
			return nil
		}
		m.notice = "first the number of what you see, then +"
		return nil
	}
	if m.o.Bench != nil {
		p.perform(m)
	}
	var values [][2]string
	by := ""
	var taken []string
	for i, f := range p.fields {
		e := m.entries[m.address(f)]
		q, ok := m.st.Ask(f)
		if !ok {
			continue
		}
		if e.Empty() {
			if len(m.redo) == 0 && has(m.taken(), f) || q.Optional {
				continue
			}
			p.at = i
			return nil
		}
		if _, err := m.st.Understand(f, e.Text()); err != nil {
			p.at = i
			m.notice = err.Error()
			return nil
		}
		if q.Kind == fold.Reading {
			p.at = i
			m.notice = "a reading: Enter takes it"
			return nil
		}
		values = append(values, [2]string{f, e.Text()})
		taken = append(taken, f)
		who := p.source(m, f, Keyed)
		if by == "" || by == "bench" {
			by = who
		}
	}
	es, err := m.st.Take(by, values...)
	return m.save(es, err, func(m *Model) { m.retaken(taken...) })
}

func has(ts []fold.Taken, field string) bool {
	for _, t := range ts {
		if t.Field == field {
			return true
		}
	}
	return false
}

// retaken strikes fields off the list of what is to be taken again.
func (m *Model) retaken(fields ...string) {
	m.redo = slices.DeleteFunc(m.redo, func(f string) bool { return slices.Contains(fields, f) })
	if len(m.redo) == 0 {
		m.redo = nil
	}
}
