package tui

import (
	"os"
	"strconv"

	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

func output() *os.File { return os.Stdout }

func itoa(n int) string { return strconv.Itoa(n) }

// general does what a key means on every page. While work is in hand nothing passes that
// would read the log or add to it, whichever page lies on top.
func (m *Model) general(in Intent) tea.Cmd {
	if m.works() {
		switch in {
		case Close, Back, Help, Glossary, Quit, Suspend, PageUp, PageDown:
		default:
			m.notice = oneMoment
			return nil
		}
	}
	switch in {
	case Happened:
		m.push(newHappened(m))
	case Help:
		m.push(newHelp(m))
	case Glossary:
		m.push(newGlossary(m))
	case Record:
		m.push(newReview(m, false))
	case Again:
		m.push(newRedo(m))
	case Quit:
		m.push(newQuit(m))
	case Waive:
		if !m.st.Cursor.Decide {
			m.notice = "nothing stands in the way here that could be waived"
			return nil
		}
		m.push(newWaiveList(m))
	case Undo:
		return m.undo()
	case Suspend:
		return tea.Suspend
	default:
		m.look(in)
	}
	return nil
}

// look does what a key means that changes only what is seen.
func (m *Model) look(in Intent) {
	switch in {
	case Close:
		switch {
		case len(m.over) > 0:
			m.pop()
		case m.view != Whole:
			m.view = Whole
			m.draw()
		}
	case Back:
		if len(m.over) > 0 {
			m.pop()
			return
		}
		m.push(newReview(m, true))
	case Far:
		if m.view == FarView {
			m.view = Whole
		} else {
			m.view = FarView
		}
		m.scroll = -1 // what was scrolled to is not on the other page
		m.draw()
	case Picture:
		m.nextPicture()
	case PageDown:
		m.scrollBy(1)
	case PageUp:
		m.scrollBy(-1)
	case NotEnter:
		m.notice = "Enter takes readings and answers nothing: + answers"
	case Nothing:
		m.notice = "the field is empty: nothing was taken"
	}
}

// off says why a key can't be served now.
func (m *Model) off() map[Intent]string {
	out := map[Intent]string{}
	if !m.st.Cursor.Decide {
		out[Waive] = "nothing here is to be waived"
	}
	if m.o.Bench == nil {
		out[Offer] = "only in practice"
	}
	if len(m.taken()) == 0 {
		out[Again], out[Undo] = "nothing was read in this round yet", "nothing was read in this round yet"
	}
	if len(m.pictures) == 0 {
		out[Picture] = "no picture here"
	}
	out[Reload] = "only where job files are read"
	return out
}

// stepTitle is a step's name in capitals.
func (m *Model) stepTitle(id fold.StepID) string {
	if ss, ok := m.st.Step(id); ok {
		return upper(ss.Title)
	}
	return upper(string(id))
}

// first says that everything is explained: the job is new to the person.
func (m *Model) first() bool { return m.o.Plan.Job.Pace != "known job" }

// taken are the current round's readings and answers, oldest first.
func (m *Model) taken() []fold.Taken {
	ss, ok := m.st.Step(m.st.Cursor.Step)
	if !ok || ss.Round == nil || !m.st.Cursor.Open {
		return nil
	}
	return ss.Round.Taken
}

// undo takes the last reading of the round again.
func (m *Model) undo() tea.Cmd {
	ts := m.taken()
	if len(ts) == 0 {
		m.notice = "nothing was read in this round yet; / looks at the steps before"
		return nil
	}
	m.again(ts[len(ts)-1].Field)
	return nil
}

// again asks fields of the current round once more.
func (m *Model) again(fields ...string) {
	m.redo = fields
	m.just = ""
	m.over = nil
	m.settle()
}
