package tui

import (
	"math"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/tui/canvas"
)

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
func (p *walkPage) actPage(m *Model, s *sheet, a fold.Ask, ss *fold.StepState) {
	acts, pause := p.before(m, s, a, ss)
	after := p.asking(m) + s.head().height()
	if pause && len(acts) > 0 {
		after += 1 + len(Wrap(m.t.Say(ss.Pause.Lost), s.w-7))
	}
	if fs := p.keyed(m); m.view == FarView && len(fs) == 0 {
		m.farAct(s, ss.Title, p.acts(m), after)
	} else {
		m.inOrder(s, acts)
	}
	if pause && len(acts) > 0 {
		s.gap()
		s.hang(must, Caution, "AHEAD  ", ss.Pause.Heading)
		s.hang(useful, Text, "       ", ss.Pause.Lost)
	}
	if fs := p.keyed(m); len(fs) > 0 {
		s.apart()
		m.figures(s, must, fs, m.room()-s.musts()-after-1)
	} else if fs := m.moved(p.acts(m)); len(fs) > 0 && m.view != FarView {
		s.apart()
		m.figures(s, big, fs, m.room()-s.musts()-after-1)
		m.needleWay(s, p.acts(m))
	}
	rows := &sheet{t: m.t, w: s.w}
	p.working(m, rows)
	low := s.foot()
	if m.pg.Hands != "" && a.Field != "pause" {
		low.say(must, Caution, capital(m.pg.Hands)+"  "+m.elapsed())
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
			if d.Do == "key" && a.Kind == fold.Echo && a.Window != nil {
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
func (m *Model) moved(as []fold.Act) []figure {
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

// needleWay is the way of the needle on its dial, rolled out, where there is room.
func (m *Model) needleWay(s *sheet, as []fold.Act) {
	for _, a := range as {
		if a.Amount == 0 || a.Needle.By == 0 {
			continue
		}
		n := canvas.Needle{Now: a.Needle.To - a.Needle.By, To: a.Needle.To}
		s.gap()
		c := canvas.DrawNeedle(min(s.w, 56), 4, n, Pen(Hit), Pen(Tap), m.t.Inks(), m.artist().mm, m.t.Look.strokes())
		s.put(why, c.Lines(m.artist().paint())...)
		return
	}
}

// arrow is a direction on the table as it is seen from where the person stands.
func arrow(dir string) string {
	return map[string]string{"away": "↑", "toward you": "↓", "toward": "↓", "left": "←", "right": "→"}[strings.ToLower(dir)]
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
