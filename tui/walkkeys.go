package tui

import (
	"slices"

	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

func (p *walkPage) focus(m *Model) Focus {
	a, ok := p.ask(m)
	if !ok || p.far != nil || p.doing(m) {
		return Focus{Place: Asks}
	}
	switch a.Kind {
	case fold.Reading:
		return Focus{Place: Reads, Text: p.text(m).Text()}
	case fold.Count, fold.Echo:
		return Focus{Place: Answers, Text: p.text(m).Text()}
	case fold.Text:
		return Focus{Place: Words, Text: p.text(m).Text()}
	}
	return Focus{Place: Asks}
}

func (p *walkPage) words(m *Model) map[Intent]string {
	a, ok := p.ask(m)
	w := map[Intent]string{}
	switch {
	case !ok:
		w[Answer] = "-"
	case p.far != nil:
		w[Answer], w[Choose], w[Back], w[Erase] = "answers", "choose", "correct it", "-"
	case p.doing(m):
		w[Answer] = "done"
		if m.o.Bench != nil {
			w[Answer], w[Choose] = "answers", "choose"
		}
	case a.Kind == fold.Choice:
		w[Choose] = "choose"
		if m.o.Bench != nil && p.text(m).Empty() {
			w[Answer] = "reads the bench"
		}
	case p.text(m).Empty(): // the key that will end this entry is named before it is begun
		in, does := Insert, "answers, once it is typed"
		if a.Kind == fold.Reading {
			in, does = Nothing, "takes it, once it is typed"
		}
		if m.o.Bench != nil {
			does = "reads the bench"
		}
		w[in] = does
	}
	return w
}

func (p *walkPage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	if p.far != nil {
		return p.actDoubt(m, in, s)
	}
	if p.doing(m) {
		return nil, p.actDoing(m, in, s)
	}
	a, ok := p.ask(m)
	if !ok {
		return nil, false
	}
	switch in {
	case Take:
		return p.reading(m, a, s), true
	case Answer:
		return p.answer(m, a), true
	}
	return nil, p.actField(m, a, in, s)
}

// actDoing is what a key means while something is to be done.
func (p *walkPage) actDoing(m *Model, in Intent, s Stroke) bool {
	switch {
	case in == Answer && p.undone && m.pg.Caution != "":
		m.push(newUndone(m, p))
	case in == Answer && p.undone:
		p.leave(m)
	case in == Answer:
		p.perform(m)
		m.turned()
	case in == Choose && s.Rune != '1' && s.Rune != '2':
	case in == Choose, in == Up, in == Down, in == Next, in == Prev:
		p.undone = m.o.Bench != nil && (s.Rune == '2' || in == Down || in == Next)
	case in == Offer:
	default:
		return false
	}
	return true
}

// actField is what a key means in a field that it does not end.
func (p *walkPage) actField(m *Model, a fold.Ask, in Intent, s Stroke) bool {
	practice := m.o.Bench != nil
	switch in {
	case Offer, Nothing:
		if practice {
			p.offer(m, a)
			return true
		}
		if in == Offer {
			m.notice = "only in practice is there a bench to read"
			return true
		}
	case Choose:
		if n := int(s.Rune - '0'); a.Kind == fold.Choice && n >= 1 && n <= len(a.Options) {
			p.edit(m, func(Entry) Entry { return NewEntry(a.Options[n-1]) })
			return true
		}
		m.notice = "type the number of one of the lines"
		return true
	case Left, Right, Up, Down, Next, Prev:
		if p.actWay(m, a, in) {
			return true
		}
	case Close:
		if len(m.redo) > 0 && m.view == Whole {
			m.redo = nil
			m.settle()
			return true
		}
	}
	if in == Insert && s.Rune == '+' && p.text(m).Empty() && practice && a.Kind != fold.Reading {
		p.offer(m, a)
		return true
	}
	if e, ok := p.text(m).Do(in, s.Rune); ok && a.Kind != fold.Choice {
		p.edit(m, func(Entry) Entry { return e })
		return true
	}
	return false
}

// actWay goes to the next option, or to the next field.
func (p *walkPage) actWay(m *Model, a fold.Ask, in Intent) bool {
	if a.Kind == fold.Choice && (len(p.fields) == 1 || in == Left || in == Right) {
		p.turn(m, a, in == Right || in == Down || in == Next)
		return true
	}
	switch in {
	case Up, Prev:
		p.at = max(p.at-1, 0)
	case Down, Next:
		p.at = min(p.at+1, len(p.fields)-1)
	default:
		return false
	}
	return true
}

// turn moves the mark among the options of a choice.
func (p *walkPage) turn(m *Model, a fold.Ask, down bool) {
	i := slices.Index(a.Options, p.text(m).Text())
	switch {
	case down:
		i = min(i+1, len(a.Options)-1)
	default:
		i = max(i-1, 0)
	}
	p.edit(m, func(Entry) Entry { return NewEntry(a.Options[i]) })
}
