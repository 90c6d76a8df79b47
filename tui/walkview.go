package tui

import (
	"math"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// middle is the walk page: heading, pause point, caution, act, fields, echo, number.
func (p *walkPage) middle(m *Model, s *sheet) {
	a, ok := p.ask(m)
	ss, _ := m.st.Step(m.st.Cursor.Step)
	s.head().put(must, " "+m.heading(s.head().w-2, upper(ss.Title), p.standsAt(m, ss)))
	if !ok {
		s.say(must, Caution, "This step asks nothing: something it needs is missing.")
		for _, v := range voided(&m.st) {
			s.say(must, Text, v)
		}
		return
	}
	if p.doing(m) {
		p.actPage(m, s, a, ss)
	} else {
		p.readPage(m, s, a, ss)
	}
}

// before is what comes before act and field: the pause point and the caution. It says
// whether acts are shown.
func (p *walkPage) before(m *Model, s *sheet, a steps.Ask, ss *steps.StepState) (acts []string, pause bool) {
	acts = sayWords(p.acts(m))
	if !p.doing(m) && (m.first() || p.blind(m)) {
		acts = nil // done already
	}
	pause = a.Field == "pause" && ss.Pause != nil
	if pause && len(acts) == 0 {
		for _, l := range Wrap(m.t.Say(ss.Pause.Heading), s.w-2) {
			s.put(must, m.t.Paint(Banner, Pad(" "+l, s.w)))
		}
		s.say(useful, Text, ss.Pause.Lost)
	}
	s.gap()
	if p.cautions(m, ss, len(sayWords(p.acts(m))) > 0) {
		lines := WrapHung("CAUTION  ", m.t.Say(m.pg.Caution), s.w)
		if flat := Wrap("CAUTION  "+m.t.Say(m.pg.Caution), s.w); len(flat) < len(lines) {
			lines = flat // a line more for the act
		}
		for i, l := range lines {
			lines[i] = m.t.Paint(Caution, l)
		}
		s.put(must, lines...)
		s.gap()
	}
	return acts, pause
}

// inOrder puts acts in the order in which they are done.
func (m *Model) inOrder(s *sheet, acts []string) {
	for i, w := range acts {
		lead := ""
		if len(acts) > 1 {
			lead = itoa(i+1) + "  "
		}
		s.hang(must, Act, lead, w)
	}
}

// actPage is the page of an act: what to do, the numbers it is done with, whether it is done.
func (p *walkPage) actPage(m *Model, s *sheet, a steps.Ask, ss *steps.StepState) {
	acts, pause := p.before(m, s, a, ss)
	after := p.asking(m) + s.head().height()
	if pause && len(acts) > 0 {
		after += 1 + len(Wrap(m.t.Say(ss.Pause.Lost), s.w-13))
	}
	if fs := p.keyed(m); m.view == FarView && len(fs) == 0 {
		m.farAct(s, ss.Title, p.acts(m), after)
	} else {
		m.inOrder(s, acts)
	}
	if pause && len(acts) > 0 {
		s.gap()
		s.hang(must, Caution, "After this:  ", ss.Pause.Heading)
		s.hang(useful, Text, "             ", ss.Pause.Lost)
	}
	if fs := p.keyed(m); len(fs) > 0 {
		s.apart()
		m.figures(s, must, fs, m.room()-s.musts()-after-1)
	} else if fs := m.moved(p.acts(m)); len(fs) > 0 && m.view != FarView {
		s.apart()
		m.figures(s, big, fs, m.room()-s.musts()-after-1)
	}
	rows := &sheet{t: m.t, w: s.w}
	p.working(m, rows)
	low := s.foot()
	if m.pg.Hands != "" && a.Field != "pause" {
		low.say(must, Caution, m.pg.Hands+"  "+m.elapsed())
	}
	p.done(m, low)
	// Caution, act and question stand on the screen together, whatever else does not: where
	// the numbers to work by have no room between them, they come below and are scrolled to.
	switch {
	case len(rows.parts) == 0:
	case s.musts()+rows.height()+after+1 > m.room():
		low.put(must, "")
		low.parts = append(low.parts, rows.parts...)
	default:
		s.gap()
		s.parts = append(s.parts, rows.parts...)
	}
	if m.view != FarView {
		s.gap()
		s.say(why, Dim, m.pg.Why)
		m.history(s, ss, nil)
	}
}

// readPage is the page of a field, or of a form of them.
func (p *walkPage) readPage(m *Model, s *sheet, a steps.Ask, ss *steps.StepState) {
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
	case !pause && !far && len(sayWords(p.acts(m))) == 0:
		s.say(useful, Act, m.pg.Act)
	}
	if !far && !again && (a.Kind == steps.Reading || a.Kind == steps.Echo) {
		s.say(useful, Text, m.pg.Read)
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

// history is what was read of this step before, where there is room: what the table does not show.
func (m *Model) history(s *sheet, ss *steps.StepState, shown []hitRow) {
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

// elapsed is how long this page has been here.
func (m *Model) elapsed() string {
	return "Since " + clockTime(m.shownAt) + ", " + plural(int(m.now.Sub(m.shownAt).Minutes()), "minute") + "."
}

// keyed are the numbers that are carried to the control, each under its axis. They are those
// of the act, so they are gone once it is done and the control is read.
func (p *walkPage) keyed(m *Model) []figure {
	var fs []figure
	for _, f := range p.fields {
		a, _ := m.st.Ask(f)
		for _, d := range a.Do {
			if d.Do == "key" && a.Kind == steps.Echo && a.Window != nil {
				t := asEntered(d.Amount, a, m.o.Plan.System())
				if d.Amount > 0 {
					t = "+" + t
				}
				fs = append(fs, figure{axis: upper(d.Dir), text: t})
			}
		}
	}
	return fs
}

// moved are the numbers by which an act moves something, if it says one.
func (m *Model) moved(as []steps.Act) []figure {
	for _, a := range as {
		text := unit.Format(a.Amount, unit.KLength, m.o.Plan.System(), 0)
		switch {
		case a.Amount == 0:
		case a.Needle.By != 0:
			return []figure{m.needle(a.Needle)}
		case a.Do == "tap":
			return []figure{{text: text + " " + arrow(a.Dir)}}
		case a.Do == "jog" && len(a.Dir) <= 2:
			f := figure{text: text, axis: upper(strings.Trim(a.Dir, "+-"))}
			if f.axis == "" {
				f.axis = axisOf(a.Words)
			}
			if strings.HasSuffix(a.Dir, "-") && a.Amount > 0 {
				f.text = "-" + text
			} else if a.Amount > 0 {
				f.text = "+" + text
			}
			return []figure{f}
		}
	}
	return nil
}

// needle is what a dial shall show, and the sense in which it gets there.
func (m *Model) needle(n fold.Needle) figure {
	sys := m.o.Plan.System()
	verb := "it rises by "
	if n.By < 0 {
		verb = "it falls by "
	}
	return figure{text: unit.Signed(n.To, unit.KLength, sys, n.Step), side: []string{unit.UnitName(unit.KLength, sys)},
		over: [2]string{"NEEDLE TO", verb + unit.Format(math.Abs(n.By), unit.KLength, sys, n.Step)}}
}

// arrow is a direction on the table as it is seen from where the person stands.
func arrow(dir string) string {
	return map[string]string{"away": "↑", "toward you": "↓", "toward": "↓", "left": "←", "right": "→"}[strings.ToLower(dir)]
}

// working puts the numbers to work by under the act, as far as there is room; never
// beside a value that is read back blind.
func (p *walkPage) working(m *Model, s *sheet) {
	if m.view == FarView || len(m.redo) > 0 || p.blind(m) && !p.doing(m) {
		return
	}
	prio := must // while doing: what does not fit is scrolled, never dropped
	if !p.doing(m) {
		prio = useful // beside the fields: all of it or nothing
	}
	s.put(prio, m.table(m.pg.Rows, s.w)...)
}

// cautions says whether the caution stands right before an act or reading here.
func (p *walkPage) cautions(m *Model, ss *steps.StepState, acts bool) bool {
	if m.pg.Caution == "" || len(m.redo) > 0 {
		return false
	}
	if acts {
		return p.doing(m) || !m.first() && !p.blind(m)
	}
	for _, t := range m.taken() {
		if t.Field != "pause" {
			return false
		}
	}
	return true
}

// progress tells where in the step this is.
func (p *walkPage) progress(m *Model, ss *steps.StepState) string {
	n, at := 0, 0
	for _, a := range ss.Asks {
		if a.Optional {
			continue
		}
		n++
		if p.at < len(p.fields) && a.Field == p.fields[p.at] {
			at = n
		}
	}
	out := ""
	if m.st.Cursor.Round > 1 {
		out = "round " + itoa(m.st.Cursor.Round) + "  "
	}
	if at > 0 {
		out += "reading " + itoa(at) + " of " + itoa(n)
	}
	return out
}

// standsAt is progress, and how far it is to the next pause where no list says so.
func (p *walkPage) standsAt(m *Model, ss *steps.StepState) string {
	out := p.progress(m, ss)
	if m.w < listWidth && m.ahead > 0 && m.view == Whole {
		if out != "" {
			out += " · "
		}
		out += plural(m.ahead, "reading") + " " + to(m)
	}
	return out
}

// heading is a line with a title on the left and a remark on the right, set in by a cell
// where it stands over the page.
func (m *Model) heading(w int, left, right string) string {
	left, right = m.t.Say(left), m.t.Say(right)
	left = Cut(left, max(w-Width(right)-1, 8))
	gap := max(w-Width(left)-Width(right), 1)
	return m.t.Paint(Act, left) + strings.Repeat(" ", gap) + m.t.Paint(Dim, right)
}

// unitWord is the unit of a field; the frame it is read in stands in the head.
func (m *Model) unitWord(a steps.Ask) string {
	if a.Kind != steps.Reading && a.Kind != steps.Echo {
		return ""
	}
	return strings.TrimSpace(a.EntryUnit(m.o.Plan.System()))
}

// frameWord is M for a machine coordinate.
func frameWord(w steps.What) string {
	if w.Axis != "" && (w.By == "probe" || w.By == "tool" || w.By == "touch") {
		return "M"
	}
	return ""
}

// field is one field of the form: open where the focus is, else one line.
func (p *walkPage) field(m *Model, s *sheet, a steps.Ask, here bool) {
	e := m.entries[m.address(a.Field)]
	ss, _ := m.st.Step(m.st.Cursor.Step)
	var was steps.Taken
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
	lines := WrapHung("> ", m.t.Say(label), s.w)
	for i := range lines {
		lines[i] = m.t.Paint(Act, lines[i])
	}
	s.put(must, lines...)
	if taken {
		old := append(append([]string{}, was.Before...), was.Value)
		s.put(must, "  before    "+m.t.Paint(Void, m.t.Say(strings.Join(old, "  "))))
	}
	const lead = 12
	room := s.w - lead
	switch a.Kind {
	case steps.Choice:
		if m.view == FarView && m.tallOptions(s, a.Options, e.Text()) {
			return
		}
		for i, o := range a.Options {
			mark, role := "  ", Text
			if e.Text() == o {
				mark, role = "> ", Typed
			}
			s.hang(must, role, "  "+mark+itoa(i+1)+"  ", o)
		}
		return
	case steps.Text, steps.Count:
		for i, l := range Wrap(m.t.Say(e.Shown()), room) {
			s.put(must, map[bool]string{true: "  answer    ", false: "            "}[i == 0]+m.t.Paint(Typed, l))
		}
		return
	}
	pred, after, apart := m.expected(a)
	// The decimal points stand in one column, so that a slipped point shows.
	w := min(max(Width(pred)+tail, Width(e.Shown())+tail, 14), max(room/2, 14))
	pl, el := AlignPoint(pred, e.Shown(), w)
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

// hidden says why nothing is expected of a blind field.
func hidden(a steps.Ask) string {
	if a.Kind == steps.Echo {
		return "hidden: read it from the control"
	}
	return "hidden until it is read"
}

// asking is how many lines it takes to ask whether the act is done.
func (p *walkPage) asking(m *Model) int {
	n := 1
	if m.o.Bench != nil {
		n = 3
	}
	if m.pg.Hands != "" {
		n++
	}
	return n
}

// done asks whether the act is done. A practice asks, too, what becomes of it when it is not.
func (p *walkPage) done(m *Model, s *sheet) {
	if m.o.Bench == nil {
		s.say(must, KeyName, "Done?  + yes")
		return
	}
	s.say(must, KeyName, "Done?  + answers with the marked line")
	for i, w := range []string{"yes: the bench does it", "no: go on without doing it"} {
		mark, role := "  ", Text
		if (i == 1) == p.undone {
			mark, role = "> ", Act
		}
		s.hang(must, role, mark+itoa(i+1)+"  ", w)
	}
}

// ends sets two texts at the ends of a line. The left one goes on below where there is
// no room beside the right one; neither is cut.
func (m *Model) ends(left, right string, w int, l, r Role) []string {
	left, right = m.t.Say(left), m.t.Say(right)
	in := len(left) - len(strings.TrimLeft(left, " "))
	room := max(w-Width(right)-2, 12)
	ls := WrapHung(strings.Repeat(" ", in), left[in:], room)
	for i, t := range ls {
		if i > 0 && room > in+14 {
			t = "  " + t
		}
		ls[i] = m.t.Paint(l, t)
		if i == 0 {
			ls[i] += strings.Repeat(" ", max(w-Width(t)-Width(right), 1)) + m.t.Paint(r, right)
		}
	}
	return ls
}

// understood is what the entry means, where that is more than what is typed, and what is
// doubtful about it.
func (p *walkPage) understood(m *Model, s *sheet, a steps.Ask) {
	e := p.text(m)
	if a.Kind == steps.Choice {
		return
	}
	if e.Empty() {
		s.put(must, "") // the echo's line keeps its place
		return
	}
	en, err := m.st.Understand(a.Field, e.Text())
	switch {
	case err != nil:
		s.put(must, "  "+m.t.Paint(Dim, Cut(m.t.Say("not understood yet"), s.w-2)))
	case p.far != nil:
		s.say(must, Caution, "Outside what is expected: "+en.Echo)
		for _, sl := range en.Slips {
			s.hang(must, Caution, "  ", sentence(sl.Words))
		}
		if len(en.Slips) == 0 {
			s.say(must, Text, "No known slip explains it. Read it again before you take it.")
		}
		s.say(must, KeyName, "+ takes it as it is   / goes back to correct it")
	case en.Ended:
		s.hang(must, Text, "  that is   ", en.Echo+", the nearest that ends so"+sign(a, en.Value))
	case a.Kind == steps.Reading || a.Kind == steps.Echo || a.Kind == steps.Text && en.Echo != strings.TrimSpace(e.Text()):
		if en.Echo == strings.TrimSpace(e.Text())+" "+a.EntryUnit(m.o.Plan.System()) {
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
func (p *walkPage) number(m *Model, s *sheet, a steps.Ask) {
	if a.Kind == steps.Choice || a.Kind == steps.Text || p.far != nil && m.view != FarView {
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
	if likely.text = "-000.000"; a.Kind == steps.Count {
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
func sign(a steps.Ask, text string) string {
	if frameWord(a.What) == "" && a.Kind != steps.Echo || a.What.Axis == "" || len(a.What.Axis) > 1 || !strings.ContainsAny(text, "123456789") {
		return ""
	}
	if strings.HasPrefix(strings.TrimSpace(text), "-") {
		return "   " + upper(a.What.Axis) + " negative"
	}
	return "   " + upper(a.What.Axis) + " positive"
}
