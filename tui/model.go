package tui

import (
	"slices"
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
)

// page is what has the keys and the middle of the screen. A page under another
// keeps its state; exactly one has the focus.
type page interface {
	focus(m *Model) Focus                              // Shown is filled in by the model
	act(m *Model, in Intent, s Stroke) (tea.Cmd, bool) // false: it is not the page's
	middle(m *Model, s *sheet)
	words(m *Model) map[Intent]string // short words at the foot of the page, over the key map's; "-" hides one
}

// Model is the screen of one setup. It is not safe for use by several programs.
type Model struct {
	o    Options
	t    Theme
	km   KeyMap
	keys Keys

	w, h    int
	view    View
	picture int // which of the pictures, in PictureView

	st      steps.State
	pg      steps.Page // of the step shown
	ahead   int        // readings and answers left before next
	next    *steps.Pause
	base    page
	over    []page // on top of base, the last one has the keys
	shownAt time.Time
	now     time.Time // of the message in hand
	shown   string    // the frame before
	still   bool      // it still is what is to be seen

	notice  string   // one line, gone with the next key
	trouble string   // a write that failed: stays until one succeeds
	amiss   []string // what Options.Standing says

	entries map[string]Entry   // what is typed, by address: no page change loses it
	offered map[string]offered // what was filled in and not typed, by address
	feed    arrivals           // what arrived and is not taken
	did     map[string]bool    // acts done, by the address of the form's first field
	redo    []string           // fields to take again, in order
	just    steps.StepID       // a step that has just passed and was not looked at
	saw     bool               // the release was looked at

	writing bool
	folding bool         // written, and what it means is being worked out
	hurry   bool         // Ctrl-C was pressed while writing
	events  []jobs.Event // being written
	done    func(*Model) // when they are on the disk
	later   []batch      // to be written when what is written now has been worked out
	strokes []Stroke     // came while writing
	waiting []keyAt

	stray   time.Time // of the last letter that was refused
	blind   int       // keys that came while nothing could be seen
	sight   time.Time // since when there is something to see again
	lastKey time.Time
	timer   bool
	tick    func(d time.Duration, msg tea.Msg) tea.Cmd // the one way to set a timer; a test has its own
	quit    bool

	kept    *filling // how text and pictures share the body, while page and size stay
	keptFor planKey
	sheets  map[[4]int]*sheet // while it is chosen
	high    int               // lines of the body, while it is filled

	scroll   int     // lines of the middle above the screen, where it is too long; -1: as the page needs
	pictures []drawn // cached: drawn when state or size change
	drawnFor string  // the field that they were drawn for
}

// offered is a text that somebody else put into a field; edited, it is the person's.
type offered struct{ text, by string }

// batch is events that are written together.
type batch struct {
	es   []jobs.Event
	done func(*Model)
}

type keyAt struct {
	m  tea.KeyMsg
	at time.Time
}

// strayFor is how long after a refused letter another one is taken for more of the same
// word, and not for a key of its own.
const strayFor = time.Second

type savedMsg struct {
	err   error
	amiss []string
}

// foldedMsg is what the events on the disk mean.
type foldedMsg struct{ st steps.State }

// slowMsg says that working it out takes long.
type slowMsg struct{}

type idleMsg struct{}

// New is the screen of the plan's setup. It panics when Plan, Log, Save or Now is
// missing, or the setup is not begun in the log.
func New(o Options) *Model {
	if o.Plan == nil || o.Log == nil || o.Save == nil || o.Now == nil {
		panic("tui: Plan, Log, Save and Now are needed")
	}
	m := &Model{o: o, km: DefaultKeys(), entries: map[string]Entry{}, offered: map[string]offered{}, did: map[string]bool{},
		tick: func(d time.Duration, msg tea.Msg) tea.Cmd { return tea.Tick(d, func(time.Time) tea.Msg { return msg }) }}
	m.t = NewTheme(lipgloss.NewRenderer(output()), o.Look)
	m.now = o.Now()
	m.lastKey = m.now
	m.refresh()
	if !m.st.Begun {
		panic("tui: the setup is not begun")
	}
	if m.resumes() {
		m.push(newResume(m))
	}
	if o.First != "" {
		m.push(newFirst(o.First))
	}
	m.notice = strings.Join(o.Notices, "; ")
	if o.Standing != nil {
		m.amiss = o.Standing()
	}
	return m
}

// Init starts the idle clock.
func (m *Model) Init() tea.Cmd { return tea.Batch(m.watch(), m.listen()) }

// State is what the events so far mean.
func (m *Model) State() steps.State { return m.st }

// Update handles one message.
func (m *Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	m.now, m.still = m.o.Now(), false
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.resized(min(msg.Width, 400), min(msg.Height, 200))
		m.draw()
		return m, nil
	case tea.KeyMsg:
		m.lastKey = m.now
		said := m.notice
		cmd := m.key(keyAt{msg, m.now})
		if m.keys.Pasting() && cmd == nil && said == m.notice { // thousands of keys that change nothing yet
			m.still = true
			return m, m.watch()
		}
		if m.inHand() != m.drawnFor {
			m.draw()
		}
		return m, tea.Batch(cmd, m.watch())
	case HeldMsg:
		cmd := m.strokesIn(m.keys.Flush(m.now, m.focus()))
		if wait := m.keys.Waits(m.now); wait > 0 {
			cmd = tea.Batch(cmd, m.tick(wait, HeldMsg{}))
		}
		return m, cmd
	case arrivedMsg:
		m.arrived(msg)
		return m, tea.Batch(m.listen(), m.watch())
	case savedMsg:
		m.amiss = msg.amiss
		return m, m.saved(msg.err)
	case foldedMsg:
		return m, m.folded(msg.st)
	case slowMsg:
		if m.folding && !m.works() {
			m.push(&workPage{})
		}
		return m, nil
	case staysMsg:
		m.notice = string(msg)
		m.draw()
		return m, nil
	case idleMsg:
		m.timer = false
		return m, m.idle()
	case tea.ResumeMsg:
		m.lastKey = m.now
		return m, m.watch()
	}
	return m, nil
}

// key takes a key message, or keeps it until the disk has answered.
func (m *Model) key(k keyAt) tea.Cmd {
	if m.writing || m.folding && !m.works() {
		if k.m.Type == tea.KeyCtrlC && m.writing { // a disk that never answers must not hold the person
			if m.hurry {
				m.quit = true
				return tea.Quit
			}
			m.hurry = true
			m.notice = "the disk has not answered yet; Ctrl-C again leaves, and what is being written may be lost"
			return nil
		}
		if m.shut() {
			m.miss()
			return nil
		}
		if len(m.waiting) < 512 {
			m.waiting = append(m.waiting, k)
		}
		return nil
	}
	ss, wait := m.keys.Feed(k.m, k.at, m.focus())
	if m.shut() {
		ss = m.missed(ss)
	}
	cmd := m.strokesIn(ss)
	if wait > 0 {
		cmd = tea.Batch(cmd, m.tick(wait, HeldMsg{}))
	}
	return cmd
}

func (m *Model) strokesIn(ss []Stroke) tea.Cmd {
	var cmds []tea.Cmd
	for _, s := range ss {
		if m.writing || m.folding && !m.works() {
			m.strokes = append(m.strokes, s)
			continue
		}
		cmds = append(cmds, m.stroke(s))
	}
	return tea.Batch(cmds...)
}

// stroke turns one stroke into an intent and hands it to its one owner.
func (m *Model) stroke(s Stroke) tea.Cmd {
	m.notice = ""
	if m.small() { // what is asked can't be seen
		if s.Name == "ctrl+c" {
			m.quit = true
			return tea.Quit
		}
		m.miss()
		return nil
	}
	f := m.focus()
	top := m.top()
	switch s.Kind {
	case Refused:
		m.notice = s.Why
		if f.field() && s.Passed > 0 {
			if e, ok := top.(editor); ok {
				e.edit(m, func(t Entry) Entry { return t.Drop(s.Passed) })
			}
		}
		return nil
	case Pasted:
		if m.unseen() {
			return m.lookFirst()
		}
		if s.Rows {
			return m.block(s.Text, FromPaste, false)
		}
		e, ok := top.(editor)
		if !ok {
			return nil
		}
		m.notice = s.Why
		fits := true
		e.edit(m, func(t Entry) Entry { t, fits = t.Insert(s.Text); return t })
		switch {
		case !fits:
			m.notice = "too long for a field: only its first " + itoa(EntryMax) + " characters are in it"
		case s.Why == "" && f.Place == Reads:
			m.notice = "pasted into this field, not taken yet: Enter takes it"
		}
		return nil
	}
	in, why := m.km.Of(s, f)
	if in == Offer && s.Rune != 0 && s.At.Sub(m.stray) < strayFor {
		in, why = None, "not part of an entry here: "+string(s.Rune)
	}
	if in == None {
		m.notice = why
		if isLetter(s.Rune) {
			m.stray = s.At
		}
		return nil
	}
	if m.unseen() && f.Place != Lists && acts(in) {
		return m.lookFirst()
	}
	if s.Hold != "" && in == Take {
		m.notice = s.Hold
		return nil
	}
	if cmd, ok := top.act(m, in, s); ok {
		return cmd
	}
	return m.general(in)
}

// editor is a page with a field to type into.
type editor interface {
	edit(m *Model, f func(Entry) Entry)
}

// focus is where the keys go now.
func (m *Model) focus() Focus {
	f := m.top().focus(m)
	f.Shown = m.shownAt
	return f
}

func (m *Model) top() page {
	if n := len(m.over); n > 0 {
		return m.over[n-1]
	}
	return m.base
}

func (m *Model) push(p page) {
	m.over = append(m.over, p)
	m.turned()
}

func (m *Model) pop() {
	if n := len(m.over); n > 0 {
		m.over = m.over[:n-1]
	}
	m.turned()
}

// home closes all that lies on top.
func (m *Model) home() {
	m.over = nil
	m.turned()
}

// turned says that another page is shown now.
func (m *Model) turned() {
	m.shownAt = m.now
	m.scroll = -1
	if m.view == PictureView {
		m.view = Whole
	}
	m.pour()
	m.draw()
}

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
func (m *Model) folded(st steps.State) tea.Cmd {
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

// refresh makes everything anew from the log.
func (m *Model) refresh() {
	m.st = m.o.Log.State(m.o.Plan)
	m.settle()
}

// settle chooses the page that the state asks for.
func (m *Model) settle() {
	c := m.st.Cursor
	m.ahead, m.next = m.o.Log.Ahead(m.o.Plan)
	show := c.Step
	switch {
	case m.just != "":
		show = m.just
		m.base = &verdictPage{step: m.just, passed: true}
	case c.Idle && m.st.Ready:
		m.base = &readyPage{}
	case m.st.Released && !m.saw, c.Idle:
		m.base = &releasedPage{}
	case c.Decide && len(m.redo) == 0:
		m.base = newDecide(m)
	default:
		m.base = newWalk(m)
	}
	m.pg = steps.Page{}
	if show != "" {
		if pg, ok := m.o.Log.Page(m.o.Plan, show); ok && show != c.Step {
			m.pg = pg
		} else {
			m.pg = m.st.Page()
		}
	}
	m.turned()
}

// address is where a value of the current round goes in the record.
func (m *Model) address(field string) string {
	c := m.st.Cursor
	return m.st.Setup + "/" + string(c.Step) + "/" + itoa(c.Round) + "/" + field
}

// View is the frame: a pure function of state and size.
func (m *Model) View() string {
	if m.quit {
		return ""
	}
	if m.w == 0 || m.h == 0 {
		return "..."
	}
	if !m.still || m.shown == "" {
		m.shown = m.frame()
	}
	return m.shown
}
