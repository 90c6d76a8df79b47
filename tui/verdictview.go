package tui

import (
	"math"
	"slices"
	"strconv"
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

// far is the verdict for a reader who stands away: its word tall, and beside it which way and
// how far, where that is what comes next.
func (p *verdictPage) far(m *Model, s *sheet, v steps.Verdict, head string, ss *steps.StepState) {
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
	m.farWord(s, word, needle, room)
	m.apart(s, []string{head})
	if v.OK() {
		var fs []figure
		for _, r := range ss.Outcome.Lines {
			if r.Big && r.Text == "" {
				fs = append(fs, figure{axis: axisOf(r.Label), text: number(r, m.o.Plan.System())})
			}
		}
		if len(fs) > 0 {
			s.gap()
			m.figures(s, big, fs, m.room()-s.musts()-s.head().height()-next)
		}
	}
	s.gap()
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

// saysIt reports that a failing check says the same words already.
func saysIt(ss *steps.StepState, w string) bool {
	for _, c := range ss.Outcome.Checks {
		if !c.Verdict.OK() && strings.TrimSpace(c.Words) == w {
			return true
		}
	}
	return false
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

// bar is the verdict across the page, the one area of colour: shape and word, then the value,
// its limit, and how many limits that is, as far as there is room.
func (m *Model) bar(s *sheet, title string, v steps.Verdict, told *steps.Check) {
	word, role := Verdict(verdictKey(v))
	switch v {
	case steps.Pass:
		role = PassBar
	case steps.NotProven:
		role = NotProvenBar
	case steps.Waived:
		role = WaivedBar
	case steps.Void:
		role = VoidBar
	}
	title, word = m.t.Say(title), m.t.Say(word)
	best := word
	if told != nil && v != steps.Void {
		for _, w := range m.against(*told) {
			if t := word + "  " + m.t.Say(w); Width(title)+Width(t)+4 <= s.w && Width(t) > Width(best) {
				best = t
			}
		}
	}
	if Width(title)+Width(best)+4 > s.w {
		s.put(must, m.t.Paint(role, Pad(" "+title, s.w)))
		title = ""
	}
	s.put(must, m.t.Paint(role, Pad(" "+title+strings.Repeat(" ", max(s.w-Width(title)-Width(best)-2, 1))+best, s.w)))
}

// against is what was found held against its limit, in fewer and fewer words.
func (m *Model) against(c steps.Check) []string {
	got, limit := measured(c, m.o.Plan.System())
	if got == "" || c.Count {
		return nil
	}
	short := strings.ReplaceAll(got, "± guard", "±")
	of := " of "
	if strings.HasPrefix(limit, "at least ") {
		of = ", "
	}
	if strings.Trim(strings.SplitN(limit, " ", 2)[0], "0.") == "" {
		return []string{short + ", must be 0"}
	}
	return []string{short + of + limit + times(c), short + of + limit, short + of + strings.SplitN(strings.TrimPrefix(limit, "at least "), " ", 2)[0]}
}

// times is how many limits were found, where it is more than one.
func times(c steps.Check) string {
	r := 0.0
	if !c.Limit.Min && c.Limit.Max > 0 {
		r = c.Got / c.Limit.Max
	}
	switch {
	case r >= 9.95:
		return ", " + strconv.Itoa(int(math.Round(r))) + " times the limit"
	case r > 1.05:
		return ", " + strconv.FormatFloat(r, 'f', 1, 64) + " times the limit"
	}
	return ""
}

// checkRow is one check on one line, laid out the same everywhere: its mark, what it limits,
// and at the right what was found and the limit.
func (m *Model) checkRow(s *sheet, prio int, cs []steps.Check, c steps.Check, numbers bool) {
	word, role := Verdict(verdictKey(c.Verdict))
	right := ""
	if got, limit := measured(c, m.o.Plan.System()); got != "" && numbers {
		of := " of "
		number, _, _ := strings.Cut(limit, " ")
		switch {
		case strings.Trim(number, "0.") == "" && c.Limit.Class == steps.Never:
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
func (m *Model) failing(s *sheet, cs []steps.Check, head string, told *steps.Check, shown func(*steps.Check) bool) {
	for i, c := range cs {
		if c.Verdict.OK() || !shown(&cs[i]) {
			continue
		}
		m.checkRow(s, must, cs, c, &cs[i] != told || m.barLacks(s, c))
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

// barLacks says that the bar of this page does not show the numbers of a check.
func (m *Model) barLacks(s *sheet, c steps.Check) bool {
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
func (m *Model) passing(s *sheet, cs []steps.Check) {
	in := &sheet{t: m.t, w: s.w}
	n, answers := 0, 0
	for _, c := range cs {
		if !c.Verdict.OK() {
			continue
		}
		n++
		if got, _ := measured(c, m.o.Plan.System()); got == "" && c.Verdict == steps.Pass {
			answers++
			word, role := Verdict("pass")
			for i, l := range m.ends(c.Words, "", s.w-4, Dim, Text) {
				in.put(past, map[bool]string{true: m.t.Paint(role, m.t.Say(word[:3])) + " ", false: "    "}[i == 0]+l)
			}
			continue
		}
		prio := why
		if c.Verdict == steps.Waived {
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

// lines are the numbers worth showing, the one that counts in figures: coordinates with their axes, else
// what the bar holds against its limit.
func (m *Model) lines(s *sheet, rows []steps.Row, told *steps.Check, prio int) {
	sys := m.o.Plan.System()
	var fs []figure
	if told != nil {
		for _, r := range rows {
			if f := m.coordinate(r); f.axis != "" {
				fs = append(fs, f)
			}
		}
		if len(fs) == 0 {
			fs = m.counted(*told)
		}
	}
	if len(fs) > 0 {
		low := s.foot()
		m.figures(low, must, fs, m.room()-s.head().height()-s.musts()-2)
		prio = max(prio, useful)
	}
	var flat []steps.Row
	for _, r := range rows {
		tall := len(fs) > 0 && (m.coordinate(r).axis != "" || r.Big && number(r, sys) == fs[0].text)
		if !repeats(rows, r, sys) && !tall {
			flat = append(flat, r)
		}
	}
	if len(flat) > 0 {
		s.gap()
	}
	s.put(prio, m.table(together(flat, sys), s.w)...)
}

// coordinate is a row that is read or keyed by its axis, one without an axis for any other.
func (m *Model) coordinate(r steps.Row) figure {
	if !r.Big || r.Text != "" || axisOf(r.Label) == "" {
		return figure{}
	}
	sys := m.o.Plan.System()
	f := figure{axis: axisOf(r.Label), text: number(r, sys), side: []string{r.Label, unit.UnitName(r.Unit, sys)}}
	if r.Guard > 0 {
		f.side[1] = strings.TrimSpace(guarded(r.Guard, r.Unit, sys)) + " " + f.side[1]
	}
	return f
}

// counted is what a check holds against its limit, its guard with it: the number that decides.
func (m *Model) counted(c steps.Check) []figure {
	vs := m.against(c)
	if len(vs) == 0 {
		return nil
	}
	held := c
	held.Got, held.Limit.System = c.Held(), m.o.Plan.System()
	text, limit := held.Against()
	if !strings.HasPrefix(limit, "at least ") {
		limit = "of " + limit
	}
	why := m.limitWords([]steps.Check{c}, c)
	if c.Guard > 0 {
		why += ", with guard"
	}
	return []figure{{text: text, side: append(Wrap(m.t.Say(why), 36), limit)}}
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
	names, numbers, texts := 0, 0, false
	for _, r := range rows {
		texts = texts || r.Text != ""
		names = max(names, Width(m.t.Say(r.Label)))
		if r.Text == "" {
			numbers = max(numbers, Width(m.t.Say(shown(r, sys))))
		}
	}
	if texts {
		numbers = max(numbers, w/2)
	}
	names = max(min(names, w-gap-numbers), 8)
	var out []string
	for _, r := range rows {
		role := Text
		if r.Big {
			role = Figure
		}
		lead := Pad(m.t.Say(r.Label), names+gap)
		if label, value := m.t.Say(r.Label), m.t.Say(shown(r, sys)); Width(label) > names && Width(label)+gap+Width(value) <= w {
			lead = label + strings.Repeat(" ", gap)
		} else if Width(label) > names {
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
