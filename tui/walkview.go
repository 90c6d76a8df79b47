package tui

import (
	"strings"

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
func (p *walkPage) before(m *Model, s *sheet, a fold.Ask, ss *fold.StepState) (acts []string, pause bool) {
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
		caution := m.pg.Caution
		if p.doing(m) { // what the act says is not said twice
			caution = unsaid(caution, sentences(strings.Join(acts, " ")))
		}
		lines := WrapHung("CAUTION  ", m.t.Say(caution), s.w)
		if flat := Wrap("CAUTION  "+m.t.Say(caution), s.w); len(flat) < len(lines) {
			lines = flat // a line more for the act
		}
		if caution == "" {
			lines = nil
		}
		for i, l := range lines {
			lines[i] = m.t.Paint(Caution, l)
		}
		s.put(must, lines...)
		if m.view == FarView { // tall letters would stand on it
			s.put(must, "")
		}
		s.gap()
	}
	return acts, pause
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
func (p *walkPage) cautions(m *Model, ss *fold.StepState, acts bool) bool {
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
func (p *walkPage) progress(m *Model, ss *fold.StepState) string {
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
func (p *walkPage) standsAt(m *Model, ss *fold.StepState) string {
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
