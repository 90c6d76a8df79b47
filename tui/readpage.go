package tui

import (
	"strings"

	"fliptrue/steps/fold"
)

// readPage is the page of a field, or of a form of them.
func (p *walkPage) readPage(m *Model, s *sheet, a fold.Ask, ss *fold.StepState) {
	acts, pause := p.before(m, s, a, ss)
	again, far := len(m.redo) > 0, m.view == FarView
	switch {
	case again:
		s.say(must, Act, "Take this again. The value before stays in the record, struck through.")
		for _, w := range sayWords(a.Do) { // its own words: the page's are those of the reading after the last
			s.say(useful, Dim, "It was read after: "+w)
		}
	case len(acts) > 0:
		m.inOrder(s, acts)
	case !pause && !far && len(sayWords(p.acts(m))) == 0 && (m.pg.Now || !acted(ss, a)):
		s.say(how, Act, m.pg.Act)
	}
	if !far && !again && (a.Kind == fold.Reading || a.Kind == fold.Echo) {
		s.say(how, Text, m.pg.Read)
	}
	s.gap()
	table, tabled := p.hits(m, a)
	switch {
	case tabled && !far:
		label := a.Label
		if u := m.unitWord(a); u != "" {
			label += "  [" + u + "]"
		}
		s.say(must, Act, label)
		p.tabled(m, s, table, a, m.room()-s.said(useful)-s.head().height()-s.tall-1)
	default:
		if far {
			p.farLabel(m, s, a)
		}
		for i, f := range p.fields {
			if q, ok := m.st.Ask(f); ok && (!far || i == p.at) {
				p.field(m, s, q, i == p.at)
			}
		}
	}
	p.understood(m, s, a)
	if p.far == nil {
		s.say(must, KeyName, p.arrivedWords(m))
	}
	p.number(m, s.foot(), a)
	if !far && !again {
		rows := &sheet{t: m.t, w: s.w}
		p.working(m, rows)
		if len(rows.parts) > 0 {
			s.gap()
			s.parts = append(s.parts, rows.parts...)
		}
		if !p.blind(m) {
			if m.first() {
				s.gap()
				s.say(why, Dim, m.pg.Why)
			}
			m.history(s, ss, table.rows)
		}
	}
}

// acted says that the step told an act before this ask: what its page says of it all is then nothing to do now.
func acted(ss *fold.StepState, a fold.Ask) bool {
	for _, q := range ss.Asks {
		if q.Field == a.Field {
			return false
		}
		if len(sayWords(q.Do)) > 0 {
			return true
		}
	}
	return false
}

// farLabel says tall what is read, for a reader who stands away: up to where its label goes into particulars.
func (p *walkPage) farLabel(m *Model, s *sheet, a fold.Ask) {
	if a.Kind == fold.Choice || p.far != nil {
		return
	}
	axes := 0
	for _, f := range p.fields {
		if q, ok := m.st.Ask(f); ok && len(q.What.Axis) == 1 {
			axes++
		}
	}
	label, _, _ := strings.Cut(a.Label, " (")
	label, _, _ = strings.Cut(label, ":")
	labels := []string{label}
	if first, _, ok := strings.Cut(label, ","); ok && strings.Contains(first, " ") {
		labels = append(labels, first)
	}
	room := min(m.room()-s.musts()-6-6*max(axes, 1), 11)
	for _, l := range labels { // the field below has all of it
		if m.tall(s, why, l, room) {
			s.gap()
			return
		}
	}
}

// history is what was read of this step before, where there is room: what the table does not show.
func (m *Model) history(s *sheet, ss *fold.StepState, shown []hitRow) {
	in := map[string]bool{}
	for _, r := range shown {
		for _, q := range r.asks {
			if q != nil {
				in[q.Field] = true
			}
		}
	}
	for i := len(ss.Rounds) - 1; i >= 0; i-- {
		r := ss.Rounds[i]
		now := i == len(ss.Rounds)-1 && m.st.Cursor.Open && ss.ID == m.st.Cursor.Step
		var ls []string
		for _, t := range r.Taken {
			if now && in[t.Field] {
				continue
			}
			label, _, _ := strings.Cut(takenWords(ss, t), ":")
			value := m.t.Say(t.Short())
			ls = append(ls, m.ends(label, value, min(s.w, 64), Dim, Text)...)
		}
		if len(ls) == 0 {
			continue
		}
		title := "Taken in this step"
		if len(ss.Rounds) > 1 {
			title = "Taken in round " + itoa(r.No)
		}
		s.put(past, "")
		s.put(past, append([]string{m.t.Paint(Dim, title)}, ls[max(len(ls)-14, 0):]...)...)
	}
}

// understood is what the entry means, where that is more than what is typed, and what is
// doubtful about it.
func (p *walkPage) understood(m *Model, s *sheet, a fold.Ask) {
	e := p.text(m)
	if a.Kind == fold.Choice {
		return
	}
	if e.Empty() {
		s.put(must, "") // the echo's line keeps its place
		return
	}
	en, err := m.st.Understand(a.Field, e.Text())
	switch {
	case err != nil && m.notice != "": // it says why
		s.put(must, "")
	case err != nil:
		s.put(must, "  "+m.t.Paint(Dim, Cut(m.t.Say("not understood yet"), s.w-2)))
	case p.far != nil:
		p.doubt(m, s)
	case en.Ended:
		s.hang(must, Text, "  that is   ", en.Echo+", the nearest that ends so"+sign(a, en.Value))
	case a.Kind == fold.Reading || a.Kind == fold.Echo || a.Kind == fold.Text && en.Echo != strings.TrimSpace(e.Text()):
		typed := strings.TrimSpace(e.Text())
		if en.Echo == typed || en.Echo == typed+" "+a.EntryUnit(m.o.Plan.System()) {
			s.put(must, m.t.Paint(Text, "  "+m.t.Say(strings.TrimSpace(sign(a, e.Text()))))) // the number stands there already
		} else {
			s.hang(must, Text, "  that is   ", en.Echo+sign(a, e.Text()))
		}
	default:
		s.put(must, "")
	}
}

// number is what is being typed, in figures to be read from the machine: its place is kept
// from the first key on, so that nothing moves under a person who types.
func (p *walkPage) number(m *Model, s *sheet, a fold.Ask) {
	if a.Kind == fold.Choice || a.Kind == fold.Text || p.far != nil && m.view != FarView {
		return
	}
	f := figure{text: upper(strings.TrimSpace(p.text(m).Text())), side: []string{a.EntryUnit(m.o.Plan.System())}}
	if len(a.What.Axis) == 1 {
		f.axis = upper(a.What.Axis)
	}
	if f.text == "" {
		f.text = "_"
	}
	likely := f // the longest that is likely to be typed here settles the size
	if likely.text = "-000.000"; a.Kind == fold.Count {
		likely.text = "0"
	} else if a.Window != nil && !a.Blind {
		likely.text = asEntered(a.Window.Want, a, m.o.Plan.System())
		if w := asEntered(-a.Window.Half, a, m.o.Plan.System()); len(w) > len(likely.text) {
			likely.text = w
		}
	}
	if m.view == FarView && len(p.fields) > 1 { // one row an axis
		var fs []figure
		for _, q := range p.fields {
			b, _ := m.st.Ask(q)
			if len(b.What.Axis) != 1 {
				continue
			}
			text, _ := p.value(m, &b)
			if b.Field == a.Field {
				text += "_"
			}
			fs = append(fs, figure{axis: upper(b.What.Axis), text: upper(text), side: []string{b.EntryUnit(m.o.Plan.System())}})
		}
		if len(fs) > 1 {
			m.figures(s, big, fs, m.room()-s.musts()-8)
			return
		}
	}
	room := &sheet{t: m.t, w: s.w, tall: s.tall}
	tall := m.figures(room, big, []figure{likely}, m.h)
	if tall == 0 {
		s.plain = true
		return
	}
	in := &sheet{t: m.t, w: s.w, tall: tall}
	if m.figures(in, big, []figure{f}, m.h) == 0 {
		in.parts = nil
	}
	ls := in.fit(tall)
	for len(ls) < tall {
		ls = append(ls, "")
	}
	s.put(big, ls...)
	s.drawn = max(s.drawn, tall)
}

// sign says in words which way a coordinate counts: a sign is easily lost.
func sign(a fold.Ask, text string) string {
	if frameWord(a.What) == "" && a.Kind != fold.Echo || a.What.Axis == "" || len(a.What.Axis) > 1 ||
		!strings.ContainsAny(text, "123456789") {
		return ""
	}
	if strings.HasPrefix(strings.TrimSpace(text), "-") {
		return "   " + upper(a.What.Axis) + " negative"
	}
	return "   " + upper(a.What.Axis) + " positive"
}
