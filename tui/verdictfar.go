package tui

import (
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// far is the verdict for a reader who stands away: its word tall, and beside it which way and
// how far, where that is what comes next.
func (p *verdictPage) far(m *Model, s *sheet, v fold.Verdict, head string, ss *fold.StepState) {
	next := 2 // lines that what comes after needs
	for _, w := range sayWords(ss.Outcome.Next) {
		next += len(Wrap(w, s.w-6))
	}
	low := &sheet{t: m.t, w: s.w}
	m.choices(low, p.said(), p.mark)
	next += low.height()
	room := m.room() - s.head().height() - next - len(Wrap(head, s.w))
	var needle []figure
	word := bigWord(v)
	for _, f := range m.moved(ss.Outcome.Next) {
		switch {
		case p.passed || p.look:
		case f.head() != "":
			needle = append(needle, f)
		default:
			word += "  " + f.text
		}
	}
	var fs []figure
	if v.OK() {
		fs = m.farNumbers(ss.Outcome.Lines)
	}
	m.farWord(s, word, needle, room-4*len(fs))
	m.apart(s, []string{head})
	if v.OK() {
		if len(fs) > 0 {
			s.gap()
			m.figures(s, big, fs, m.room()-s.musts()-s.head().height()-next)
		}
	}
	s.gap()
}

// farNumbers are the numbers that matter, each with its name beside it.
func (m *Model) farNumbers(rows []fold.Row) []figure {
	sys := m.o.Plan.System()
	var fs []figure
	for _, r := range rows {
		if !r.Big || r.Text != "" {
			continue
		}
		f := m.coordinate(r)
		if f.axis == "" {
			f = figure{text: number(r, sys), side: append(Wrap(m.t.Say(r.Label), 28), unit.UnitName(r.Unit, sys))}
		}
		f.side = f.side[max(len(f.side)-3, 0):]
		fs = append(fs, f)
	}
	return fs
}

// farWord is a tall word, and under it the needle's target, which is the taller of the two.
func (m *Model) farWord(s *sheet, word string, needle []figure, room int) {
	if len(needle) > 0 {
		in := &sheet{t: m.t, w: s.w, tall: s.tall}
		tall := m.figures(in, must, needle, room-5)
		if room -= tall + 2; tall > 0 {
			room = min(room, tall+1)
		}
		defer func() { s.parts = append(s.parts, in.parts...); s.gap() }()
	}
	for _, tall := range talls {
		if word == "" || tall > room || bigWidth(word, tall) > s.w || tall == 3 && m.t.Look.ASCII {
			continue
		}
		for _, l := range Big(word, tall, m.t.Look.ASCII) {
			s.put(must, m.t.Paint(Figure, l))
		}
		s.gap()
		break
	}
}

// bigWord is a verdict in the letters that are drawn tall.
func bigWord(v fold.Verdict) string {
	switch v {
	case fold.Pass, fold.Fail, fold.Void, fold.Waived, fold.NotProven:
		return v.String()
	}
	return ""
}

// bigText draws words tall, or plain where they don't fit.
func (m *Model) bigText(s *sheet, text string, most int) {
	tall := BigFits(text, s.w, min(most, max(s.tall, 3)))
	if tall == 0 || tall == 3 && m.t.Look.ASCII {
		s.say(must, Figure, text)
		return
	}
	var lines []string
	for _, l := range Big(text, tall, m.t.Look.ASCII) {
		lines = append(lines, m.t.Paint(Figure, l))
	}
	s.put(must, lines...)
}
