package tui

import (
	"slices"
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
	flat    bool // the numbers stand in rows: not all of them fit in tall figures
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
	p.flat = false
	p.write(m, full, false)
	// Of several numbers one alone in tall figures would be taken for the one that matters.
	if bigs := full.count(big); bigs > 1 && full.musts()+full.lines(big) > m.room() {
		p.flat = true
		full = &sheet{t: m.t, w: s.w}
		p.write(m, full, false)
	}
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
	s.put(must, m.headline(s.w, title, v)...)
	if ss.Cause != nil && v == steps.Void {
		w := "Void: " + causeWords(ss.Cause, &m.st) + "."
		if len(ss.Outcome.Checks) > 0 { // none where it was read before it could count
			w += " It was " + strings.ToLower(worstOf(ss.Outcome.Checks).String()) + " before."
		}
		s.say(must, Caution, w)
	}
	far := m.view == FarView
	head := ss.Outcome.Learned
	worst := heads(ss.Outcome.Checks)
	if open && worst != nil && worst.Words != "" {
		head = worst.Words // never what the step says where it passes
	}
	s.gap()
	if far {
		p.far(m, s, v, head, ss)
	} else {
		s.say(must, Act, head)
		s.gap()
		m.failing(s, ss.Outcome.Checks, head, func(c *steps.Check) bool { return !open || c == worst })
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
	if tap := tapOf(ss.Outcome.Next); open && tap != nil {
		s.gap()
		what := tap.Do
		if _, end, ok := strings.Cut(tap.Of, "@"); ok {
			what += " " + end + " end"
		}
		s.say(big, Act, upper(what+" "+tap.Dir))
		amount := unit.Format(tap.Amount, unit.KLength, m.o.Plan.System(), 0)
		if !far || !m.tall(s, big, tap.Dir+" "+amount, 5) {
			m.bigNumber(s, amount)
		}
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
	// With the headline, the worst and the ways on seen together, the others may lie below.
	m.failing(s, ss.Outcome.Checks, head, func(c *steps.Check) bool { return open && c != worst })
	rows := ss.Outcome.Lines
	if short && !open { // what was found comes before what it was held against
		m.lines(s, only(rows, func(r steps.Row) bool { return r.Big }), !p.flat, must)
		rows = only(rows, func(r steps.Row) bool { return !r.Big && !repeats(rows, r, m.o.Plan.System()) })
	}
	m.passing(s, ss.Outcome.Checks, short)
	prio := must
	if open && tapOf(ss.Outcome.Next) != nil {
		prio = why // the amount of the tap is the number that matters
	}
	m.lines(s, rows, !open && !p.flat, prio)
	if len(ss.Outcome.Notes) > 0 {
		s.gap()
		for _, n := range ss.Outcome.Notes {
			s.hang(must, Dim, "- ", n)
		}
	}
}

// far is the verdict for a reader who stands away: the fact that fails in tall letters
// where it fits, else the verdict's word in them.
func (p *verdictPage) far(m *Model, s *sheet, v steps.Verdict, head string, ss *steps.StepState) {
	next := 0 // lines that what comes after needs
	for _, w := range sayWords(ss.Outcome.Next) {
		next += len(Wrap(w, s.w-6))
	}
	for _, c := range p.choices {
		next += len(Wrap(c.words, s.w-5))
	}
	room := m.room() - 3 - next
	switch tap := tapOf(ss.Outcome.Next); {
	case !v.OK() && tap == nil && m.tall(s, must, firstSentence(head), room):
		if rest := strings.TrimSpace(strings.TrimPrefix(head, firstSentence(head))); rest != "" {
			s.gap()
			s.say(must, Figure, rest)
		}
	default:
		n := 5
		if m.room() < 5+next+2*len(Wrap(head, s.w)) {
			n = 3 // the fact and the ways on matter more
		}
		if w := bigWord(v); w != "" && tap == nil { // which way and how far is what is drawn tall
			m.bigText(s, w, n)
			s.gap()
		}
		m.apart(s, []string{head})
	}
	s.gap()
}

// saysIt reports that a failing check says the same words already.
func saysIt(ss *steps.StepState, w string) bool {
	for _, c := range ss.Outcome.Checks {
		if !c.Verdict.OK() && strings.TrimSpace(c.Words) == w {
			return true
		}
	}
	return false
}

// firstSentence is a text up to its first full stop.
func firstSentence(t string) string {
	if ss := sentences(t); len(ss) > 0 {
		return ss[0]
	}
	return ""
}

// heads is the check whose words head a page that does not pass: of those that fail, else
// of those not proven, the first that has words, else the first.
func heads(cs []steps.Check) *steps.Check {
	var best *steps.Check
	for _, want := range []steps.Verdict{steps.Fail, steps.NotProven} {
		for i := range cs {
			if c := &cs[i]; c.Verdict == want && (best == nil || best.Verdict == want && best.Words == "" && c.Words != "") {
				best = c
			}
		}
	}
	return best
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
func (m *Model) headline(w int, title string, v steps.Verdict) []string {
	word, role := Verdict(verdictKey(v))
	return m.ends(title, word, w, Act, role)
}

// checkRow is one check, laid out the same everywhere: what it limits with its verdict,
// then what was found and the limit.
func (m *Model) checkRow(s *sheet, cs []steps.Check, c steps.Check) {
	word, role := Verdict(verdictKey(c.Verdict))
	s.put(must, m.ends(m.limitWords(cs, c), word, s.w, Text, role)...)
	got, limit := measured(c, m.o.Plan.System())
	if got == "" {
		return
	}
	switch number, _, _ := strings.Cut(limit, " "); {
	case strings.Trim(number, "0.") == "" && c.Limit.Class == steps.Never:
		limit = "must be 0" // as it is shown
	case !strings.HasPrefix(limit, "at least "):
		limit = "limit " + limit
	}
	s.hang(must, Figure, "    ", got+"   "+limit)
}

// failing lists those shown of the checks that do not pass, each with what it means; what
// the head of the page says already is not said again.
func (m *Model) failing(s *sheet, cs []steps.Check, head string, shown func(*steps.Check) bool) {
	for i, c := range cs {
		if c.Verdict.OK() || !shown(&cs[i]) {
			continue
		}
		m.checkRow(s, cs, c)
		if c.Largest != "" {
			s.hang(useful, Dim, "    ", "largest: "+c.Largest)
		}
		if c.Words != head {
			s.hang(must, Text, "    ", c.Words)
		}
		if c.Limit.Class == steps.Never {
			s.hang(must, Dim, "    ", "This can't be waived.")
		}
	}
}

// passing lists the other checks; answers that are as wanted together in one line.
func (m *Model) passing(s *sheet, cs []steps.Check, short bool) {
	answers := 0
	var words []string
	for _, c := range cs {
		if !c.Verdict.OK() {
			continue
		}
		if got, _ := measured(c, m.o.Plan.System()); got == "" && c.Verdict == steps.Pass {
			answers++
			words = append(words, c.Words)
			continue
		}
		m.checkRow(s, cs, c)
	}
	word, role := Verdict("pass")
	switch {
	case answers == 0:
	case short || answers > 3:
		as := " as they should be"
		if answers == 1 {
			as = " as it should be"
		}
		s.put(must, m.ends(plural(answers, "other check")+as, word, s.w, Text, role)...)
	default:
		for _, w := range words {
			s.put(must, m.ends(w, word, s.w, Text, role)...)
		}
	}
}

// lines are the numbers worth showing. Where there is room the big ones stand in tall
// figures, each under its name.
func (m *Model) lines(s *sheet, rows []steps.Row, tall bool, prio int) {
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
		if !repeats(rows, r, sys) && (!r.Big || !tall) {
			flat = append(flat, r)
		}
	}
	if len(flat) > 0 {
		s.gap()
	}
	s.put(prio, m.table(together(flat, sys), s.w)...)
	for _, r := range rows {
		if r.Big && tall {
			s.gap()
			s.say(must, Figure, r.Label+"   "+shown(r, sys))
			m.bigNumber(s, number(r, sys))
		}
	}
}

// only are the rows that keep says yes to.
func only(rows []steps.Row, keep func(steps.Row) bool) []steps.Row {
	return slices.DeleteFunc(slices.Clone(rows), func(r steps.Row) bool { return !keep(r) })
}

// repeats says that a row shows again what a big one of its name shows.
func repeats(rows []steps.Row, r steps.Row, sys unit.System) bool {
	return !r.Big && slices.ContainsFunc(rows, func(b steps.Row) bool { return b.Big && b.Label == r.Label && shown(b, sys) == shown(r, sys) })
}

// together makes one row of rows of one name that follow each other: one thing in two units.
func together(rows []steps.Row, sys unit.System) []steps.Row {
	var out []steps.Row
	for _, r := range rows {
		if n := len(out); n > 0 && r.Label != "" && out[n-1].Label == r.Label && out[n-1].Unit != r.Unit {
			out[n-1].Text = shown(out[n-1], sys) + " = " + shown(r, sys)
			continue
		}
		out = append(out, r)
	}
	return out
}

// table sets rows in two columns. A name that is too long for its column stands on a
// line of its own; nothing is cut.
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
			for _, l := range Wrap(m.t.Say(r.Label), w) {
				out = append(out, m.t.Paint(role, l))
			}
			lead = strings.Repeat(" ", names+gap)
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
