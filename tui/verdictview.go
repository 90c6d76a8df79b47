package tui

import (
	"strings"

	"fliptrue/calc/unit"
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

func (p *verdictPage) middle(m *Model, s *sheet) {
	full := &sheet{t: m.t, w: s.w}
	p.write(m, full, false)
	if full.musts() > m.room() {
		full = &sheet{t: m.t, w: s.w}
		p.write(m, full, true)
	}
	s.parts = append(s.parts, full.parts...)
}

// write puts what matters first: what was learned, what does not pass, the next act
// and the ways on; then what passes, the numbers, the notes.
func (p *verdictPage) write(m *Model, s *sheet, short bool) {
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
	s.put(must, m.headline(s.w, title, v))
	if ss.Cause != nil && v == steps.Void {
		s.say(must, Caution, "Void: "+causeWords(ss.Cause, &m.st)+". It was "+strings.ToLower(worstOf(ss.Outcome.Checks).String())+" before.")
	}
	if w := bigWord(v); w != "" && m.view == FarView {
		s.gap()
		tall := 5
		if open && tapOf(ss.Outcome.Next) != nil {
			tall = 3 // the amount of the tap is what matters more
		}
		m.bigText(s, w, tall)
	}
	s.gap()
	far := m.view == FarView
	if ss.Outcome.Learned != "" {
		s.say(must, Act, ss.Outcome.Learned)
		s.gap()
	}
	if !far || len(sayWords(ss.Outcome.Next)) == 0 {
		m.failing(s, ss.Outcome.Checks)
	}
	for _, w := range sayWords(ss.Outcome.Next) {
		if v != steps.Waived && (far || !p.said(ss, w)) {
			s.hang(must, Act, "NEXT  ", w)
		}
	}
	if tap := tapOf(ss.Outcome.Next); open && tap != nil {
		s.gap()
		what := tap.Do
		if _, end, ok := strings.Cut(tap.Of, "@"); ok {
			what += " " + end + " end"
		}
		s.say(big, Act, upper(what+" "+tap.Dir))
		m.bigNumber(s, unit.Format(tap.Amount, unit.KLength, m.o.Plan.System(), 0))
	}
	if far && !open {
		return
	}
	if open {
		s.gap()
		for i, c := range p.choices {
			mark, role := "  ", Text
			if i == p.mark {
				mark, role = "> ", Act
			}
			s.hang(must, role, mark+itoa(i+1)+"  ", c.words)
		}
		s.gap()
	}
	if far {
		return
	}
	m.passing(s, ss.Outcome.Checks, short)
	m.lines(s, ss.Outcome.Lines, !open)
	if len(ss.Outcome.Notes) > 0 {
		s.gap()
		for _, n := range ss.Outcome.Notes {
			s.hang(must, Dim, "- ", n)
		}
	}
}

// said reports that a failing check says the same words already.
func (p *verdictPage) said(ss *steps.StepState, w string) bool {
	for _, c := range ss.Outcome.Checks {
		if !c.Verdict.OK() && strings.TrimSpace(c.Words) == w {
			return true
		}
	}
	return false
}

// worstOf is the verdict of checks together, as the steps weigh them.
func worstOf(cs []steps.Check) steps.Verdict {
	out := steps.Pass
	for _, want := range []steps.Verdict{steps.Waived, steps.NotProven, steps.Fail} {
		for _, c := range cs {
			if c.Verdict == want {
				out = want
			}
		}
	}
	return out
}

// headline is a title with its verdict at the right.
func (m *Model) headline(w int, title string, v steps.Verdict) string {
	word, role := Verdict(verdictKey(v))
	title = Cut(m.t.Say(title), max(w-Width(word)-1, 8))
	return m.t.Paint(Act, title) + strings.Repeat(" ", max(w-Width(title)-Width(word), 1)) + m.t.Paint(role, word)
}

// failing lists the checks that do not pass, each with what it means.
func (m *Model) failing(s *sheet, cs []steps.Check) {
	sys := m.o.Plan.System()
	for _, c := range cs {
		if c.Verdict.OK() {
			continue
		}
		word, role := Verdict(verdictKey(c.Verdict))
		got, limit := measured(c, sys)
		s.put(must, m.spreadVerdict(m.limitWords(cs, c), word, role, s.w))
		if got != "" {
			s.hang(must, Figure, "    ", got+"   limit "+limit)
			if c.Largest != "" {
				s.say(useful, Dim, "    largest: "+c.Largest)
			}
		}
		s.hang(must, Text, "    ", c.Words)
		if c.Limit.Class == steps.Never {
			s.hang(must, Dim, "    ", "This can't be waived.")
		}
	}
}

// passing lists the other checks; answers that are as wanted together in one line.
func (m *Model) passing(s *sheet, cs []steps.Check, short bool) {
	sys := m.o.Plan.System()
	answers := 0
	var words []string
	for _, c := range cs {
		if !c.Verdict.OK() {
			continue
		}
		word, role := Verdict(verdictKey(c.Verdict))
		got, limit := measured(c, sys)
		switch {
		case got == "":
			answers++
			words = append(words, c.Words)
		case short:
			s.put(must, m.spreadVerdict(got+" / "+limit+"  "+m.limitWords(cs, c), word, role, s.w))
		default:
			s.put(must, m.spreadVerdict(m.limitWords(cs, c), word, role, s.w))
			s.hang(must, Figure, "    ", got+"   limit "+limit)
		}
	}
	word, role := Verdict("pass")
	switch {
	case answers == 0:
	case short || answers > 3:
		s.put(must, m.spreadVerdict(plural(answers, "answer")+" as wanted", word, role, s.w))
	default:
		for _, w := range words {
			s.put(must, m.spreadVerdict(w, word, role, s.w))
		}
	}
}

// limitWords says what a limit is for. Where several checks share the words, that
// of the field it is about.
func (m *Model) limitWords(cs []steps.Check, c steps.Check) string {
	same := 0
	for _, o := range cs {
		if o.Limit.Why == c.Limit.Why {
			same++
		}
	}
	if same > 1 {
		_, field, _ := strings.Cut(c.Limit.ID, ".")
		for _, ss := range m.st.Steps {
			for _, a := range ss.Asks {
				if field != "" && a.Field == field && len(ss.Outcome.Checks) == len(cs) {
					return a.Label
				}
			}
		}
	}
	if c.Limit.Why == "" {
		return c.Limit.ID
	}
	return c.Limit.Why
}

func (m *Model) spreadVerdict(left, word string, role Role, w int) string {
	left = Cut(m.t.Say(left), max(w-Width(word)-1, 4))
	return left + strings.Repeat(" ", max(w-Width(left)-Width(word), 1)) + m.t.Paint(role, word)
}

// lines are the numbers worth showing. Where there is room the big ones stand in tall
// figures, each under its name.
func (m *Model) lines(s *sheet, rows []steps.Row, tall bool) {
	sys := m.o.Plan.System()
	bigs := 0
	for _, r := range rows {
		if r.Big {
			bigs++
		}
	}
	tall = tall && (bigs == 1 || m.h >= 32)
	var flat []steps.Row
	for _, r := range rows {
		if !r.Big || !tall {
			flat = append(flat, r)
		}
	}
	if len(flat) > 0 {
		s.gap()
	}
	s.put(must, m.table(flat, s.w)...)
	for _, r := range rows {
		if r.Big && tall {
			s.gap()
			s.put(must, m.t.Paint(Figure, Cut(m.t.Say(r.Label+"   "+shown(r, sys)), s.w)))
			m.bigNumber(s, number(r, sys))
		}
	}
}

// table sets rows in two columns. A name may be cut, a number never; a value in
// words goes on below itself.
func (m *Model) table(rows []steps.Row, w int) []string {
	const gap = 3
	sys := m.o.Plan.System()
	names, numbers := 0, 0
	for _, r := range rows {
		names = max(names, Width(m.t.Say(r.Label)))
		if r.Text == "" {
			numbers = max(numbers, Width(m.t.Say(shown(r, sys))))
		}
	}
	names = max(min(names, w-gap-max(numbers, w/2)), 8)
	var out []string
	for _, r := range rows {
		role := Text
		if r.Big {
			role = Figure
		}
		lead := Pad(m.t.Say(r.Label), names+gap)
		if Width(m.t.Say(r.Label)) > names {
			lead = Cut(m.t.Say(r.Label), names) + strings.Repeat(" ", gap)
		}
		for _, l := range WrapHung(lead, m.t.Say(shown(r, sys)), w) {
			out = append(out, m.t.Paint(role, l))
		}
	}
	return out
}

// tapOf is the tap among acts: how far and which way is then the number that matters.
func tapOf(as []steps.Act) *steps.Act {
	for i := range as {
		if as[i].Do == "tap" && as[i].Amount > 0 {
			return &as[i]
		}
	}
	return nil
}

// bigWord is a verdict in the letters that are drawn tall.
func bigWord(v steps.Verdict) string {
	switch v {
	case steps.Pass, steps.Fail, steps.Void, steps.Waived, steps.NotProven:
		return v.String()
	}
	return ""
}

// bigText draws words tall, or plain where they don't fit.
func (m *Model) bigText(s *sheet, text string, most int) {
	tall := BigFits(text, s.w, most)
	if tall == 3 && m.t.Look.ASCII {
		tall = 0
	}
	if tall == 0 {
		s.say(must, Figure, text)
		return
	}
	var lines []string
	for _, l := range Big(text, tall, m.t.Look.ASCII) {
		lines = append(lines, m.t.Paint(Figure, l))
	}
	s.put(must, lines...)
}
