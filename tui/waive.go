package tui

import (
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// reasons are the numbered reasons for passing over a limit.
var reasons = []string{
	"harmless for this part",
	"measured another way, and good",
	"practice or scrap part",
	"measured again before it matters",
}

// newWaiveList chooses among the limits that stand in the way.
func newWaiveList(m *Model) *listPage {
	p := &listPage{title: "waive a limit", mark: -1, lead: []line{{Text, "A waiver stands on every later page and on the report."}}}
	ss, _ := m.st.Step(m.st.Cursor.Step)
	for _, c := range ss.Outcome.Checks {
		switch {
		case c.Verdict.OK():
		case c.Limit.Class == fold.Never:
			p.items = append(p.items, item{words: m.limitWords(ss.Outcome.Checks, c) + ": can't be waived", role: Dim})
		default:
			p.items = append(p.items, item{words: m.limitWords(ss.Outcome.Checks, c) + numbersOf(m, c),
				do: func(m *Model) tea.Cmd { m.pop(); m.push(newWaive(m, c)); return nil }})
		}
	}
	return p
}

// numbersOf is what was found and the limit, for a line of a list.
func numbersOf(m *Model, c fold.Check) string {
	got, limit := measured(c, m.o.Plan.System())
	if got == "" {
		return ""
	}
	return ", " + got + " of " + limit
}

// classWords say how a limit may be waived.
func classWords(c fold.Class) string {
	switch c {
	case fold.Soft:
		return "soft: a reason is enough"
	case fold.Hard:
		return "hard: the number is typed as shown, then a reason"
	}
	return "never waived"
}

// costWords say what is taken on by waiving: what the check says of itself, and whether
// it is known to be over its limit or only not known to be within.
func costWords(c fold.Check) string {
	known := "It is past its limit: what rests on it carries the whole error."
	if c.Verdict == fold.NotProven {
		known = "It may be past its limit: that can't be said from what was read."
	}
	if c.Words == "" {
		return known
	}
	return sentence(c.Words) + " " + known
}

// waivePage waives one limit: for a hard one the number as shown, then a reason.
type waivePage struct {
	check  fold.Check
	stage  int // 0 the number, 1 the reason, 2 the reason in own words
	number Entry
	own    freeText
	mark   int
}

func newWaive(m *Model, c fold.Check) *waivePage {
	p := &waivePage{check: c, mark: -1, own: newFreeText()}
	if c.Limit.Class != fold.Hard {
		p.stage = 1
	}
	return p
}

func (p *waivePage) focus(*Model) Focus {
	switch p.stage {
	case 0:
		return Focus{Place: Answers, Text: p.number.Text()}
	case 2:
		return Focus{Place: Words, Text: p.own.Text()}
	}
	return Focus{Place: Asks}
}

func (p *waivePage) words(*Model) map[Intent]string {
	w := map[Intent]string{Close: "leave it", Again: "-", Choose: "choose"}
	switch {
	case p.stage == 0 && p.number.Empty(), p.stage == 2 && p.own.Empty():
		w[Insert] = "answers, once it is typed"
	case p.stage > 0:
		w[Answer] = "waives it"
	}
	return w
}

func (p *waivePage) edit(m *Model, f func(Entry) Entry) {
	switch p.stage {
	case 0:
		p.number = f(p.number)
	case 2:
		p.own.edit(f)
	}
}

func (p *waivePage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	switch p.stage {
	case 0:
		if in == Answer {
			if want := accepted(p.check); strings.TrimSpace(p.number.Text()) != want {
				m.notice = "type it as shown: " + want
				return nil, true
			}
			p.stage = 1
			m.turned()
			return nil, true
		}
		if e, ok := p.number.Do(in, s.Rune); ok {
			p.number = e
			return nil, true
		}
	case 1:
		switch in {
		case Up, Prev:
			p.mark = max(p.mark-1, 0)
		case Down, Next:
			p.mark = min(p.mark+1, len(reasons))
		case Choose:
			if n := int(s.Rune - '0'); n >= 1 && n <= len(reasons)+1 {
				p.mark = n - 1
			}
		case Answer:
			if p.mark < 0 {
				m.notice = "a waiver wants a reason: type its number first"
				return nil, true
			}
			if p.mark == len(reasons) {
				p.stage = 2
				m.turned()
				return nil, true
			}
			return p.waive(m, reasons[p.mark]), true
		default:
			return nil, in != Close && in != Back && in != NotEnter && in != Help && in != Quit
		}
		return nil, true
	case 2:
		if in == Answer {
			return p.waive(m, strings.TrimSpace(p.own.Text())), true
		}
		if p.own.Do(in, s.Rune) {
			return nil, true
		}
	}
	return nil, in != Close && in != Back && in != NotEnter && in != Help && in != Quit
}

func (p *waivePage) waive(m *Model, reason string) tea.Cmd {
	es, err := m.st.Waive(p.check.Limit.ID, strings.TrimSpace(p.number.Text()), reason)
	return m.save(es, err, func(m *Model) { m.home() })
}

// accepted is the number that a hard waiver repeats.
func accepted(c fold.Check) string {
	if c.Count {
		return c.Shown()
	}
	got, _ := c.Against()
	return got
}

func (p *waivePage) middle(m *Model, s *sheet) {
	c := p.check
	ss, _ := m.st.Step(m.st.Cursor.Step)
	s.say(must, Act, "WAIVE: "+m.limitWords(ss.Outcome.Checks, c))
	got, limit := measured(c, m.o.Plan.System())
	if got != "" {
		var rows []fold.Row
		row := func(label, text string) { rows = append(rows, fold.Row{Label: label, Text: text}) }
		row("measured", got)
		row("limit", limit)
		row("class", classWords(c.Limit.Class))
		s.put(must, m.table(rows, s.w)...)
	} else {
		s.say(must, Text, "class   "+classWords(c.Limit.Class))
	}
	s.hang(must, Caution, "WHAT IT COSTS  ", costWords(c))
	s.say(
		useful, Dim, "It holds until something here is read again, and ends with the setup. It stands on every later page and on the report.")
	s.gap()
	switch p.stage {
	case 0:
		s.say(must, Act, "This limit is a hard one. Type the number that is being accepted: "+accepted(c)+" "+unit.UnitName(
			c.Limit.Unit, c.Limit.System)+", then +")
		s.put(must, "  number    "+m.t.Paint(Typed, p.number.Shown()))
		f := figure{text: strings.TrimSpace(p.number.Text())}
		if f.text == "" {
			f.text = "_"
		}
		s.apart()
		m.figures(s, big, []figure{f}, m.room()-s.musts()-1)
	case 1:
		s.say(must, Act, "Why? First the number of the reason, then +")
		for i, r := range append(append([]string{}, reasons...), "in own words") {
			mark, role := "  ", Text
			if i == p.mark {
				mark, role = "> ", Act
			}
			s.hang(must, role, mark+itoa(i+1)+"  ", r)
		}
	case 2:
		s.say(must, Act, "The reason, in own words, then +")
		s.put(must, "  "+m.t.Paint(Typed, Cut(m.t.Say(p.own.Shown()), s.w-2)))
	}
}
