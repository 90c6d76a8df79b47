package tui

import (
	"strings"

	"fliptrue/steps"
)

// middle is the walk page: heading, pause point, caution, act, fields, echo, number.
func (p *walkPage) middle(m *Model, s *sheet) {
	a, ok := p.ask(m)
	ss, _ := m.st.Step(m.st.Cursor.Step)
	s.put(must, m.heading(s.w, upper(ss.Title), p.progress(m, ss)))
	if !ok {
		s.say(must, Caution, "This step asks nothing: something it needs is missing.")
		for _, v := range voided(&m.st) {
			s.say(must, Text, v)
		}
		return
	}
	doing := p.doing(m)
	acts := sayWords(p.acts(m))
	now := doing || !m.first() && !p.blind(m) // the acts are shown, so they are still to be done
	pause := a.Field == "pause" && ss.Pause != nil
	if pause && !(now && len(acts) > 0) {
		s.say(must, Banner, " "+ss.Pause.Heading+" ")
		s.say(useful, Text, ss.Pause.Lost)
	}
	s.gap()
	if p.cautions(m, ss, len(acts) > 0) {
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
	if now && m.view == FarView {
		after := p.asking(m)
		if pause && len(acts) > 0 {
			after += 1 + len(Wrap(m.t.Say(ss.Pause.Lost), s.w-13))
		}
		m.farAct(s, ss.Title, p.acts(m), after)
	} else if now {
		for i, w := range acts {
			lead := ""
			if len(acts) > 1 {
				lead = itoa(i+1) + "  "
			}
			s.hang(must, Act, lead, w)
		}
	}
	if pause && now && len(acts) > 0 {
		s.gap()
		s.hang(must, Caution, "After this:  ", ss.Pause.Heading)
		s.hang(useful, Text, "             ", ss.Pause.Lost)
	}
	if len(acts) == 0 && a.Field != "pause" && len(m.redo) == 0 {
		s.say(useful, Act, m.pg.Act)
	}
	if doing {
		p.keyed(m, s)
	}
	// Caution, act and question stand on the screen together, whatever else does not: where
	// the numbers to work by have no room between them, they come below and are scrolled to.
	rows := &sheet{t: m.t, w: s.w}
	p.working(m, rows)
	below := doing && s.musts()+rows.height()+p.asking(m) > m.room()
	if !below {
		s.parts = append(s.parts, rows.parts...)
	}
	if doing {
		s.gap()
		if m.pg.Hands != "" && a.Field != "pause" {
			s.say(must, Caution, m.pg.Hands+"  "+m.elapsed())
		}
		p.done(m, s)
		if below {
			s.put(must, "")
			s.parts = append(s.parts, rows.parts...)
		}
		if m.view != FarView {
			s.gap()
			s.say(why, Dim, m.pg.Why)
		}
		return
	}
	if len(m.redo) > 0 {
		s.say(must, Act, "Take this again. The value before stays in the record, struck through.")
	}
	far := m.view == FarView // the act, the number, the verdict
	if !far && (a.Kind == steps.Reading || a.Kind == steps.Echo) {
		s.say(useful, Text, m.pg.Read)
	}
	s.gap()
	for i, f := range p.fields {
		if q, ok := m.st.Ask(f); ok && (!far || i == p.at) {
			p.field(m, s, q, i == p.at)
		}
	}
	p.foot(m, s, a)
	if m.first() && !far {
		s.gap()
		s.say(why, Dim, m.pg.Why)
	}
}

// elapsed is how long this page has been here.
func (m *Model) elapsed() string {
	return "Since " + clockTime(m.shownAt) + ", " + plural(int(m.now.Sub(m.shownAt).Minutes()), "minute") + "."
}

// keyed shows the numbers that are carried to the control, each under its axis: tall where
// all of them fit beside caution, act and question, else in one row each. They are those
// of the act, so they are gone once it is done and the control is read.
func (p *walkPage) keyed(m *Model, s *sheet) {
	type number struct{ axis, text string }
	var ns []number
	wide := 0
	for _, f := range p.fields {
		a, _ := m.st.Ask(f)
		for _, d := range a.Do {
			if d.Do == "key" && a.Kind == steps.Echo && a.Window != nil {
				t := asEntered(d.Amount, a, m.o.Plan.System())
				if d.Amount > 0 {
					t = "+" + t
				}
				n := number{upper(d.Dir), t}
				ns, wide = append(ns, n), max(wide, Width(n.axis))
			}
		}
	}
	if len(ns) == 0 {
		return
	}
	room := m.room() - s.musts() - p.asking(m)
	tall := 5
	for tall > 0 {
		fits := (tall+1)*len(ns)-1 <= room || tall == 3 && tall*len(ns) <= room // a row of three lines ends in half a line of nothing
		for _, n := range ns {
			fits = fits && Width(Big(n.text, tall, m.t.Look.ASCII)[0])+wide+4 <= s.w
		}
		if fits {
			break
		}
		if tall -= 2; tall < 3 {
			tall = 0
		}
	}
	for i, n := range ns {
		if i > 0 && tall > 0 {
			s.gap()
		}
		if tall == 0 {
			s.put(must, m.t.Paint(Figure, "  "+Pad(n.axis, wide)+"  "+m.t.Say(n.text)))
			continue
		}
		lines := Big(n.text, tall, m.t.Look.ASCII)
		for j, l := range lines {
			lead := ""
			if j == tall/2 {
				lead = n.axis
			}
			lines[j] = m.t.Paint(Figure, "  "+Pad(lead, wide)+"  "+l)
		}
		s.put(must, lines...)
	}
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

// heading is a line with a title on the left and a remark on the right.
func (m *Model) heading(w int, left, right string) string {
	left, right = m.t.Say(left), m.t.Say(right)
	left = Cut(left, max(w-Width(right)-1, 8))
	gap := max(w-Width(left)-Width(right), 1)
	return m.t.Paint(Act, left) + strings.Repeat(" ", gap) + m.t.Paint(Dim, right)
}

// unitWord is the unit of a field and the frame it is read in.
func (m *Model) unitWord(a steps.Ask) string {
	if a.Kind != steps.Reading && a.Kind != steps.Echo {
		return ""
	}
	u := a.EntryUnit(m.o.Plan.System())
	if w := frameWord(a.What); w != "" {
		u += " " + w
	}
	return strings.TrimSpace(u)
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
	sys := m.o.Plan.System()
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
	pred, after, apart := "", "", ""
	if a.Window != nil && !a.Blind {
		pred = asEntered(a.Window.Want, a, sys)
		after = "±" + asEntered(a.Window.Half, a, sys)
		if a.Window.Why != "" {
			after += "  " + a.Window.Why
		}
		if a.Window.Least > 0 { // what is expected is a difference, and either way: there is no one number
			apart = asEntered(a.Window.Least, a, sys) + " to " + asEntered(a.Window.Half, a, sys) + " away from " + pred + ", either way"
			if a.Window.Why != "" {
				apart += ": " + a.Window.Why
			}
			pred = ""
		}
	}
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
		s.put(useful, "  expected  "+m.t.Paint(Predicted, "hidden: read it from the control"))
	}
	s.put(must, "  now       "+m.t.Paint(Typed, Cut(m.t.Say(el), room)))
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

// foot is what was understood, what is doubtful about it, and the number, big.
func (p *walkPage) foot(m *Model, s *sheet, a steps.Ask) {
	e := p.text(m)
	if a.Kind == steps.Choice {
		return
	}
	if e.Empty() {
		s.put(must, "")                                                 // the echo's line keeps its place
		if head, _, _ := strings.Cut(a.Label, "("); m.view == FarView { // where, for the one who stands there
			for _, l := range leads([]string{head}) {
				if m.tall(s, big, l.head, 7) {
					break
				}
			}
		}
		return
	}
	en, err := m.st.Understand(a.Field, e.Text())
	switch {
	case err != nil:
		s.put(must, "  "+m.t.Paint(Dim, Cut(m.t.Say("not understood yet"), s.w-2)))
	case p.far != nil:
		s.say(must, Caution, "  Outside what is expected: "+en.Echo)
		for _, sl := range en.Slips {
			s.hang(must, Caution, "  ", sentence(sl.Words))
		}
		if len(en.Slips) == 0 {
			s.say(must, Text, "  No known slip explains it. Read it again before you take it.")
		}
		s.say(must, KeyName, "  + takes it as it is   / goes back to correct it")
	case a.Kind == steps.Reading || a.Kind == steps.Echo || a.Kind == steps.Text && en.Echo != strings.TrimSpace(e.Text()):
		s.hang(must, Text, "  that is   ", en.Echo+sign(a, e.Text()))
	default:
		s.put(must, "")
	}
	if a.Kind != steps.Text && err == nil {
		m.bigNumber(s, e.Text())
	}
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

// bigNumber shows a number in tall figures where there is room.
func (m *Model) bigNumber(s *sheet, text string) {
	tall := 3
	if m.view == FarView || m.h >= 32 {
		tall = 5
	}
	tall = BigFits(text, s.w-2, tall)
	if tall == 0 || strings.Trim(text, "+-0123456789.,/ ") != "" {
		return
	}
	var lines []string
	for _, l := range Big(text, tall, m.t.Look.ASCII) {
		lines = append(lines, "  "+m.t.Paint(Figure, l))
	}
	s.gap()
	s.put(big, lines...)
}
