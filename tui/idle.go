package tui

import (
	"slices"
	"strings"
	"time"

	"fliptrue/steps/facts"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

const (
	idleAfter  = 3 * time.Minute // then the screen shows where the person was
	handsEvery = time.Minute     // how often the time of a hands-away step moves on
	longAlone  = time.Hour       // from then on it counts as left alone
)

// watch sets the idle timer, one at a time: nothing else runs at rest.
func (m *Model) watch() tea.Cmd {
	if m.timer || m.quit {
		return nil
	}
	m.timer = true
	return m.tick(idleAfter, idleMsg{})
}

// idle shows the idle page, moves the time of a hands-away step on, or waits for the rest.
func (m *Model) idle() tea.Cmd {
	if _, ok := m.top().(*idlePage); ok {
		return nil // until the next key
	}
	if m.pg.Hands != "" && len(m.over) == 0 {
		m.draw()
		m.timer = true
		return m.tick(handsEvery, idleMsg{})
	}
	rest := idleAfter - m.now.Sub(m.lastKey)
	if rest > 0 {
		m.timer = true
		return m.tick(rest, idleMsg{})
	}
	if m.writing {
		return m.watch()
	}
	m.push(&idlePage{since: m.lastKey})
	return nil
}

// idlePage shows where the person was, what comes next, and one thing to re-verify.
type idlePage struct{ since time.Time }

func (p *idlePage) focus(*Model) Focus { return Focus{Place: Asks} }
func (p *idlePage) words(*Model) map[Intent]string {
	return map[Intent]string{Answer: "go on", Choose: "-", Back: "-"}
}

func (p *idlePage) act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) {
	switch in {
	case Answer, Close:
		m.pop()
		return nil, true
	case Happened, Quit, Help, Suspend, Far:
		return nil, false
	case NotEnter:
		return nil, false
	}
	m.notice = "+ goes on from here"
	return nil, true
}

func (p *idlePage) middle(m *Model, s *sheet) {
	s.put(must, m.heading(s.w, "WHERE YOU WERE", "since "+clockTime(p.since)))
	s.gap()
	last, what := m.lastDone()
	if last != "" {
		s.hang(must, Text, "done    ", last)
	}
	s.hang(must, Act, "next    ", what)
	s.gap()
	if m.pg.Reached != "" {
		s.say(must, Caution, "Look again: "+m.pg.Reached)
	} else {
		s.say(must, Caution, "Look again: is everything as it was left, and the spindle stopped?")
	}
	s.gap()
	s.say(must, KeyName, "+ goes on   * something happened")
}

// lastDone tells the last thing taken and the next thing asked.
func (m *Model) lastDone() (last, next string) {
	c := m.st.Cursor
	var newest fold.Taken
	for _, ss := range m.st.Steps {
		if ss.Round == nil {
			continue
		}
		for _, t := range ss.Round.Taken {
			if t.Seq >= newest.Seq {
				newest = t
				last = ss.Title + ": " + takenWords(&ss, t) + "  " + t.Short()
			}
		}
	}
	switch {
	case m.st.Ready:
		next = "the release itself"
	case c.Idle:
		next = "nothing: the setup is done"
	case c.Decide:
		next = strings.ToLower(m.stepTitle(c.Step)) + " does not pass: decide"
	default:
		next = strings.ToLower(m.stepTitle(c.Step))
		if a, ok := m.st.Ask(c.Field); ok {
			next += ": " + a.Label
			if ws := sayWords(a.Do); len(ws) > 0 {
				next = strings.Join(ws, " ")
			}
		}
	}
	return last, next
}

// resumes says that something was taken before this start.
func (m *Model) resumes() bool {
	if m.st.Released && m.st.Cursor.Idle {
		return false
	}
	for _, ss := range m.st.Steps {
		for _, r := range ss.Rounds {
			if r.First > 0 {
				return true
			}
		}
	}
	return slices.ContainsFunc(m.st.Mishaps, func(h fold.Happened) bool { return h.ID != facts.Mounting.Mishap })
}

// newFirst says what holds for the whole of this walk, before anything is asked.
func newFirst(text string) *listPage {
	return &listPage{title: "before you go on", asks: true, mark: 0, plus: "do that", lead: []line{{Caution, text}},
		items: []item{{words: "go on", do: func(m *Model) tea.Cmd { m.pop(); return nil }},
			{words: "leave", do: func(m *Model) tea.Cmd { m.quit = true; return tea.Quit }}}}
}

// newResume tells where it stopped and asks what the machine did meanwhile.
func newResume(m *Model) *listPage {
	p := &listPage{title: "going on", asks: true, mark: -1}
	c := m.st.Cursor
	where := strings.ToLower(m.stepTitle(c.Step))
	if w, ok := m.base.(*walkPage); ok {
		if ss, ok := m.st.Step(c.Step); ok {
			if pr := w.progress(m, ss); pr != "" {
				where += ", " + pr
			}
		}
	}
	away := m.now.Sub(m.st.LastAt)
	if where == "" {
		where = "the release"
	}
	p.lead = []line{{Act, "Stopped at: " + where + ", " + ago(away) + "."}}
	last, next := m.lastDone()
	if last != "" {
		p.lead = append(p.lead, line{Text, "Last taken: " + last})
	}
	p.lead = append(p.lead, line{Text, "Next: " + next})
	if away >= longAlone {
		p.lead = append(p.lead, line{Caution, "More than an hour: clamps creep and temperatures move. That counts as left alone."})
	}
	p.lead = append(p.lead, line{Act, "What did the machine do meanwhile?"})
	add := func(words string, id fold.MishapID) {
		for _, h := range facts.Offered() {
			if h.ID == id {
				p.items = append(p.items, item{words: words, do: func(m *Model) tea.Cmd { m.push(newMishap(m, h)); return nil }})
			}
		}
	}
	p.items = append(p.items, item{words: "nothing: it stood here, powered, untouched", do: func(m *Model) tea.Cmd { m.pop(); return nil }})
	add("power was lost at the machine", "power-lost")
	add("it was left alone for over an hour", "left-alone")
	add("it was homed again", "rehomed")
	p.items = append(p.items, item{words: "something else", do: func(m *Model) tea.Cmd { m.push(newHappened(m)); return nil }})
	p.tail = []line{{Dim, "First the number, then +."}}
	return p
}
