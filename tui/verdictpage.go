package tui

import (
	"strings"

	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// verdictPage shows what a step came to: the checks, what was learned, the next
// act. Where it does not pass it asks what to do.
type verdictPage struct {
	step    fold.StepID
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

// verdictText is what a verdict page says, as it is being written.
type verdictText struct {
	*verdictPage
	m *Model
	s *sheet

	ss          *fold.StepState
	open, far   bool
	v           fold.Verdict
	head        string      // what was learned, or what is worst
	worst, told *fold.Check // the one that heads the page; the one whose numbers stand in the bar
	figures     []figure
}

// write puts what matters first: what was learned, what does not pass, the next act
// and the ways on; then what passes, the numbers, the notes.
func (p *verdictPage) write(m *Model, s *sheet) {
	ss, ok := m.st.Step(p.step)
	if !ok {
		return
	}
	x := verdictText{verdictPage: p, m: m, s: s, ss: ss, open: !p.passed && !p.look, far: m.view == FarView, v: ss.Verdict,
		head: ss.Outcome.Learned, worst: heads(ss.Outcome.Checks)}
	if x.open {
		x.v = worstOf(ss.Outcome.Checks)
		x.figures = m.moved(ss.Outcome.Next)
		if x.worst != nil && x.worst.Words != "" {
			x.head = x.worst.Words // never what the step says where it passes
		}
	}
	if x.told = x.worst; x.told == nil || x.v == fold.Pass {
		x.told = tightest(ss.Outcome.Checks)
	}
	if x.open {
		x.once()
	}
	x.top()
	x.next()
	if x.open {
		m.choices(s.foot(), p.said(), p.mark)
	}
	if !x.far {
		x.rest()
	}
}

// once takes out of the headline the sentences that the name of a check below it says again.
func (x *verdictText) once() {
	var names []string
	for _, c := range x.ss.Outcome.Checks {
		if !c.Verdict.OK() {
			names = append(names, sentence(x.m.limitWords(x.ss.Outcome.Checks, c)))
		}
	}
	if rest := unsaid(x.head, names); rest != "" {
		x.head = rest
	}
}

// top is the bar, and what the page is about.
func (x *verdictText) top() {
	m, s, ss := x.m, x.s, x.ss
	title := upper(ss.Title)
	if ss.Round != nil && ss.Round.No > 1 {
		title += ", round " + itoa(ss.Round.No)
	}
	m.bar(s.head(), title, x.v, x.told)
	if ss.Cause != nil && x.v == fold.Void {
		w := "Void: " + causeWords(ss.Cause, &m.st) + "."
		if len(ss.Outcome.Checks) > 0 { // none where it was read before it could count
			w += " It was " + strings.ToLower(worstOf(ss.Outcome.Checks).String()) + " before."
		}
		s.say(must, Caution, w)
	}
	s.gap()
	if x.far {
		x.verdictPage.far(m, s, x.v, x.head, ss)
		return
	}
	s.say(must, Act, x.head)
	s.gap()
	m.failing(s, ss.Outcome.Checks, x.headline(), x.told, func(c *fold.Check) bool { return !x.open || c == x.worst })
}

// next is what is to be done now.
func (x *verdictText) next() {
	m, s := x.m, x.s
	for _, w := range sayWords(x.ss.Outcome.Next) {
		if x.v == fold.Waived || w == strings.TrimSpace(x.headline()) || !x.far && saysIt(x.ss, w) {
			continue
		}
		if act := unsaid(w, sentences(x.headline())); act != "" {
			w = act
		}
		s.hang(must, Act, "NEXT  ", w)
	}
	if x.v.OK() && m.pg.After != "" {
		s.hang(must, Caution, "NEXT  ", m.pg.After)
		s.gap()
	}
	if len(x.figures) > 0 && !x.far {
		s.apart()
		m.figures(s, big, x.figures, m.h)
		m.needleWay(s, x.ss.Outcome.Next)
	}
}

// headline is what heads the page, whole.
func (x *verdictText) headline() string {
	if x.worst != nil && x.open && x.worst.Words != "" {
		return x.worst.Words
	}
	return x.head
}

// rest is what passes, the numbers and the notes.
func (x *verdictText) rest() {
	m, s, out := x.m, x.s, x.ss.Outcome
	if !x.open {
		m.lines(s, out.Lines, x.told, must)
	}
	// With the headline, the worst and the ways on seen together, the others may lie below.
	m.failing(s, out.Checks, x.headline(), x.told, func(c *fold.Check) bool { return x.open && c != x.worst })
	s.gap()
	m.passing(s, out.Checks)
	if x.open {
		prio := useful
		if len(x.figures) > 0 {
			prio = why // the amount of the tap is the number that matters
		}
		m.lines(s, out.Lines, nil, prio)
	}
	if len(out.Notes) > 0 {
		s.gap()
		for i, n := range out.Notes {
			prio := useful
			if i > 1 { // a picture says more
				prio = why
			}
			s.hang(prio, Dim, "- ", n)
		}
	}
	if !x.look { // what was read stands below, by whom and when
		m.history(s, x.ss, nil)
	}
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
