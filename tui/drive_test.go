package tui

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// screen drives a Model without a terminal: keys in, frames out. Every command
// runs to its end before the next key, timers excepted.
type screen struct {
	t      *testing.T
	m      *Model
	o      Options
	now    time.Time
	w, h   int
	saved  []jobs.Event // what the disk holds
	broken error        // the next write fails with it
	quit   bool
	world  *bench.World
	quiet  bool // frames on the way are not held against the rules: TestEveryPage does that
}

var noon = time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)

// lid is the plan of the practice job in a hold-down plan, or in inches.
func lid(t testing.TB, hold string) *fold.Plan {
	t.Helper()
	j, err := builtin.Job(hold)
	if err != nil {
		t.Fatal(err)
	}
	j.Fixture.Material = "aluminium-6061-t6" // no damp moves it: a walk without a level reads one bore
	p, err := steps.NewPlan(j, "side2", nil)
	if err != nil {
		t.Fatal(err)
	}
	return posted(t, p, hold)
}

// plan is that of a job among the examples of the reader, without programs.
func plan(t testing.TB, file string) *fold.Plan {
	t.Helper()
	j, fs := jobs.ReadJob(jobs.OS(), filepath.Join("..", "jobs", "testdata", file))
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	p, err := steps.NewPlan(j, "side2", nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// posted is a plan with the programs of the practice job beside it.
func posted(t testing.TB, p *fold.Plan, hold string) *fold.Plan {
	t.Helper()
	files, err := builtin.Texts(hold)
	if err != nil {
		t.Fatal(err)
	}
	ps := map[string]fold.ProgramFile{}
	for _, g := range p.Setup.Programs {
		if text, ok := files[g.File]; ok {
			ps[g.Role] = fold.ProgramFile{Name: g.File, Hash: "0", Data: []byte(text)}
		}
	}
	return p.WithPrograms(ps)
}

// begin opens the screen of a plan after some events.
func begin(t *testing.T, p *fold.Plan, w, h int, es ...jobs.Event) *screen {
	t.Helper()
	s := &screen{t: t, now: noon, w: w, h: h}
	s.o = Options{Look: Look{Colour: Off}, Now: func() time.Time { return s.now }, Plan: p, Log: steps.NewLog(), Save: s.save}
	begin := fold.Begin(p.Setup.Name, nil, "")
	begin.At = noon
	s.saved = append(s.saved, begin)
	s.saved = append(s.saved, es...)
	return s.restart()
}

// practice is begin with a bench.
func practice(t *testing.T, p *fold.Plan, w, h int) *screen {
	t.Helper()
	s := begin(t, p, w, h)
	s.world = bench.NewWorld(p, 1, bench.Usual(p))
	s.o.Bench = s.world
	return s.restart()
}

// restart opens the screen anew on what the disk holds.
func (s *screen) restart() *screen {
	s.t.Helper()
	s.o.Log = steps.NewLog()
	for _, e := range s.saved {
		s.o.Log.Apply(e)
	}
	s.m = New(s.o)
	s.m.tick = func(d time.Duration, msg tea.Msg) tea.Cmd {
		if _, held := msg.(HeldMsg); !held {
			return nil // the idle clock is woken by Wait
		}
		return func() tea.Msg { return msg }
	}
	s.send(tea.WindowSizeMsg{Width: s.w, Height: s.h})
	s.now = s.now.Add(time.Second)
	return s
}

func (s *screen) save(es []jobs.Event) error {
	if err := s.broken; err != nil {
		s.broken = nil
		return err
	}
	s.saved = append(s.saved, es...)
	return nil
}

// send is one message and all that follows from it.
func (s *screen) send(msg tea.Msg) {
	s.t.Helper()
	_, cmd := s.m.Update(msg)
	s.run(cmd)
	s.check()
}

func (s *screen) run(cmd tea.Cmd) {
	s.t.Helper()
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			s.run(c)
		}
	case tea.QuitMsg:
		s.quit = true
	case HeldMsg:
		s.now = s.now.Add(plusHold)
		s.send(msg)
	default:
		s.send(msg)
	}
}

// Press presses named keys, half a second apart.
func (s *screen) Press(names ...string) *screen {
	s.t.Helper()
	for _, n := range names {
		s.now = s.now.Add(500 * time.Millisecond)
		msg, ok := keyNamed[n]
		if !ok {
			msg = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(n)}
		}
		s.send(msg)
	}
	return s
}

var keyNamed = map[string]tea.KeyMsg{
	"enter": {Type: tea.KeyEnter}, "esc": {Type: tea.KeyEscape}, "up": {Type: tea.KeyUp}, "down": {Type: tea.KeyDown}, "left": {Type: tea.KeyLeft},
	"right": {Type: tea.KeyRight}, "backspace": {Type: tea.KeyBackspace}, "tab": {Type: tea.KeyTab}, "f1": {Type: tea.KeyF1}, "f2": {Type: tea.KeyF2},
	"f3": {Type: tea.KeyF3}, "f4": {Type: tea.KeyF4}, "f5": {Type: tea.KeyF5}, "f6": {Type: tea.KeyF6}, "f7": {Type: tea.KeyF7}, "f8": {Type: tea.KeyF8}, "f9": {Type: tea.KeyF9},
	"pgdown": {Type: tea.KeyPgDown}, "pgup": {Type: tea.KeyPgUp}, "home": {Type: tea.KeyHome}, "end": {Type: tea.KeyEnd}, "ctrl+c": {Type: tea.KeyCtrlC},
}

// Type types characters one by one.
func (s *screen) Type(text string) *screen {
	s.t.Helper()
	for _, r := range text {
		s.Press(string(r))
	}
	return s
}

func (s *screen) Enter() *screen { s.t.Helper(); return s.Press("enter") }
func (s *screen) Plus() *screen  { s.t.Helper(); return s.Press("+") }

// Paste is a bracketed paste.
func (s *screen) Paste(text string) *screen {
	s.t.Helper()
	s.now = s.now.Add(500 * time.Millisecond)
	s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text), Paste: true})
	return s
}

// Wait lets time go by and wakes the idle clock.
func (s *screen) Wait(d time.Duration) *screen {
	s.t.Helper()
	s.now = s.now.Add(d)
	s.m.timer = true
	s.send(idleMsg{})
	return s
}

// View is the frame without its escapes.
func (s *screen) View() string { return ansi.Strip(s.m.View()) }

// Sees asserts that each text is on the screen, however it is broken into lines.
func (s *screen) Sees(texts ...string) *screen {
	s.t.Helper()
	got := s.reads()
	for _, t := range texts {
		if !strings.Contains(got, joined(t)) {
			s.t.Fatalf("%q is not on the screen:\n%s", t, s.View())
		}
	}
	return s
}

// Misses asserts that none of the texts is on the screen.
func (s *screen) Misses(texts ...string) *screen {
	s.t.Helper()
	for _, t := range texts {
		if strings.Contains(s.reads(), joined(t)) {
			s.t.Fatalf("%q is on the screen:\n%s", t, s.View())
		}
	}
	return s
}

// reads is the screen as it is read: line by line, then its text without the pictures beside it.
func (s *screen) reads() string { return joined(s.View()) + " " + joined(s.m.wording()) }

// wording is what the page says without its pictures.
func (m *Model) wording() string {
	l := m.layout(len(m.banners()), len(m.foot()), len(m.said()))
	if l.Small || m.view == PictureView {
		return ""
	}
	p := m.chosen(l.Body.W, l.Body.H)
	if p.all != nil {
		return "" // nothing beside it
	}
	return ansi.Strip(strings.Join(append(append(append([]string{}, p.top...), p.text...), p.foot...), "\n"))
}

// joined is the text of a screen, its list of steps behind the page: lines follow each other.
func joined(v string) string {
	var list, page []string
	for _, l := range strings.Split(v, "\n") {
		if before, after, ok := cutList(l); ok {
			list, l = append(list, before), after
		}
		page = append(page, l)
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(append(page, list...), " "), "─", " ")), " ")
}

// cutList takes the list of steps off a line of the body.
func cutList(l string) (list, page string, ok bool) {
	rs := []rune(l)
	for _, w := range []int{32, 40} {
		if len(rs) >= listWidth && (rs[w] == '│' || rs[w] == '|') {
			return string(rs[:w]), string(rs[w+1:]), true
		}
	}
	return "", l, false
}

// check are the rules that hold for every frame.
func (s *screen) check() {
	s.t.Helper()
	if s.quit || s.quiet {
		return
	}
	if bad := broken(s.m, s.w, s.h); bad != nil {
		s.t.Fatalf("%v:\n%s", bad, s.View())
	}
}

// broken is the first rule that the model's frame does not keep.
func broken(m *Model, w, h int) error {
	v := ansi.Strip(m.View())
	lines := strings.Split(v, "\n")
	if len(lines) > h {
		return errors.New("too high: " + itoa(len(lines)) + " lines")
	}
	for _, l := range lines {
		if Width(l) > w {
			return errors.New("too wide: " + l)
		}
	}
	for _, bad := range []string{"NaN", "Inf", "%!", "<nil>"} {
		if strings.Contains(v, bad) {
			return errors.New("a number that is none: " + bad)
		}
	}
	if w < MinWidth || h < MinHeight {
		return nil
	}
	for _, b := range m.banners() {
		if !strings.Contains(v, strings.TrimRight(b, " ")) {
			return errors.New("a warning was dropped: " + b)
		}
	}
	if strings.Contains(v, "more lines") {
		return errors.New("lines are missing")
	}
	// One focus, and it is seen: the field, or the line that + or Enter would choose.
	if m.view == PictureView || m.scroll >= 0 { // looked away from by the person
		return nil
	}
	want := -1
	switch p := m.top().(type) {
	case *walkPage:
		if _, ok := p.ask(m); ok && (!p.doing(m) || m.o.Bench != nil) {
			want = 1
		}
	case *verdictPage:
		if len(p.choices) > 0 {
			want = 1
		}
	case *listPage:
		if p.mark >= 0 && !(p.top && m.long()) { // read from its top on; + has one thing to do
			want = 1
		}
	}
	if n := marked(v); want >= 0 && n != want {
		return errors.New(itoa(n) + " places have the focus")
	}
	return nil
}

// marked counts the marks of the focus: lines of the page that begin with one, and numbered
// choices besideNum another.
func marked(v string) int {
	n := 0
	for _, l := range strings.Split(v, "\n") {
		_, l, _ = cutList(l)
		if strings.HasPrefix(l, " > ") {
			n++
		} else if besideNum.MatchString(l) {
			n++
		}
	}
	return n
}

var besideNum = regexp.MustCompile(`^   \d  .*   > \d  `)

// golden compares the screen with a file; UPDATE=1 writes it.
func (s *screen) golden(name string) *screen {
	s.t.Helper()
	path := filepath.Join("testdata", name+".txt")
	var b strings.Builder
	for _, l := range strings.Split(s.View(), "\n") {
		b.WriteString(strings.TrimRight(l, " ") + "\n")
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			s.t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			s.t.Fatal(err)
		}
		return s
	}
	want, err := os.ReadFile(path)
	if err != nil {
		s.t.Fatal(err)
	}
	if w := strings.ReplaceAll(string(want), "\r\n", "\n"); w != b.String() {
		s.t.Errorf("%s: want\n%s\ngot\n%s", name, w, b.String())
	}
	return s
}

// numbered is the number of a mishap in the list of what may have happened.
func (s *screen) numbered(id fold.MishapID) string {
	return itoa(1 + slices.IndexFunc(s.m.o.Plan.Offered(), func(h fold.Mishap) bool { return h.ID == id }))
}

// state is the model's state, for assertions.
func (s *screen) state() fold.State { return s.m.State() }

// on says which page has the keys.
func (s *screen) on() string { return reflect.TypeOf(s.m.top()).Elem().Name() }
