package tui

import (
	"slices"
	"strings"
	"time"

	"fliptrue/calc/sent"

	tea "github.com/charmbracelet/bubbletea"
)

// Arrival is one thing that came on a feed of the machine card.
type Arrival struct {
	From    string // which feed: axes, dial, calliper or micrometer
	Numbers []sent.Number
	Newest  bool   // the instrument sends all the time: only its newest counts
	Why     string // what came and is no reading, and why; without Numbers
	Gone    string // nothing can come: what, why; it stands on the screen until Back
	Back    bool   // what was gone is there again
}

// arrivedMsg are arrivals in the order in which they came.
type arrivedMsg []Arrival

const (
	waitMost  = 40              // arrivals that may wait: the most that a step reads
	calmAfter = 2 * time.Second // a flood is over when nothing came for so long
)

// arrivals are what came and is not taken.
type arrivals struct {
	waiting []waiting
	gone    map[string]string    // by feed: why nothing can come
	flood   map[string]time.Time // by feed that sends too much: when it last did
	acts    map[string]time.Time // by form: since when its act is asked for
	at      map[string]string    // by address: when what stands there arrived
}

// waiting is an arrival, and where the walk stood when it came.
type waiting struct {
	Arrival
	at    time.Time
	place string
}

// listen waits for what arrives.
func (m *Model) listen() tea.Cmd {
	ch := m.o.Feed
	if ch == nil {
		return nil
	}
	return func() tea.Msg {
		a, ok := <-ch
		if !ok {
			return nil
		}
		msg := arrivedMsg{a}
		for len(msg) < 4*waitMost {
			select {
			case a, ok := <-ch:
				if !ok {
					return msg
				}
				msg = append(msg, a)
				continue
			default:
			}
			break
		}
		return msg
	}
}

// round is the place of the walk to which an arrival belongs: another round, another step
// and it belongs to nothing.
func (m *Model) round() string {
	c := m.st.Cursor
	return m.st.Setup + "/" + string(c.Step) + "/" + itoa(c.Round)
}

// arrived takes in what came. None of it is a reading before its Enter.
func (m *Model) arrived(as []Arrival) {
	f := &m.feed
	if f.gone == nil {
		*f = arrivals{gone: map[string]string{}, flood: map[string]time.Time{}, acts: map[string]time.Time{}, at: map[string]string{}}
	}
	for _, a := range as {
		switch last, flood := f.flood[a.From]; {
		case a.Back:
			delete(f.gone, a.From)
			m.notice = "the " + a.From + " feed is there again"
		case a.Gone != "":
			f.gone[a.From] = a.Gone
		case flood && m.now.Sub(last) < calmAfter:
			f.flood[a.From] = m.now
		case a.Why != "":
			m.lastKey = m.now
			m.notice = "arrived and not understood: " + a.Why
		default:
			delete(f.flood, a.From)
			m.lastKey = m.now
			if a.Newest {
				f.waiting = slices.DeleteFunc(f.waiting, func(w waiting) bool { return w.From == a.From })
			}
			f.waiting = append(f.waiting, waiting{a, m.now, m.round()})
			if len(f.waiting) > waitMost {
				m.flooded(a.From)
			}
		}
	}
	m.pour()
	m.draw()
}

// flooded gives up what a feed sent: too much came for any of it to be a reading.
func (m *Model) flooded(from string) {
	m.feed.flood[from] = m.now
	m.feed.waiting = slices.DeleteFunc(m.feed.waiting, func(w waiting) bool { return w.From == from })
	for at := range m.feed.at {
		if m.offered[at].text == m.entries[at].Text() {
			delete(m.entries, at)
			delete(m.offered, at)
		}
	}
	clear(m.feed.at)
}

// feedBanners are what stands in the way of arrivals.
func (m *Model) feedBanners() []string {
	var out []string
	for from, why := range m.feed.gone {
		out = append(out, "FEED "+from+": "+why+". Type the readings meanwhile")
	}
	for from := range m.feed.flood {
		out = append(out, "FEED "+from+": more than "+itoa(waitMost)+
			" lines waited, none of them is kept. It is heard again once it was still for two seconds")
	}
	slices.Sort(out)
	return out
}

// pour puts what waits into the fields that are asked, as far as they are free, and drops
// what belongs to none.
func (m *Model) pour() {
	for len(m.feed.waiting) > 0 && !m.writing && !m.folding {
		w, ok := m.base.(*walkPage)
		first := m.feed.waiting[0]
		switch {
		case first.place != m.round() || !ok:
			m.leaveOut(first, "nothing is read here")
			continue
		case len(m.over) > 0 && m.focus().Place != Lists:
			m.leaveOut(first, "something else was asked")
			continue
		case len(m.over) > 0 || w.far != nil:
			return // something else is looked at: it waits
		case w.doing(m):
			since, asked := m.feed.acts[w.key(m)]
			if !asked {
				since, m.feed.acts[w.key(m)] = m.now, m.now
			}
			if first.at.Before(since) {
				m.leaveOut(first, "it came before what is to be done now")
				continue
			}
			return
		}
		if m.holds(w) && !first.Newest {
			return // what arrived before is not taken yet
		}
		if why := w.receive(m, first); why != "" {
			m.leaveOut(first, why)
			continue
		}
		m.feed.waiting = m.feed.waiting[1:]
	}
}

// leaveOut says what arrived and is not kept.
func (m *Model) leaveOut(w waiting, why string) {
	m.feed.waiting = m.feed.waiting[1:]
	m.notice = "arrived and not kept: " + numbersText(w.Numbers) + ": " + why
}

func numbersText(ns []sent.Number) string {
	var out []string
	for _, n := range ns {
		out = append(out, upper(n.Axis)+n.Text)
	}
	return strings.Join(out, " ")
}
