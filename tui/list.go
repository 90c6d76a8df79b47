package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// item is one line of a list.
type item struct {
	words string
	role  Role
	do    func(m *Model) tea.Cmd // nil: to look at only
}

// listPage is a numbered list. In a list Enter opens the marked line; where the
// list is a question, + answers with it.
type listPage struct {
	title   string
	caution string // the first line, tall where it fits: what keeps hands whole
	lead    []line // above the list
	items   []item
	tail    []line // below it
	zero    *item  // the line of the digit 0
	mark    int    // -1: none yet
	typed   int
	asks    bool // a question: + answers, Enter does not
	top     bool // a page to read from its top on: it is not scrolled to the mark
	way     bool // it tells what is void: the banner need not
	quits   bool // it asks whether to leave: Ctrl-C once more is a yes
	plus    string
}

// line is a paragraph with its look.
type line struct {
	role Role
	text string
}

func (p *listPage) focus(*Model) Focus {
	if p.asks {
		return Focus{Place: Asks}
	}
	return Focus{Place: Lists}
}

func (p *listPage) words(*Model) map[Intent]string {
	w := map[Intent]string{Choose: "choose", Back: "close", Close: "-"}
	if p.asks {
		w[Answer] = p.plus
		if p.plus == "" {
			w[Answer] = "do that"
		}
	}
	if len(p.items) == 0 {
		w[Open], w[Choose] = "-", "-"
	}
	if len(p.items) == 1 {
		w[Choose] = "-"
	}
	w[Far], w[Picture], w[Again], w[Quit] = "-", "-", "-", "-"
	return w
}

func (p *listPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	switch in {
	case Up, Prev:
		p.mark, p.typed = max(p.mark-1, 0), 0
	case Down, Next:
		p.mark, p.typed = min(p.mark+1, len(p.items)-1), 0
	case Home:
		p.mark = 0
	case End:
		p.mark = len(p.items) - 1
	case PageUp, PageDown:
		if m.long() {
			return nil, false // the page is scrolled
		}
		p.mark = min(max(p.mark+map[Intent]int{PageUp: -8, PageDown: 8}[in], 0), len(p.items)-1)
	case Choose:
		p.digit(m, int(s.Rune-'0'))
		if p.zero != nil && p.typed == 0 && s.Rune == '0' {
			return p.zero.do(m), true
		}
	case Open, Answer:
		if p.mark < 0 || p.mark >= len(p.items) {
			m.notice = "type the number of a line first"
			return nil, true
		}
		if do := p.items[p.mark].do; do != nil {
			return do(m), true
		}
	case Quit:
		if !p.quits || s.Name != "ctrl+c" {
			return nil, p.quits
		}
		m.quit = true
		return tea.Quit, true
	case Insert:
	default:
		return nil, false
	}
	return nil, true
}

// digit marks a line by its number; a second digit makes a larger one of it.
func (p *listPage) digit(m *Model, d int) {
	n := p.typed*10 + d
	if n < 1 || n > len(p.items) {
		n = d
	}
	if n < 1 || n > len(p.items) {
		p.typed = 0
		if d != 0 || p.zero == nil {
			m.notice = "no line has that number"
		}
		return
	}
	p.typed, p.mark = n, n-1
}

func (p *listPage) middle(m *Model, s *sheet) {
	m.cautionFirst(s, p.caution, p.below(m, s.w))
	s.say(must, Act, upper(p.title))
	for _, l := range p.lead {
		s.say(must, l.role, l.text)
	}
	var ls []string
	at := 0
	for i, it := range p.items {
		mark, role := "  ", it.role
		if i == p.mark {
			mark, role = "> ", Act
			at = len(ls)
		}
		num := PadLeft(itoa(i+1), 2)
		for _, l := range WrapHung(mark+num+"  ", m.t.Say(it.words), s.w) {
			ls = append(ls, m.t.Paint(role, l))
		}
	}
	var z []string
	if p.zero != nil {
		z = append(z, m.t.Paint(Text, m.t.Say("   0  "+p.zero.words)))
	}
	tail := &sheet{t: m.t, w: s.w}
	for _, l := range p.tail {
		tail.say(must, l.role, l.text)
	}
	room := m.room() - s.height() - len(z) - tail.height()
	if len(ls) < room {
		s.put(must, "")
		room--
	}
	s.put(must, window(ls, at, max(room, 3))...)
	s.put(must, z...)
	if p.tail != nil && len(ls) < room {
		s.put(must, "")
	}
	s.parts = append(s.parts, tail.parts...)
}

// below is how many lines stand under the caution.
func (p *listPage) below(m *Model, w int) int {
	n := 1
	for _, l := range p.lead {
		n += len(Wrap(m.t.Say(l.text), w))
	}
	for _, it := range p.items {
		n += len(WrapHung("     ", m.t.Say(it.words), w))
	}
	if p.zero != nil {
		n++
	}
	for _, l := range p.tail {
		n += len(Wrap(m.t.Say(l.text), w))
	}
	return n
}

// cautionFirst is what comes before all else on a page: the act it begins with in tall letters where
// they leave so many lines, the whole of it always.
func (m *Model) cautionFirst(s *sheet, text string, leave int) {
	if text == "" {
		return
	}
	lines := WrapHung(" CAUTION  ", m.t.Say(text), s.w-1)
	for _, head := range urgent(text) {
		if m.tall(s, big, head, m.room()-leave-len(lines)) {
			break
		}
	}
	for i := range lines {
		lines[i] = m.t.Paint(Banner, Pad(lines[i], s.w))
	}
	s.put(must, lines...)
}

// urgent are the beginnings of a caution that can stand alone, the longest first: an act, never the clause that
// says when.
func urgent(text string) []string {
	first := firstSentence(text)
	out := []string{first}
	if _, act, ok := strings.Cut(first, ": "); ok {
		out = append(out, act)
		first = act
	}
	if i := strings.Index(first, ", "); i > 0 {
		out = append(out, first[:i])
	}
	if strings.HasPrefix(first, "E-STOP or ") {
		out = append(out, "E-STOP")
	}
	return out
}

// textPage is text to read, longer than the screen if need be.
type textPage struct {
	title string
	lines func(m *Model, w int) []string
	from  int
}

func (p *textPage) focus(*Model) Focus { return Focus{Place: Lists} }

func (p *textPage) words(*Model) map[Intent]string {
	return map[Intent]string{Close: "close", Open: "-", Choose: "-", PageDown: "more", Far: "-", Picture: "-", Again: "-", Quit: "-"}
}

func (p *textPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	switch in {
	case Up, Prev:
		p.from--
	case Down, Next:
		p.from++
	case PageUp:
		p.from -= 10
	case PageDown, Open:
		p.from += 10
	case Home:
		p.from = 0
	case End:
		p.from = 1 << 20
	case Choose, Insert:
	case Help:
		m.pop()
	default:
		return nil, false
	}
	p.from = max(p.from, 0)
	return nil, true
}

func (p *textPage) middle(m *Model, s *sheet) {
	ls := p.lines(m, s.w)
	h := max(m.room()-1, 3)
	p.from = min(p.from, max(len(ls)-h, 0))
	where := ""
	if len(ls) > h {
		where = "lines " + itoa(p.from+1) + " to " + itoa(min(p.from+h, len(ls))) + " of " + itoa(len(ls))
	}
	s.put(must, m.heading(s.w, upper(p.title), where))
	s.put(must, port(ls, s.w, h, p.from)...)
}
