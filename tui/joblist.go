package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// JobLine is one line of the job list: a setup of a job, or something else to begin.
type JobLine struct {
	Job, Setup string
	Standing   string   // where it stands, in words: "locating bore, 2 of 9", "RELEASED", "3 faults"
	Verdict    string   // for the shape: pass, current, waiting, fail, void, waived; "" for none
	Detail     []string // shown while it is marked
	Actions    []string // what can be done with it; with two or more Enter asks which
}

// JobsOptions is what the job list gets from outside.
type JobsOptions struct {
	Look  Look
	Now   func() time.Time
	Title string           // which folder
	Lead  []string         // above the list: with no jobs, an invitation
	List  func() []JobLine // reads the folder; called in a command, at the start and on reload
}

// Picked is what was chosen in the job list. Line and Action count from 0.
type Picked struct {
	Line   JobLine
	Index  int
	Action int
	Left   bool // nothing was chosen
}

// RunJobs shows the jobs of a folder and where each setup stands, until one is
// opened or the list is left.
func RunJobs(o JobsOptions, t Terminal) (Picked, error) {
	d, p := newJobs(o)
	err := t.show(d)
	return *p, err
}

func newJobs(o JobsOptions) (*desk, *Picked) {
	d := newDesk(o.Look, o.Now)
	p := &Picked{Left: true}
	var lines []JobLine
	d.title = o.Title
	d.short = map[Intent]string{Open: "open", Choose: "choose", Reload: "read the folder again", Help: "", Quit: "leave"}
	list := func(d *desk) { d.list(o.Lead, lines) }
	choose := func(i, action int) tea.Cmd {
		*p = Picked{Line: lines[i], Index: i, Action: action}
		return tea.Quit
	}
	top := func(d *desk, i int) tea.Cmd { return nil }
	top = func(d *desk, i int) tea.Cmd {
		l := lines[i]
		if len(l.Actions) < 2 {
			return choose(i, 0)
		}
		was := d.mark
		d.lead = []line{{Act, l.Job + "  " + l.Setup}, {Text, l.Standing}}
		d.items, d.mark, d.typed = nil, 0, 0
		for _, a := range l.Actions {
			d.items = append(d.items, deskItem{words: a})
		}
		d.open = func(d *desk, a int) tea.Cmd { return choose(i, a) }
		d.back = func(d *desk) tea.Cmd {
			d.mark, d.open = was, top
			list(d)
			return nil
		}
		return nil
	}
	d.open = top
	d.load = func() deskLoad { return o.List() }
	d.loaded = func(d *desk, l deskLoad) tea.Cmd {
		lines, _ = l.([]JobLine)
		d.open = top
		list(d)
		return nil
	}
	return d, p
}

// list shows the jobs, with nothing open.
func (d *desk) list(lead []string, lines []JobLine) {
	d.lead, d.items, d.mark, d.typed, d.back = nil, nil, min(d.mark, max(len(lines)-1, 0)), 0, nil
	for _, s := range lead {
		d.lead = append(d.lead, line{Text, s})
	}
	wide := 0
	for _, l := range lines {
		wide = max(wide, Width(l.Job+"  "+l.Setup))
	}
	for _, l := range lines {
		name := l.Job
		if l.Setup != "" {
			name += "  " + l.Setup
		}
		it := deskItem{shape: l.Verdict, words: Pad(name, min(wide, 40)) + "   " + l.Standing}
		for _, s := range l.Detail {
			it.more = append(it.more, line{Dim, s})
		}
		d.items = append(d.items, it)
	}
}
