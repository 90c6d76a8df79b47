package tui

import (
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
)

// desk is a screen without a setup: a numbered list with text about the marked
// line. The job list and the faults of a job are desks.
type desk struct {
	t     Theme
	km    KeyMap
	keys  Keys
	clock func() time.Time
	now   time.Time
	w, h  int

	title  string
	lead   []line
	items  []deskItem
	short  map[Intent]string
	mark   int
	typed  int
	notice string
	busy   bool // loading

	load   func() deskLoad // from the disk, in a command; nil when there is nothing to read again
	loaded func(d *desk, l deskLoad) tea.Cmd
	open   func(d *desk, i int) tea.Cmd
	back   func(d *desk) tea.Cmd // nil: leaves
}

// deskItem is one line; below is shown under it, more while it is marked.
type deskItem struct {
	shape string // a verdict's key, or ""
	words string
	below []line
	more  []line
}

type deskLoad any

type loadedMsg struct{ l deskLoad }

func newDesk(l Look, clock func() time.Time) *desk {
	if clock == nil {
		panic("tui: Now is needed")
	}
	return &desk{t: NewTheme(lipgloss.NewRenderer(output()), l), km: DefaultKeys(), clock: clock, now: clock()}
}

func (d *desk) Init() tea.Cmd { return d.reload() }

func (d *desk) reload() tea.Cmd {
	if d.load == nil || d.busy {
		return nil
	}
	d.busy = true
	load := d.load
	return func() tea.Msg { return loadedMsg{load()} }
}

func (d *desk) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	d.now = d.clock()
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		d.w, d.h = min(msg.Width, 400), min(msg.Height, 200)
	case staysMsg:
		d.notice = string(msg)
	case loadedMsg:
		d.busy = false
		return d, d.loaded(d, msg.l)
	case tea.KeyMsg:
		f := Focus{Place: Lists}
		ss, wait := d.keys.Feed(msg, d.now, f)
		cmd := d.strokes(ss, f)
		if wait > 0 {
			cmd = tea.Batch(cmd, tea.Tick(wait, func(time.Time) tea.Msg { return HeldMsg{} }))
		}
		return d, cmd
	case HeldMsg:
		f := Focus{Place: Lists}
		cmd := d.strokes(d.keys.Flush(d.now, f), f)
		if wait := d.keys.Waits(d.now); wait > 0 {
			cmd = tea.Batch(cmd, tea.Tick(wait, func(time.Time) tea.Msg { return HeldMsg{} }))
		}
		return d, cmd
	}
	return d, nil
}

func (d *desk) stroke(s Stroke, f Focus) tea.Cmd {
	d.notice = ""
	if s.Kind != Pressed {
		d.notice = s.Why
		return nil
	}
	in, why := d.km.Of(s, f)
	switch in {
	case None:
		d.notice = why
	case Up, Prev:
		d.mark, d.typed = max(d.mark-1, 0), 0
	case Down, Next:
		d.mark, d.typed = max(min(d.mark+1, len(d.items)-1), 0), 0
	case PageUp, Home:
		d.mark = 0
	case PageDown, End:
		d.mark = max(len(d.items)-1, 0)
	case Choose:
		n := d.typed*10 + int(s.Rune-'0')
		if n < 1 || n > len(d.items) {
			n = int(s.Rune - '0')
		}
		if n < 1 || n > len(d.items) {
			d.typed, d.notice = 0, "no line has that number"
			return nil
		}
		d.typed, d.mark = n, n-1
	case Open:
		if d.mark < len(d.items) {
			return d.open(d, d.mark)
		}
	case Reload:
		return d.reload()
	case Suspend:
		return tea.Suspend
	case Quit:
		return tea.Quit
	case Back, Close:
		if d.back != nil {
			return d.back(d)
		}
		return tea.Quit
	}
	return nil
}

func (d *desk) strokes(ss []Stroke, f Focus) tea.Cmd {
	var cmds []tea.Cmd
	for _, s := range ss {
		cmds = append(cmds, d.stroke(s, f))
	}
	return tea.Batch(cmds...)
}

func (d *desk) View() string {
	if d.w == 0 || d.h == 0 {
		return "..."
	}
	var keys []key.Binding
	said := map[Intent]bool{}
	for _, b := range d.km {
		if s := d.short[b.Intent]; s != "" && !said[b.Intent] && (b.In == nil || b.in(Focus{Place: Lists})) {
			said[b.Intent] = true
			k := KeyWord(b.Keys()[0])
			switch b.Intent {
			case Choose:
				k = "1-9"
			case Open:
				k = b.keys()
			case Reload:
				k = "F9 or e"
			}
			keys = append(keys, capped(d.t, k, s))
		}
	}
	note := d.notice
	if d.busy {
		note = "reading ..."
	}
	p := Parts{Head: []string{d.t.Say(" " + d.title)}, Key: keyLines(d.t, keys, max(d.w-2, 10)), Said: Wrap(d.t.Say(note), max(d.w-6, 10)),
		Status: notMachine}
	l := Arrange(Need{W: d.w, H: d.h, Keys: len(p.Key), Said: len(p.Said), View: FarView})
	if !l.Small {
		p.Body = d.body(l.Body.W, l.Body.H)
	}
	return Frame(l, p, d.t)
}

func (d *desk) body(w, h int) []string {
	s := &sheet{t: d.t, w: w - 2}
	for _, l := range d.lead {
		s.say(must, l.role, l.text)
	}
	if len(d.lead) > 0 {
		s.put(must, "")
	}
	head := s.fit(h)
	s = &sheet{t: d.t, w: w - 2}
	at := 0
	shapes := false
	for _, it := range d.items {
		shapes = shapes || it.shape != ""
	}
	for i, it := range d.items {
		mark, role := "  ", Text
		if i == d.mark {
			mark, role = "> ", Act
			at = s.height()
		}
		shape := ""
		if shapes {
			shape = "    "
		}
		if it.shape != "" {
			word, r := Verdict(it.shape)
			shape = word[:3] + " "
			if i != d.mark {
				role = r
			}
		}
		s.hang(must, role, mark+PadLeft(itoa(i+1), 2)+"  "+shape, it.words)
		for _, b := range it.below {
			s.hang(must, b.role, "      ", b.text)
		}
		if i == d.mark {
			for _, b := range it.more {
				s.hang(must, b.role, "      ", b.text)
			}
		}
	}
	out := append(head, window(s.fit(1<<20), at, h-len(head))...)
	for i := range out {
		out[i] = " " + out[i]
	}
	return out
}
