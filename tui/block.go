package tui

import (
	"slices"
	"strings"

	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// blockPage is a block of rows, pasted or typed, set against the fields it would
// fill. It counts only after +.
type blockPage struct {
	fields []fold.Ask // the step's readings from the focused one on
	of     []fold.Ask // all readings of the step
	rows   [][]value
	by     Source
	open   bool  // typed rows: more may follow, until an Enter in the empty field
	text   Entry // the row being typed
}

// block sorts the numbers of pasted rows into the readings of the step that are
// not taken yet, in their order. Those of the form that is shown stand in its fields, each
// waiting for the key that takes it; more than these are shown together first.
func (m *Model) block(text string, by Source, open bool) tea.Cmd {
	if p, ok := m.top().(*blockPage); ok && p.collects() {
		p.add(text)
		p.by = by
		if !p.collects() {
			m.turned()
		}
		return nil
	}
	w, ok := m.top().(*walkPage)
	if !ok {
		m.notice = "a block of hits is taken where a reading is asked"
		return nil
	}
	a, has := w.ask(m)
	if !has || a.Kind != fold.Reading {
		m.notice = "a block of hits is taken where a reading is asked"
		return nil
	}
	if by == FromPaste && w.fill(m, text) {
		return nil
	}
	ss, _ := m.st.Step(m.st.Cursor.Step)
	p := &blockPage{by: by, open: open}
	from := false
	for _, q := range ss.Asks {
		from = from || q.Field == a.Field
		p.of = append(p.of, q)
		if from && q.Kind == fold.Reading && q.Unit == a.Unit {
			p.fields = append(p.fields, q)
		}
	}
	p.add(text)
	m.push(p)
	return nil
}

// add takes the numbers of rows, in their order.
func (p *blockPage) add(text string) {
	p.rows = append(p.rows, rowsOf(text)...)
}

// values are the numbers of all rows.
func (p *blockPage) values() []value { return slices.Concat(p.rows...) }

// reading is the one that number i is for, if that can be said.
func (p *blockPage) reading(i int) (fold.Ask, bool) {
	at, why := place(p.rows, p.fields, p.of)
	if why != "" || at[i] == passed || at[i] >= len(p.fields) {
		return fold.Ask{}, false
	}
	return p.fields[at[i]], true
}

// over says which numbers are passed over, and how many are left.
func (p *blockPage) over() (is []bool, left int) {
	is = make([]bool, len(p.values()))
	at, _ := place(p.rows, p.fields, p.of)
	for i, k := range at {
		is[i] = k == passed
	}
	for _, o := range is {
		if !o {
			left++
		}
	}
	return is, left
}

// collects says that another row may be typed.
func (p *blockPage) collects() bool {
	_, n := p.over()
	return p.open && n < len(p.fields)
}

// fault says what does not fit between numbers and readings.
func (p *blockPage) fault() string {
	if _, why := place(p.rows, p.fields, p.of); why != "" {
		return sentence(why)
	}
	_, n := p.over()
	in := plural(n, "number") + " for " + plural(len(p.fields), "reading") + ": "
	switch {
	case n > len(p.fields):
		return in + "which are meant can't be known."
	case p.collects():
		return in + "type the next row, or Enter alone when that is all."
	case n < len(p.fields):
		return in + "the rest is asked afterwards."
	}
	return ""
}

func (p *blockPage) edit(_ *Model, f func(Entry) Entry) { p.text = f(p.text) }

// usable says that the block can be taken.
func (p *blockPage) usable(m *Model) bool {
	over, n := p.over()
	if n == 0 || n > len(p.fields) {
		return false
	}
	for i, v := range p.values() {
		if over[i] {
			continue
		}
		a, ok := p.reading(i)
		if !ok {
			return false
		}
		if _, err := m.st.Understand(a.Field, v.text); err != nil {
			return false
		}
	}
	return true
}

func (p *blockPage) focus(*Model) Focus {
	if p.collects() {
		return Focus{Place: Reads, Text: p.text.Text()}
	}
	return Focus{Place: Asks}
}

func (p *blockPage) words(m *Model) map[Intent]string {
	w := map[Intent]string{Answer: "take all", Choose: "-", Close: "drop it"}
	if !p.usable(m) {
		w[Answer] = "-"
	}
	if p.collects() {
		w[Take], w[Nothing] = "next row", "that is all"
	}
	return w
}

func (p *blockPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	if p.collects() {
		switch in {
		case Take:
			p.add(p.text.Text())
			p.text, p.by = Entry{}, s.Source
			if !p.collects() {
				m.turned()
			}
			return nil, true
		case Nothing:
			p.open = false
			m.turned()
			return nil, true
		}
		if e, ok := p.text.Do(in, s.Rune); ok {
			p.text = e
			return nil, true
		}
		return nil, in != Close && in != Back && in != Help && in != Quit && in != Happened
	}
	switch in {
	case Answer:
		if !p.usable(m) {
			m.notice = "this block can't be taken: Esc drops it"
			return nil, true
		}
		var vs [][2]string
		var fs []string
		for i, v := range p.values() {
			a, ok := p.reading(i)
			if !ok {
				continue
			}
			vs = append(vs, [2]string{a.Field, v.text})
			fs = append(fs, a.Field)
		}
		es, err := m.st.Take(string(p.by), vs...)
		return m.save(es, err, func(m *Model) { m.retaken(fs...); m.home() }), true
	case Choose:
		return nil, true
	}
	return nil, false
}

func (p *blockPage) middle(m *Model, s *sheet) {
	over, n := p.over()
	s.put(must, m.heading(s.w, "A BLOCK OF READINGS", plural(n, "number")))
	s.say(must, Caution, p.fault())
	// Numbers first: they are never cut, and a long name goes on below itself.
	rows := [][]string{{"as pasted", "that is", ""}}
	names, roles := []string{"reading"}, []Role{Dim}
	for i, v := range p.values() {
		r, name, role := []string{upper(v.axis) + v.text, "", ""}, "-", Text
		if a, ok := p.reading(i); ok {
			name, r[0] = m.t.Say(a.Label), v.text // the letter stands in its name
			e, err := m.st.Understand(a.Field, v.text)
			switch {
			case err != nil:
				r[1], role = "not a number here", Caution
			case e.Far:
				r[1], r[2], role = m.t.Say(e.Echo), "outside", Caution
			default:
				r[1] = m.t.Say(e.Echo)
			}
		} else if over[i] {
			name, role = "not read here", Dim
		}
		rows, names, roles = append(rows, r), append(names, name), append(roles, role)
	}
	same := true // as understood: then once is enough
	for i, r := range rows[1:] {
		same = same && !over[i] && strings.HasPrefix(r[1], r[0]+" ") && !strings.Contains(r[1], "=")
	}
	if same {
		for i := range rows {
			rows[i] = rows[i][1:]
		}
	}
	var ls []string
	cols := Columns(rows, 2, func(c int) bool { return c < len(rows[0])-1 })
	lead := 0
	for _, c := range cols {
		lead = max(lead, Width(c))
	}
	for i, c := range cols {
		for _, l := range WrapHung(Pad(c, lead)+"  ", names[i], s.w) {
			ls = append(ls, m.t.Paint(roles[i], l))
		}
	}
	if p.collects() {
		s.put(must, window(ls, len(ls)-1, max(m.room()-s.height()-2, 3))...)
		s.put(must, "  next row  "+m.t.Paint(Typed, Cut(m.t.Say(p.text.Shown()), s.w-12)))
		return
	}
	tail := "+ takes them all   Esc drops the block"
	if !p.usable(m) {
		tail = "It can't be taken. Esc drops the block"
	}
	s.say(must, KeyName, tail)
	s.put(must, ls...)
}
