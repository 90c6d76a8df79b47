package tui

import (
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// A reading outside what is expected is a question: read again, keep as typed, or what it would be without a slip.
// + answers with the marked line; Enter takes none of them. What was typed is recorded before what is taken.

// doubtWays are the lines of the question: the words, and what is taken by a line.
type doubtWay struct{ words, takes string }

const (
	lookAgain = 0
	asTyped   = 1
)

func (p *walkPage) doubtWays(m *Model) []doubtWay {
	a, typed := p.far.Ask, p.text(m).Text()
	keep := "keep " + p.far.Echo + " as typed"
	if p.readTwice(m) {
		keep = "keep " + p.far.Echo + ": it was read twice"
	}
	ways := []doubtWay{{"read it again", ""}, {keep, typed}}
	if a.Blind { // what is expected is not shown
		return ways
	}
	sys := m.o.Plan.System()
	for _, s := range p.far.Slips {
		if w := asEntered(s.Would, a, sys); len(ways) < 4 && math.Abs(s.Would-p.far.Number.Value) > 1e-9 && !among(ways, w) {
			ways = append(ways, doubtWay{"take " + w + " " + unit.UnitName(a.Unit, sys) + ": it " + s.Words, w})
		}
	}
	return ways
}

func among(ways []doubtWay, takes string) bool {
	for _, w := range ways {
		if w.takes == takes {
			return true
		}
	}
	return false
}

// readTwice says that the look before gave the same, within a tenth of how far it is off.
func (p *walkPage) readTwice(m *Model) bool {
	before, ok := m.doubted[m.address(p.far.Ask.Field)]
	w := p.far.Ask.Window
	return ok && w != nil && math.Abs(p.far.Number.Value-before) <= 0.1*math.Abs(p.far.Number.Value-w.Want)
}

// doubts asks about an entry: to be read again, unless that was just done.
func (p *walkPage) doubts(m *Model, e fold.Entry) {
	p.far, p.mark = &e, lookAgain
	if p.readTwice(m) {
		p.mark = asTyped
	}
	m.turned()
}

// actDoubt is what a key means while it is asked.
func (p *walkPage) actDoubt(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	ways := p.doubtWays(m)
	switch in {
	case Answer:
		return p.decide(m, ways), true
	case Choose:
		if n := int(s.Rune - '1'); n >= 0 && n < len(ways) {
			p.mark = n
		}
	case Up, Prev:
		p.mark = max(p.mark-1, 0)
	case Down, Next:
		p.mark = min(p.mark+1, len(ways)-1)
	case Back, Close, Erase, Left:
		p.lookAgain(m)
	case NotEnter, Happened, Help, Glossary, Quit, Suspend, Far:
		return nil, false
	}
	return nil, true
}

// lookAgain goes back to the field, what was typed still in it.
func (p *walkPage) lookAgain(m *Model) {
	if m.o.Bench != nil {
		m.o.Bench.Correct(p.far.Ask)
	}
	p.far = nil
	m.turned()
}

// decide answers with the marked line.
func (p *walkPage) decide(m *Model, ways []doubtWay) tea.Cmd {
	field := p.far.Ask.Field
	switch at := m.address(field); p.mark {
	case lookAgain:
		m.doubted[at] = p.far.Number.Value
		p.lookAgain(m)
		p.edit(m, Entry.Clear)
		return nil
	case asTyped:
		delete(m.doubted, at)
		return p.take(m, p.by)
	}
	es, err := m.st.Take(p.by, [2]string{field, p.text(m).Text()}, [2]string{field, ways[p.mark].takes})
	return m.save(es, err, func(m *Model) { m.retaken(field) })
}

// doubt shows the question.
func (p *walkPage) doubt(m *Model, s *sheet) {
	s.say(must, Caution, "Outside what is expected: "+p.far.Echo)
	if len(p.far.Slips) == 0 {
		s.say(must, Text, "No known slip explains it.")
	}
	s.say(must, KeyName, "What holds?  + answers with the marked line")
	for i, w := range p.doubtWays(m) {
		mark, role := "  ", Text
		if i == p.mark {
			mark, role = "> ", Act
		}
		s.hang(must, role, "  "+mark+itoa(i+1)+"  ", w.words)
	}
}
