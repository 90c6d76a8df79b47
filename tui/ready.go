package tui

import (
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// readyPage stands when everything passes and only the release is missing.
type readyPage struct{}

func (p *readyPage) focus(*Model) Focus { return Focus{Place: Asks} }
func (p *readyPage) words(*Model) map[Intent]string {
	return map[Intent]string{Answer: "release it", Choose: "-"}
}

func (p *readyPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	if in == Answer {
		es, err := m.st.Release()
		return m.save(es, err, nil), true
	}
	return nil, in == Choose
}

func (p *readyPage) middle(m *Model, s *sheet) {
	m.standingBar(s.head(), "READY")
	s.gap()
	if w, ok := m.worstFeature(); ok {
		sys := m.o.Plan.System()
		s.say(must, Act, "Side 2 lands within")
		m.figures(s, must, []figure{{text: unit.Format(w.within, unit.KLength, sys, 0), side: []string{unit.UnitName(unit.KLength, sys)}}},
			m.room()-s.head().height()-8)
		s.say(must, Act, "of "+unit.Show(w.allowed, unit.KLength, sys, 0)+" allowed, guard counted in, at "+w.name+" along "+w.axis+".")
	} else {
		m.bigText(s, "READY", 5)
	}
	s.gap()
	s.say(must, Act, "Everything asked for was measured and passes. + releases the setup.")
	s.say(must, Caution, "Released means: "+m.released()+
		". Your hand stays on feed hold: this program does not see, move or stop the machine.")
	s.gap()
	m.tally(s)
}

// standingBar says across the page how the whole setup stands.
func (m *Model) standingBar(s *sheet, title string) {
	n, all := 0, 0
	for _, ss := range m.st.Steps {
		if ss.Verdict == fold.NotApplicable {
			continue
		}
		all++
		if ss.Verdict == fold.Pass {
			n++
		}
	}
	right := itoa(n) + " of " + plural(all, "step") + map[bool]string{true: " passes", false: " pass"}[n == 1]
	v, role := fold.Pass, PassBar
	switch w := len(m.st.Waivers); {
	case w > 0:
		right += " · " + plural(w, "waiver")
		v, role = fold.Waived, WaivedBar
	default:
		right += " · no waiver"
	}
	shape, _ := Verdict(verdictKey(v))
	left, right := m.t.Say(" "+shape[:3]+" "+title), m.t.Say(right+" ")
	s.put(must, m.t.Paint(role, Pad(left+strings.Repeat(" ", max(s.w-Width(left)-Width(right), 1))+right, s.w)))
}

// released is what the release of this setup allows.
func (m *Model) released() string {
	switch s := m.o.Plan.Setup; {
	case s.Flip != "":
		return "side 2 may be cut"
	case s.Offset != "":
		return s.Name + " is done, and side 2 may stand on what was measured here"
	}
	return "other setups may rely on what was found here"
}

// tally counts the steps that pass and names the waivers in force.
func (m *Model) tally(s *sheet) {
	n := 0
	for _, ss := range m.st.Steps {
		if ss.Verdict == fold.Pass {
			n++
		}
	}
	if _, ready := m.base.(*readyPage); !ready { // there the bar says so
		word, role := Verdict("pass")
		s.put(must, m.ends(plural(n, "step"), word, s.w, Text, role)...)
	}
	word, role := Verdict("waived")
	for _, w := range m.st.Waivers {
		s.put(must, m.ends(m.waiverSays(w), word, s.w, Text, role)...)
	}
}

// waiverWords are the standing banner of a waiver.
func (m *Model) waiverWords(w fold.Standing) string {
	return "WAIVED, in force: " + m.waiverSays(w) + ". Reason: " + w.Reason
}

// waiverSays is what was waived, at which number and past which limit, in the words of
// the limit; of its step where that no longer has the check.
func (m *Model) waiverSays(w fold.Standing) string {
	ss, ok := m.st.Step(w.Step)
	if ok {
		for _, c := range ss.Outcome.Checks {
			if c.Limit.ID != w.Limit {
				continue
			}
			s := m.limitWords(ss.Outcome.Checks, c)
			if got, limit := measured(c, m.o.Plan.System()); got != "" {
				s += ", " + got + " of " + limit
			}
			return s
		}
	}
	if w.Limit == "level" {
		return "reads as for " + w.Number
	}
	return "a limit of " + strings.ToLower(m.stepTitle(w.Step)) + " that is no longer asked for, at " + w.Number
}

// releasedPage is the line that ends the list, to be read from where the person
// stands; after it come the stop points, if there are any.
type releasedPage struct{}

func (p *releasedPage) focus(*Model) Focus { return Focus{Place: Asks} }

func (p *releasedPage) words(m *Model) map[Intent]string {
	w := map[Intent]string{Choose: "-", Answer: "go on to the stop points"}
	if m.st.Cursor.Idle {
		w[Answer] = "leave"
	}
	return w
}

func (p *releasedPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	switch in {
	case Answer:
		if m.st.Cursor.Idle {
			m.push(newQuit(m))
			return nil, true
		}
		m.saw = true
		m.settle()
		return nil, true
	case Choose:
		return nil, true
	}
	return nil, false
}

func (p *releasedPage) middle(m *Model, s *sheet) {
	if !m.st.Released {
		s.say(must, Act, "Nothing is asked here now.")
		if m.st.TakenBack != nil {
			s.say(must, Caution, "The release no longer stands: "+causeWords(m.st.TakenBack, &m.st))
		}
		return
	}
	m.bigText(s, "RELEASED", 5)
	s.say(must, Act, "RELEASED "+m.st.Setup+" at "+clockTime(m.st.ReleasedAt))
	s.gap()
	if m.st.Cursor.Idle {
		s.say(must, Text, "The setup is done.")
	} else {
		s.say(must, Text, sentence(capital(m.released()))+" Stop points follow; they are asked while it is being cut.")
	}
	s.say(must, Caution, "Your hand on feed hold and E-stop: this program does not see, move or stop the machine.")
	s.gap()
	m.tally(s)
}
