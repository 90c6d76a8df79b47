package tui

import (
	"slices"

	"fliptrue/jobs"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// batch is events that are written together.
type batch struct {
	es   []jobs.Event
	done func(*Model)
}

type savedMsg struct {
	err   error
	amiss []string
}

// foldedMsg is what the events on the disk mean.
type foldedMsg struct{ st fold.State }

// slowMsg says that working it out takes long.
type slowMsg struct{}

// save writes events and lets them count when they are on the disk. The time of
// each is the time of the key that made it. While others are on their way these wait:
// what happened is never lost.
func (m *Model) save(es []jobs.Event, err error, done func(*Model)) tea.Cmd {
	if err != nil {
		m.notice = err.Error()
		return nil
	}
	if len(es) == 0 {
		return nil
	}
	es = slices.Clone(es)
	for i := range es {
		es[i].At = m.now
	}
	if m.writing || m.folding {
		m.later = append(m.later, batch{es, done})
		m.notice = "it is written as soon as what was taken before is worked out"
		return nil
	}
	return m.write(batch{es, done})
}

// write sends events to the disk.
func (m *Model) write(b batch) tea.Cmd {
	es := b.es
	m.writing, m.events, m.done = true, es, b.done
	write, mine, standing := m.o.Save, slices.Clone(es), m.o.Standing
	return func() tea.Msg {
		msg := savedMsg{err: write(mine)}
		if standing != nil {
			msg.amiss = standing()
		}
		return msg
	}
}

// saved goes on after a write. On an error nothing counts and what was typed stays. What
// the events mean is worked out beside the screen: a long program may have to be followed.
func (m *Model) saved(err error) tea.Cmd {
	m.writing, m.hurry = false, false
	if err != nil {
		m.events, m.done = nil, nil
		m.trouble = "NOT WRITTEN: " + err.Error() + ". Nothing counts until it is on the disk; give it again"
		m.strokes, m.waiting, m.later = nil, nil, nil // what came behind it was meant for another field
		m.turned()
		return nil
	}
	m.trouble, m.folding = "", true
	log, plan, es := m.o.Log, m.o.Plan, m.events
	fold := func() tea.Msg {
		for _, e := range es {
			log.Apply(e)
		}
		return foldedMsg{log.State(plan)}
	}
	return tea.Batch(fold, m.tick(slow, slowMsg{}))
}

// folded goes on with what was written.
func (m *Model) folded(st fold.State) tea.Cmd {
	m.folding = false
	es, done := m.events, m.done
	m.events, m.done = nil, nil
	m.over = slices.DeleteFunc(m.over, func(p page) bool { _, ok := p.(*workPage); return ok })
	was := m.st.Cursor
	worked := false
	for _, e := range es {
		worked = worked || e.Read != "" || e.Answer != "" || e.Waive != ""
		m.forget(e.Read + e.Answer)
	}
	m.st = st
	if ss, ok := m.st.Step(was.Step); ok && worked && !was.Idle && (m.st.Cursor.Step != was.Step || m.st.Cursor.Idle) && ss.Verdict.OK() {
		m.just = was.Step
		m.redo = nil
	}
	if done != nil {
		done(m)
	}
	m.settle()
	if len(m.later) > 0 { // before any key that came behind it
		b := m.later[0]
		m.later = m.later[1:]
		return m.write(b)
	}
	ss, ks := m.strokes, m.waiting
	m.strokes, m.waiting = nil, nil
	cmds := []tea.Cmd{m.strokesIn(ss)}
	for _, k := range ks {
		cmds = append(cmds, m.key(k))
	}
	return tea.Batch(cmds...)
}

// forget empties the field of an address that is on the disk now.
func (m *Model) forget(address string) {
	if address == "" {
		return
	}
	delete(m.entries, address)
	delete(m.offered, address)
	delete(m.feed.at, address)
}
