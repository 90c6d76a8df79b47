package tui

import (
	"strings"

	"fliptrue/steps/fold"
)

// leg is a part of the walk that has a name of its own.
type leg struct {
	name  string
	steps []*fold.StepState
}

// legs are the steps that are part of this walk, in legs.
func (m *Model) legs() []leg {
	var out []leg
	for i := range m.st.Steps {
		ss := &m.st.Steps[i]
		if ss.Verdict == fold.NotApplicable && ss.Off {
			continue
		}
		name := ss.Leg
		if n := len(out); n == 0 || name != "" && name != out[n-1].name {
			if name == "" {
				name = "STEPS"
			}
			out = append(out, leg{name: name})
		}
		out[len(out)-1].steps = append(out[len(out)-1].steps, ss)
	}
	return out
}

// here says that a step is the one in hand.
func (m *Model) here(ss *fold.StepState) bool {
	return ss.ID == m.st.Cursor.Step && !m.st.Cursor.Idle
}

// mark is a step's standing as one character.
func (m *Model) mark(ss *fold.StepState) (string, Role) {
	v := ss.Verdict
	if m.here(ss) && m.st.Cursor.Decide {
		v = worstOf(ss.Outcome.Checks)
	}
	switch v {
	case fold.Pass:
		return "=", Pass
	case fold.Fail:
		return "!", Fail
	case fold.NotProven:
		return "?", NotProven
	case fold.Waived:
		return "w", Waived
	case fold.Void:
		return "~", Void
	case fold.Current:
		if m.here(ss) {
			return ">", Act
		}
		return ":", Waiting
	}
	return m.dot(), Waiting
}

// dot stands where something is still to come.
func (m *Model) dot() string {
	if m.t.Look.ASCII {
		return "."
	}
	return "·"
}

// rail is the whole walk in one line, so that its end is in sight.
func (m *Model) rail(w int) string {
	for _, apart := range []string{" ", ""} {
		var b strings.Builder
		for _, l := range m.legs() {
			role, marks := Dim, ""
			for _, ss := range l.steps {
				s, r := m.mark(ss)
				if m.here(ss) {
					role = Act
				}
				marks += apart + m.t.Paint(r, m.t.Say(s))
			}
			if apart == "" {
				marks = " " + marks
			}
			b.WriteString(" " + m.t.Paint(role, l.name) + marks + " ")
		}
		if s := strings.TrimRight(b.String(), " "); Width(s) <= w || apart == "" {
			return s
		}
	}
	return ""
}

// list are the steps in legs, each done one with its own number.
func (m *Model) list(w, h int) []string {
	foot := m.toPause(w)
	for _, apart := range []bool{true, false} {
		var ls []string
		at := 0
		for i, l := range m.legs() {
			if i > 0 && apart {
				ls = append(ls, "")
			}
			role := Dim
			for _, ss := range l.steps {
				if m.here(ss) {
					role = Act
				}
			}
			ls = append(ls, " "+m.t.Paint(role, l.name))
			for _, ss := range l.steps {
				if m.here(ss) {
					at = len(ls)
				}
				ls = append(ls, m.listLine(ss, w))
			}
		}
		if len(ls)+len(foot) > h && apart {
			continue
		}
		ls = window(ls, at, max(h-len(foot), 3))
		for len(ls)+len(foot) < h {
			ls = append(ls, "")
		}
		return append(ls, foot...)
	}
	return nil
}

// listLine is one step of the list.
func (m *Model) listLine(ss *fold.StepState, w int) string {
	mark, role := m.mark(ss)
	name := role
	switch {
	case m.here(ss):
		name = Act
	case ss.Verdict == fold.Pass:
		name = Text
	}
	own := m.t.Say(m.own(ss))
	if w, ok := m.base.(*walkPage); ok && w.blind(m) {
		own = "" // what is read back blind may be the number of a step
	}
	if ss.Verdict == fold.Void || ss.Verdict == fold.Current && !m.st.Cursor.Decide {
		own = ""
	}
	title := Cut(m.t.Say(ss.Title), w-5-Width(own))
	return " " + m.t.Paint(role, m.t.Say(mark)) + " " + m.t.Paint(name, title) + strings.Repeat(" ", max(w-4-Width(title)-Width(own), 1)) + own
}

// own is the number that a step is remembered by: the one that it said matters, else what
// came nearest to its limit.
func (m *Model) own(ss *fold.StepState) string {
	sys := m.o.Plan.System()
	for _, r := range ss.Outcome.Lines {
		if r.Big && r.Text == "" {
			return number(r, sys)
		}
	}
	if c := tightest(ss.Outcome.Checks); c != nil {
		return strings.Fields(c.Shown())[0]
	}
	return ""
}

// tightest is the check that came nearest to its limit, nil where nothing was measured.
func tightest(cs []fold.Check) *fold.Check {
	var best *fold.Check
	most := -1.0
	for i := range cs {
		c := &cs[i]
		if c.Count || c.Limit.Max == 0 {
			continue
		}
		r := (c.Got + c.Guard) / c.Limit.Max
		if c.Limit.Min {
			r = c.Limit.Max / max(c.Got-c.Guard, 1e-12)
		}
		if r > most {
			best, most = c, r
		}
	}
	return best
}

// toPause says how far it is to where one can stop.
func (m *Model) toPause(w int) []string {
	if m.ahead <= 0 {
		return nil
	}
	var out []string
	for _, l := range Wrap(plural(m.ahead, "reading")+" "+to(m), w-2) {
		out = append(out, " "+m.t.Paint(Text, l))
	}
	return out
}

// to says what the readings left lead to. The pause point's own words are an order, and
// are said where it stands.
func to(m *Model) string {
	if m.next == nil {
		return "to the end"
	}
	return "to the pause"
}

// standing is a step's verdict as the list of steps shows it. One step is the current one;
// a step that was left half way is begun.
func (m *Model) standing(ss *fold.StepState) (string, Role) {
	if ss.Verdict == fold.Current && ss.ID != m.st.Cursor.Step {
		return " :  begun", Waiting
	}
	return Verdict(verdictKey(ss.Verdict))
}
