package tui

import (
	"strings"

	"fliptrue/steps/fold"
)

// saysIt reports that a failing check says the same words already.
func saysIt(ss *fold.StepState, w string) bool {
	for _, c := range ss.Outcome.Checks {
		if !c.Verdict.OK() && strings.TrimSpace(c.Words) == w {
			return true
		}
	}
	return false
}

// checkRow is one check on one line, laid out the same everywhere: its mark, what it limits,
// and at the right what was found and the limit.
func (m *Model) checkRow(s *sheet, prio int, cs []fold.Check, c fold.Check, numbers bool) {
	word, role := Verdict(verdictKey(c.Verdict))
	right := ""
	if got, limit := measured(c, m.o.Plan.System()); got != "" && numbers {
		of := " of "
		number, _, _ := strings.Cut(limit, " ")
		switch {
		case strings.Trim(number, "0.") == "" && c.Limit.Class == fold.Never:
			limit, of = "must be 0", ", " // as it is shown
		case strings.HasPrefix(limit, "at least "):
			of = ", "
		}
		right = got + of + limit
	}
	mark := m.t.Paint(role, m.t.Say(word[:3])) + " "
	lines := m.ends(m.limitWords(cs, c), right, s.w-4, Text, Figure)
	if Width(m.t.Say(right)) > s.w-4-14 { // the numbers on a line of their own
		lines = m.ends(m.limitWords(cs, c), "", s.w-4, Text, Figure)
		for _, l := range Wrap(m.t.Say(right), s.w-4) {
			lines = append(lines, PadLeft(m.t.Paint(Figure, l), s.w-4))
		}
	}
	for i := range lines {
		lines[i] = map[bool]string{true: mark, false: "    "}[i == 0] + lines[i]
	}
	s.put(prio, lines...)
}

// failing lists those shown of the checks that do not pass, each with what it means; what
// the head of the page says already is not said again.
func (m *Model) failing(s *sheet, cs []fold.Check, head string, told *fold.Check, shown func(*fold.Check) bool) {
	for i, c := range cs {
		if c.Verdict.OK() || !shown(&cs[i]) {
			continue
		}
		m.checkRow(s, must, cs, c, &cs[i] != told || m.barLacks(s, c))
		if c.Largest != "" {
			s.hang(useful, Dim, "    ", "largest: "+c.Largest)
		}
		if c.Words != head {
			words := c.Words
			if strings.HasSuffix(c.Limit.Why, ".") { // a sentence stands in the row above
				words = strings.Replace(words, " "+c.Limit.Why, "", 1)
			}
			s.hang(must, Text, "    ", words)
		}
		if c.Limit.Class == fold.Never {
			s.hang(must, Dim, "    ", "This can't be waived.")
		}
	}
}

// barLacks says that the bar of this page does not show the numbers of a check.
func (m *Model) barLacks(s *sheet, c fold.Check) bool {
	vs := m.against(c)
	if len(vs) == 0 {
		return true
	}
	for _, p := range s.head().parts {
		for _, l := range p.lines {
			if strings.Contains(l, m.t.Say(vs[len(vs)-1])) {
				return false
			}
		}
	}
	return true
}

// passing lists the other checks where there is room; without it one line counts them.
func (m *Model) passing(s *sheet, cs []fold.Check) {
	in := &sheet{t: m.t, w: s.w}
	n, answers := 0, 0
	for _, c := range cs {
		if !c.Verdict.OK() {
			continue
		}
		n++
		if got, _ := measured(c, m.o.Plan.System()); got == "" && c.Verdict == fold.Pass {
			answers++
			word, role := Verdict("pass")
			for i, l := range m.ends(c.Words, "", s.w-4, Dim, Text) {
				in.put(past, map[bool]string{true: m.t.Paint(role, m.t.Say(word[:3])) + " ", false: "    "}[i == 0]+l)
			}
			continue
		}
		prio := why
		if c.Verdict == fold.Waived {
			prio = must
		}
		m.checkRow(in, prio, cs, c, true)
	}
	if n > 0 {
		word, role := Verdict("pass")
		s.put(must, m.ends(plural(n, "check")+map[bool]string{true: " passes", false: " pass"}[n == 1], word, s.w, Text, role)...)
	}
	s.parts = append(s.parts, in.parts...)
}
