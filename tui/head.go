package tui

import (
	"strings"

	"fliptrue/steps/fold"
)

// head is what is never hidden: job and setup at the left, and at the right what numbers
// are counted in: MACHINE or WORK while coordinates are asked, unit, offset and its Z0.
func (m *Model) head() string {
	j, s := m.o.Plan.Job, m.o.Plan.Setup
	setup := s.Name
	if s.Flip != "" {
		setup = "side 2 about " + upper(s.Flip)
		if !sideTwo(s.Name) {
			setup = s.Name + " about " + upper(s.Flip)
		}
	}
	lefts := []string{j.Name} // with more and more of what tells this part from others
	for _, part := range strings.Split(m.o.Part, ", ") {
		if part != "" {
			lefts = append(lefts, lefts[len(lefts)-1]+" · "+part)
		}
	}
	right := j.Unit.String()
	if f := m.frameOf(); f != "" {
		right = f + " " + right
	}
	if s.Offset != "" {
		right += " · " + s.Offset
		if s.Z0 != "" {
			right += " · Z0 " + s.Z0
		}
	}
	r := m.t.Say(right) + " "
	setup = m.t.Say(" · " + setup)
	left := lefts[len(lefts)-1]
	for len(lefts) > 1 && Width(m.t.Say(" "+left))+Width(setup)+Width(r)+2 > m.w {
		lefts = lefts[:len(lefts)-1]
		left = lefts[len(lefts)-1]
	}
	if l := m.st.Level; l != 0 { // how much the walk reads, where nothing else has to be cut for it
		long := setup + m.t.Say(" · "+l.String())
		if Width(m.t.Say(" "+left))+Width(long)+Width(r)+2 <= m.w {
			setup = long
		}
	}
	l := Cut(m.t.Say(" "+left), max(m.w-Width(r)-Width(setup)-2, 6)) + setup
	l = Cut(l, max(m.w-Width(r)-2, 6))
	return l + strings.Repeat(" ", max(m.w-Width(l)-Width(r), 1)) + r
}

// sideTwo says that a setup's name only repeats that it is side 2.
func sideTwo(name string) bool {
	return strings.ToLower(strings.NewReplacer(" ", "", "-", "", "_", "").Replace(name)) == "side2"
}

// frameOf is the word for what the coordinates of this moment are counted in.
func (m *Model) frameOf() string {
	p, ok := m.base.(*walkPage)
	if !ok {
		return ""
	}
	if p.doing(m) {
		for _, a := range p.acts(m) {
			if a.Do == "jog" && strings.HasPrefix(a.Of, "tool/") {
				return "WORK"
			}
		}
		return ""
	}
	a, ok := p.ask(m)
	switch {
	case ok && a.Kind == fold.Echo && !a.Blind:
		return "WORK"
	case ok && a.Kind == fold.Reading && frameWord(a.What) != "":
		return "MACHINE"
	}
	return ""
}
