package tui

import (
	"slices"
	"strings"

	"fliptrue/steps"

	tea "github.com/charmbracelet/bubbletea"
)

// walkPage is the one act now and the fields answered together after it: first DO,
// then READ. Everything it shows comes from the step's Asks and Page.
type walkPage struct {
	fields []string // of the form, in order
	at     int
	far    *steps.Entry // a reading outside its window, waiting for a deliberate yes
	by     string       // who made it
	undone bool         // the act: the mark is on going on without it
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
func unanswerable(a steps.Ask) string {
	switch {
	case strings.TrimSpace(a.Label) == "":
		return "has no words beside its field"
	case a.Kind == steps.Choice && len(a.Options) == 0:
		return "is a choice of nothing"
	case a.Kind == steps.Choice && len(a.Options) > 9:
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
func (p *walkPage) ask(m *Model) (steps.Ask, bool) {
	if p.at >= len(p.fields) {
		return steps.Ask{}, false
	}
	return m.st.Ask(p.fields[p.at])
}

// acts are what is to be done before the form is read.
func (p *walkPage) acts(m *Model) []steps.Act {
	var out []steps.Act
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
func (m *Model) perform(as []steps.Act) {
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

func (p *walkPage) focus(m *Model) Focus {
	a, ok := p.ask(m)
	if !ok || p.far != nil || p.doing(m) {
		return Focus{Place: Asks}
	}
	switch a.Kind {
	case steps.Reading:
		return Focus{Place: Reads, Text: p.text(m).Text()}
	case steps.Count, steps.Echo:
		return Focus{Place: Answers, Text: p.text(m).Text()}
	case steps.Text:
		return Focus{Place: Words, Text: p.text(m).Text()}
	}
	return Focus{Place: Asks}
}

func (p *walkPage) words(m *Model) map[Intent]string {
	a, ok := p.ask(m)
	w := map[Intent]string{}
	switch {
	case !ok:
		w[Answer] = "-"
	case p.far != nil:
		w[Answer], w[Back], w[Erase] = "take it as it is", "correct it", "-"
	case p.doing(m):
		w[Answer] = "done"
		if m.o.Bench != nil {
			w[Answer], w[Choose] = "answers", "choose"
		}
	case a.Kind == steps.Choice:
		w[Choose] = "choose"
		if m.o.Bench != nil && p.text(m).Empty() {
			w[Answer] = "reads the bench"
		}
	case p.text(m).Empty(): // the key that will end this entry is named before it is begun
		in, does := Insert, "answers, once it is typed"
		if a.Kind == steps.Reading {
			in, does = Nothing, "takes it, once it is typed"
		}
		if m.o.Bench != nil {
			does = "reads the bench"
		}
		w[in] = does
	}
	return w
}

func (p *walkPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	if p.far != nil {
		switch in {
		case Answer:
			return p.take(m, p.by), true
		case Back, Close, Erase, Left:
			if m.o.Bench != nil {
				m.o.Bench.Correct(p.far.Ask) // it is looked at again
			}
			p.far = nil
			m.turned()
			return nil, true
		case NotEnter, Happened, Help, Glossary, Quit, Suspend, Far:
			return nil, false
		}
		return nil, true
	}
	if p.doing(m) {
		switch {
		case in == Answer && p.undone && m.pg.Caution != "":
			m.push(newUndone(m, p))
			return nil, true
		case in == Answer && p.undone:
			p.leave(m)
			return nil, true
		case in == Answer:
			p.perform(m)
			m.turned()
			return nil, true
		case in == Choose && s.Rune != '1' && s.Rune != '2':
			return nil, true
		case in == Choose, in == Up, in == Down, in == Next, in == Prev:
			p.undone = m.o.Bench != nil && (s.Rune == '2' || in == Down || in == Next)
			return nil, true
		case in == Offer:
			return nil, true
		}
		return nil, false
	}
	a, ok := p.ask(m)
	if !ok {
		return nil, false
	}
	empty := p.text(m).Empty()
	practice := m.o.Bench != nil
	switch in {
	case Offer:
		if practice {
			p.offer(m, a)
			return nil, true
		}
		m.notice = "only in practice is there a bench to read"
		return nil, true
	case Nothing:
		if practice {
			p.offer(m, a)
			return nil, true
		}
	case Take:
		return p.reading(m, a, s), true
	case Answer:
		return p.answer(m, a), true
	case Choose:
		if n := int(s.Rune - '0'); a.Kind == steps.Choice && n >= 1 && n <= len(a.Options) {
			p.edit(m, func(Entry) Entry { return NewEntry(a.Options[n-1]) })
			return nil, true
		}
		m.notice = "type the number of one of the lines"
		return nil, true
	case Left, Right, Up, Down, Next, Prev:
		if a.Kind == steps.Choice && (len(p.fields) == 1 || in == Left || in == Right) {
			p.turn(m, a, in == Right || in == Down || in == Next)
			return nil, true
		}
		switch in {
		case Up, Prev:
			p.at = max(p.at-1, 0)
			return nil, true
		case Down, Next:
			p.at = min(p.at+1, len(p.fields)-1)
			return nil, true
		}
	case Close:
		if len(m.redo) > 0 && m.view == Whole {
			m.redo = nil
			m.settle()
			return nil, true
		}
	}
	if in == Insert && s.Rune == '+' && empty && practice && a.Kind != steps.Reading {
		p.offer(m, a)
		return nil, true
	}
	if e, ok := p.text(m).Do(in, s.Rune); ok && a.Kind != steps.Choice {
		p.edit(m, func(Entry) Entry { return e })
		return nil, true
	}
	return nil, false
}

// turn moves the mark among the options of a choice.
func (p *walkPage) turn(m *Model, a steps.Ask, down bool) {
	i := slices.Index(a.Options, p.text(m).Text())
	switch {
	case down:
		i = min(i+1, len(a.Options)-1)
	default:
		i = max(i-1, 0)
	}
	p.edit(m, func(Entry) Entry { return NewEntry(a.Options[i]) })
}

// offer fills the field with what the bench reads; it takes nothing.
func (p *walkPage) offer(m *Model, a steps.Ask) {
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
	asks := make([]steps.Ask, len(fields))
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
		if a.Kind != steps.Reading || !m.entries[m.address(a.Field)].Empty() {
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
func (m *Model) asked() []steps.Ask {
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
func (p *walkPage) reading(m *Model, a steps.Ask, s Stroke) tea.Cmd {
	if cmd, ok := p.takeArrived(m); ok {
		return cmd
	}
	row := p.text(m).Text()
	if IsRow(row) {
		p.edit(m, Entry.Clear)
		return m.block(row, s.Source, true)
	}
	if vs, _ := values(row); lettered(vs) { // one number behind an axis letter
		if _, why := place([][]value{vs}, []steps.Ask{a}, nil); why != "" {
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
		p.far = &e
		m.turned()
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
func (p *walkPage) answer(m *Model, a steps.Ask) tea.Cmd {
	if a.Kind == steps.Choice && p.text(m).Empty() {
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
		if q.Kind == steps.Reading {
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

func has(ts []steps.Taken, field string) bool {
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

// sayWords are the words of acts, each once.
func sayWords(as []steps.Act) []string {
	var out []string
	for _, a := range as {
		if w := strings.TrimSpace(a.Words); w != "" && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}
