package tui

import (
	"strings"

	"fliptrue/steps"

	tea "github.com/charmbracelet/bubbletea"
)

// verdictPage shows what a step came to: the checks, what was learned, the next
// act. Where it does not pass it asks what to do.
type verdictPage struct {
	step    steps.StepID
	passed  bool // it stands; + goes on
	look    bool // opened from the list, to look at
	choices []choice
	mark    int
}

// choice is one way on after a step that does not pass.
type choice struct {
	words string
	do    func(m *Model) tea.Cmd
}

func (p *verdictPage) focus(m *Model) Focus {
	if p.look {
		return Focus{Place: Lists}
	}
	return Focus{Place: Asks}
}

func (p *verdictPage) words(m *Model) map[Intent]string {
	if p.passed || p.look {
		return map[Intent]string{Answer: "go on"}
	}
	return map[Intent]string{Answer: "do that", Choose: "choose"}
}

func (p *verdictPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	if p.look {
		return nil, false
	}
	if p.passed {
		if in == Answer {
			m.just = ""
			m.settle()
			return nil, true
		}
		return nil, false
	}
	switch in {
	case Up, Prev:
		p.mark = max(p.mark-1, 0)
	case Down, Next:
		p.mark = min(p.mark+1, len(p.choices)-1)
	case Choose:
		if n := int(s.Rune - '0'); n >= 1 && n <= len(p.choices) {
			p.mark = n - 1
		}
	case Answer:
		if p.mark < len(p.choices) {
			return p.choices[p.mark].do(m), true
		}
	default:
		return nil, false
	}
	m.draw()
	return nil, true
}

func (p *verdictPage) middle(m *Model, s *sheet) { p.write(m, s) }

// write puts what matters first: what was learned, what does not pass, the next act
// and the ways on; then what passes, the numbers, the notes.
func (p *verdictPage) write(m *Model, s *sheet) {
	ss, ok := m.st.Step(p.step)
	if !ok {
		return
	}
	open := !p.passed && !p.look
	v := ss.Verdict
	if open {
		v = worstOf(ss.Outcome.Checks)
	}
	title := upper(ss.Title)
	if ss.Round != nil && ss.Round.No > 1 {
		title += ", round " + itoa(ss.Round.No)
	}
	worst := heads(ss.Outcome.Checks)
	told := worst // the check whose numbers stand in the bar
	if told == nil || v == steps.Pass {
		told = tightest(ss.Outcome.Checks)
	}
	m.bar(s.head(), title, v, told)
	if ss.Cause != nil && v == steps.Void {
		w := "Void: " + causeWords(ss.Cause, &m.st) + "."
		if len(ss.Outcome.Checks) > 0 { // none where it was read before it could count
			w += " It was " + strings.ToLower(worstOf(ss.Outcome.Checks).String()) + " before."
		}
		s.say(must, Caution, w)
	}
	far := m.view == FarView
	head := ss.Outcome.Learned
	if open && worst != nil && worst.Words != "" {
		head = worst.Words // never what the step says where it passes
	}
	s.gap()
	if far {
		p.far(m, s, v, head, ss)
	} else {
		s.say(must, Act, head)
		s.gap()
		m.failing(s, ss.Outcome.Checks, head, told, func(c *steps.Check) bool { return !open || c == worst })
	}
	for _, w := range sayWords(ss.Outcome.Next) {
		if v != steps.Waived && w != strings.TrimSpace(head) && (far || !saysIt(ss, w)) {
			s.hang(must, Act, "NEXT  ", w)
		}
	}
	if v.OK() && m.pg.After != "" {
		s.hang(must, Caution, "NEXT  ", m.pg.After)
		s.gap()
	}
	var fs []figure
	if open {
		fs = m.moved(ss.Outcome.Next)
	}
	if len(fs) > 0 && !far {
		s.apart()
		m.figures(s, big, fs, m.h)
		m.needleWay(s, ss.Outcome.Next)
	}
	if far && !open {
		return
	}
	if open {
		m.choices(s.foot(), p.said(), p.mark)
	}
	if far {
		return
	}
	if !open {
		m.lines(s, ss.Outcome.Lines, told, must)
	}
	// With the headline, the worst and the ways on seen together, the others may lie below.
	m.failing(s, ss.Outcome.Checks, head, told, func(c *steps.Check) bool { return open && c != worst })
	s.gap()
	m.passing(s, ss.Outcome.Checks)
	if open {
		prio := useful
		if len(fs) > 0 {
			prio = why // the amount of the tap is the number that matters
		}
		m.lines(s, ss.Outcome.Lines, nil, prio)
	}
	if len(ss.Outcome.Notes) > 0 {
		s.gap()
		for i, n := range ss.Outcome.Notes {
			prio := useful
			if i > 1 { // a picture says more
				prio = why
			}
			s.hang(prio, Dim, "- ", n)
		}
	}
	m.history(s, ss, nil)
}

// said are the words of the ways on.
func (p *verdictPage) said() []string {
	var words []string
	for _, c := range p.choices {
		words = append(words, c.words)
	}
	return words
}

// choices are numbered lines of which one is marked, in two columns where they are short.
func (m *Model) choices(s *sheet, words []string, mark int) {
	line := func(i int) string {
		lead, role := "  ", Text
		if i == mark {
			lead, role = "> ", Act
		}
		return m.t.Paint(role, lead+itoa(i+1)+"  "+m.t.Say(words[i]))
	}
	half := (s.w - 2) / 2
	two := len(words) > 2
	for _, w := range words {
		two = two && Width(m.t.Say(w))+5 <= half
	}
	for i := 0; i < len(words); i++ {
		switch {
		case two && i+1 < len(words):
			s.put(must, Pad(line(i), half)+"  "+line(i+1))
			i++
		case i == mark:
			s.hang(must, Act, "> "+itoa(i+1)+"  ", words[i])
		default:
			s.hang(must, Text, "  "+itoa(i+1)+"  ", words[i])
		}
	}
}
