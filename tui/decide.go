package tui

import (
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
)

// newDecide is the verdict of a step that does not pass, with the ways on: as
// advised first, then one reading again, a new round, a waiver, something else.
func newDecide(m *Model) *verdictPage {
	p := &verdictPage{step: m.st.Cursor.Step}
	ss, ok := m.st.Step(p.step)
	if !ok {
		return p
	}
	a := read(ss)
	add := func(words string, do func(m *Model) tea.Cmd) { p.choices = append(p.choices, choice{words, do}) }
	if words := a.words(m, ss); words != "" {
		add(words, func(m *Model) tea.Cmd { return a.follow(m) })
	}
	if len(a.again) == 0 || a.round {
		add("read one again", func(m *Model) tea.Cmd { m.push(newRedo(m)); return nil })
	} else {
		add("read another again", func(m *Model) tea.Cmd { m.push(newRedo(m)); return nil })
	}
	if !a.round || len(a.acts) > 0 {
		add("read all again, nothing done", func(m *Model) tea.Cmd {
			es, err := m.st.Again()
			return m.save(es, err, nil)
		})
	}
	for _, c := range ss.Outcome.Checks {
		if !c.Verdict.OK() && c.Limit.Class != fold.Never {
			add("waive: "+m.limitWords(ss.Outcome.Checks, c), func(m *Model) tea.Cmd {
				p.mark = 0 // left with Esc, the mark is not on it
				m.push(newWaive(m, c))
				return nil
			})
		}
	}
	return p
}

// advice is what a step's Next asks of the person and of the record.
type advice struct {
	acts    []fold.Act // physical
	again   []string   // fields to read again
	round   bool
	declare []fold.Act
	reopen  fold.StepID
	correct []fold.Ask // answers that showed something to be put right
}

func read(ss *fold.StepState) advice {
	var a advice
	want := func(f string) {
		if !slices.Contains(a.again, f) {
			a.again = append(a.again, f)
		}
	}
	for _, n := range ss.Outcome.Next {
		switch n.Do {
		case "round":
			a.round = true
		case "again":
			for _, q := range ss.Asks {
				if q.Field == n.Of || q.Form != "" && q.Form == n.Of {
					want(q.Field)
				}
			}
		case "declare":
			a.declare = append(a.declare, n)
		case "reopen":
			a.reopen = fold.StepID(n.Of)
		default:
			a.acts = append(a.acts, n)
		}
	}
	for _, c := range ss.Outcome.Checks {
		for _, q := range ss.Asks {
			if q.Want != "" && q.Field == c.Limit.ID && !c.Verdict.OK() {
				a.correct = append(a.correct, q)
				want(q.Field)
			}
		}
	}
	if !a.round && len(a.again) == 0 && len(a.declare) == 0 && a.reopen == "" {
		a.round = true
	}
	return a
}

// words name the way on that is advised.
func (a advice) words(m *Model, ss *fold.StepState) string {
	done := ""
	if len(a.acts) > 0 || len(a.correct) > 0 || len(sayWords(ss.Outcome.Next)) > 0 {
		done = "done: "
	}
	switch {
	case len(a.declare) > 0:
		var ws []string
		for _, d := range a.declare {
			w := mishapWords(fold.MishapID(d.Of))
			if d.Dir != "" {
				w = "T" + d.Dir + ": " + w
			}
			ws = append(ws, w)
		}
		return done + "declare: " + strings.Join(ws, "; ")
	case a.reopen != "":
		return done + "back to: " + strings.ToLower(m.stepTitle(a.reopen))
	case a.tapped():
		return "tapped: read again"
	case a.round || len(a.again) == 0:
		return done + "read all again"
	}
	var labels []string
	for _, f := range a.again {
		if q, ok := m.st.Ask(f); ok {
			if l := group(q.Label); !slices.Contains(labels, l) {
				labels = append(labels, l)
			}
		}
	}
	if a.looked(m) {
		return done + "look again at " + strings.Join(labels, "; ")
	}
	return done + "read again " + strings.Join(labels, "; ")
}

// tapped says that what is advised is a tap.
func (a advice) tapped() bool {
	return slices.ContainsFunc(a.acts, func(n fold.Act) bool { return n.Do == "tap" })
}

// looked says that all that is to be given again is seen, not read from an instrument.
func (a advice) looked(m *Model) bool {
	for _, f := range a.again {
		if q, ok := m.st.Ask(f); !ok || q.Kind == fold.Reading || q.Kind == fold.Echo {
			return false
		}
	}
	return true
}

// group is a label without the axis at its end: X and Y of one hit are read together.
func group(label string) string {
	if i := strings.LastIndex(label, ", "); i > 0 && len(label)-i == len(", X") {
		return label[:i]
	}
	return label
}

// follow does as advised. The bench does the acts.
func (a advice) follow(m *Model) tea.Cmd {
	if b := m.o.Bench; b != nil {
		for _, q := range a.correct {
			b.Correct(q)
		}
		m.perform(a.acts)
	}
	var es []jobs.Event
	var err error
	switch {
	case len(a.declare) > 0:
		for _, d := range a.declare {
			one, e := m.st.Declare(fold.MishapID(d.Of), d.Dir)
			if es, err = append(es, one...), e; err != nil {
				break
			}
		}
		return m.save(es, err, func(m *Model) { m.push(newWayPage(m)) })
	case a.reopen != "":
		es, err = m.st.Reopen(a.reopen)
	case a.round || len(a.again) == 0:
		es, err = m.st.Again()
	default:
		m.again(a.again...)
		return nil
	}
	return m.save(es, err, nil)
}
