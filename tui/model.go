package tui

import (
	"strings"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/fold"

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

	st      fold.State
	pg      fold.Page // of the step shown
	ahead   int       // readings and answers left before next
	next    *fold.Pause
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
	doubted map[string]float64 // what was outside its window and is read again, by address
	feed    arrivals           // what arrived and is not taken
	did     map[string]bool    // acts done, by the address of the form's first field
	redo    []string           // fields to take again, in order
	just    fold.StepID        // a step that has just passed and was not looked at
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

type idleMsg struct{}

// New is the screen of the plan's setup. It panics when Plan, Log, Save or Now is
// missing, or the setup is not begun in the log.
func New(o Options) *Model {
	if o.Plan == nil || o.Log == nil || o.Save == nil || o.Now == nil {
		panic("tui: Plan, Log, Save and Now are needed")
	}
	m := &Model{o: o, km: DefaultKeys(), entries: map[string]Entry{}, offered: map[string]offered{}, did: map[string]bool{},
		doubted: map[string]float64{},
		tick:    func(d time.Duration, msg tea.Msg) tea.Cmd { return tea.Tick(d, func(time.Time) tea.Msg { return msg }) }}
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
func (m *Model) Init() tea.Cmd { return tea.Batch(m.settling(), m.watch(), m.listen()) }

// settling does beside the screen what Save has to wait for.
func (m *Model) settling() tea.Cmd {
	if m.o.Settle == nil {
		return nil
	}
	return func() tea.Msg {
		if m.o.Settle() != nil {
			return tea.QuitMsg{}
		}
		return nil
	}
}

// State is what the events so far mean.
func (m *Model) State() fold.State { return m.st }

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
	m.pg = fold.Page{}
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
