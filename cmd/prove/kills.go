package main

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"

	"github.com/creack/pty"
	"github.com/hinshun/vt10x"
)

// The screen does not take + for an answer while a page is younger than this, and takes keys that
// come closer together for an instrument's, and two of its entries close together for one that bounced.
const (
	settle = 330 * time.Millisecond
	bounce = 180 * time.Millisecond
	apart  = 30 * time.Millisecond
)

// terminal is the program at a pseudo-terminal.
type terminal struct {
	cmd *exec.Cmd
	tty *os.File
	vt  vt10x.Terminal
	mu  sync.Mutex
	end chan struct{}
}

func start(binary, dir string, args ...string) (*terminal, error) {
	t := &terminal{cmd: exec.Command(binary, args...), vt: vt10x.New(vt10x.WithSize(100, 40)), end: make(chan struct{})}
	t.cmd.Dir = dir
	t.cmd.Env = append(os.Environ(), "TERM=xterm", "LC_ALL=C.UTF-8")
	tty, err := pty.StartWithSize(t.cmd, &pty.Winsize{Cols: 100, Rows: 40})
	if err != nil {
		return nil, err
	}
	t.tty = tty
	go func() {
		defer close(t.end)
		buf := make([]byte, 8192)
		for {
			n, err := tty.Read(buf)
			if n > 0 {
				t.mu.Lock()
				t.vt.Write(buf[:n])
				t.mu.Unlock()
			}
			if err != nil {
				return
			}
		}
	}()
	return t, nil
}

// text is the screen without anything but letters and digits: where a line was broken makes no difference.
func (t *terminal) text() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return bare(t.vt.String())
}

func bare(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return -1
	}, s)
}

// kill ends the process at once, and waits until it is gone.
func (t *terminal) kill() {
	t.cmd.Process.Kill()
	t.cmd.Wait()
	t.tty.Close()
	<-t.end
}

// sitting is one record under attack: what was typed, what was shown to be taken, what the disk says.
type sitting struct {
	dir, binary string
	plan        *fold.Plan
	bench       *bench.Practice
	rng         *rand.Rand

	confirmed []string // "field value" in order, as the screen showed that they were taken
	flying    []string // typed, not yet seen taken
	obeyed    map[string]bool
	until     time.Time
}

const recordFile = "back.1.record.yaml"

// killed is what came of one kill.
type killed struct {
	shown, kept              int
	lost, invented, unopened string // what went wrong, "" when nothing
	torn, released           bool
}

func always(string) bool { return true }

// state reads the record as it lies there.
func (s *sitting) state() (*fold.State, []jobs.Event, jobs.Report, error) {
	es, rep, faults := jobs.ReadRecord(jobs.OS(), filepath.Join(s.dir, recordFile))
	if len(faults) > 0 {
		return nil, nil, rep, faults
	}
	st := fold.Fold(s.plan, es)
	return &st, es, rep, nil
}

// taken are the values of a record by field, in order.
func taken(es []jobs.Event) []string {
	var out []string
	for _, e := range es {
		if at := e.Read + e.Answer; at != "" {
			out = append(out, at+" "+e.Value)
		}
	}
	return out
}

// wait waits until the condition holds, or the time for the kill has come.
func (s *sitting) wait(ok func() bool) bool {
	for time.Now().Before(s.until) {
		if ok() {
			return true
		}
		time.Sleep(3 * time.Millisecond)
	}
	return false
}

func (s *sitting) pause(d time.Duration) bool {
	if left := time.Until(s.until); left < d {
		time.Sleep(max(left, 0))
		return false
	}
	time.Sleep(d)
	return true
}

// plus presses + once the page is old enough, if it is still wanted then.
func (s *sitting) plus(t *terminal, wanted func(screen string) bool) bool {
	if !s.pause(settle) {
		return false
	}
	if !wanted(t.text()) {
		return true
	}
	was, patience := t.text(), time.Now().Add(time.Second)
	t.tty.WriteString("+")
	return s.wait(func() bool { return t.text() != was || time.Now().After(patience) }) && s.pause(30*time.Millisecond)
}

// goingOn says that the screen shows the page of what is being gone on with.
func goingOn(screen string) bool { return strings.Contains(screen, "GOINGON") }

// one types whatever comes next. It is false when the time has come.
func (s *sitting) one(t *terminal) bool {
	st, es, _, err := s.state()
	if err != nil {
		return s.pause(5 * time.Millisecond)
	}
	if goingOn(t.text()) {
		return s.goOn(t)
	}
	if st.Cursor.Decide {
		return s.decide(t, st, len(es))
	}
	a, ok := st.Ask(st.Cursor.Field)
	if !ok || st.Cursor.Idle {
		return s.plus(t, always)
	}
	between := func(screen string) bool {
		return strings.Contains(screen, "Done") || !strings.Contains(screen, bare(a.Label))
	}
	if between(t.text()) {
		return s.plus(t, between)
	}
	if a.Kind == fold.Reading && strings.Contains(t.text(), bare("Enter takes it, Backspace erases it")) {
		t.tty.WriteString("\x15") // what was left half typed
		return s.pause(settle)
	}
	return s.answer(t, st, a) && s.shown(t, st, a, len(es))
}

// goOn says that nothing has happened meanwhile.
func (s *sitting) goOn(t *terminal) bool {
	if !s.pause(settle) {
		return false
	}
	if !goingOn(t.text()) {
		return true
	}
	t.tty.WriteString("1")
	return s.plus(t, goingOn)
}

// decide does what the step advises, once, and opens it again.
func (s *sitting) decide(t *terminal, st *fold.State, events int) bool {
	key := fmt.Sprint(st.Cursor.Step, st.Cursor.Round, events)
	if ss, ok := st.Step(st.Cursor.Step); ok && !s.obeyed[key] {
		s.obeyed[key] = true
		if _, err := s.bench.Obey(ss); err != nil {
			return false
		}
	}
	return s.plus(t, func(string) bool { now, _, _, err := s.state(); return err == nil && now.Cursor.Decide })
}

// answer types a reading, or a form as a whole: + goes from field to field, the last one writes all of it.
func (s *sitting) answer(t *terminal, st *fold.State, a fold.Ask) bool {
	form := []string{a.Field}
	if a.Kind != fold.Reading && len(st.Cursor.Form) > 1 {
		form = st.Cursor.Form
	}
	for i, field := range form {
		b, ok := st.Ask(field)
		if !ok {
			return false
		}
		v, err := s.bench.Offer(st, b)
		if err != nil {
			return false
		}
		v = strings.ReplaceAll(v, "·", "") // no key of a keyboard
		s.flying = append(s.flying, fmt.Sprintf("%s/%s/%d/%s %s", st.Setup, st.Cursor.Step, max(st.Cursor.Round, 1), field, v))
		if b.Kind == fold.Reading {
			if !s.pause(bounce) {
				return false
			}
			t.tty.WriteString(v + "\r") // as a gauge sends it
			return true
		}
		if i := slices.Index(b.Options, v); i >= 0 {
			v = fmt.Sprint(i + 1)
		}
		if i == 0 && !s.pause(settle) {
			return false
		}
		for _, r := range v {
			t.tty.WriteString(string(r))
			if !s.pause(apart) {
				return false
			}
		}
		if !s.plus(t, always) {
			return false
		}
	}
	return true
}

// shown waits until the next thing is shown, after what was typed at a: what is on the disk is one thing, what the person was shown
// is what must never be lost. Before it there were so many events.
func (s *sitting) shown(t *terminal, st *fold.State, a fold.Ask, events int) bool {
	grown := func() bool { _, es, _, err := s.state(); return err == nil && len(es) > events }
	patience := time.Now().Add(time.Second)
	if !s.wait(func() bool { return grown() || time.Now().After(patience) }) {
		return false
	}
	if !grown() {
		return true // it was refused: look again what is on the screen
	}
	next, es, _, err := s.state()
	if err != nil {
		return false
	}
	shown := "goon" // the page of a step that is done
	if b, ok := next.Ask(next.Cursor.Field); ok && next.Cursor.Step == st.Cursor.Step && b.Label != a.Label {
		shown = bare(b.Label)
	}
	patience = time.Now().Add(time.Second)
	seen := s.wait(func() bool {
		screen := t.text()
		return time.Now().After(patience) || strings.Contains(screen, shown) || strings.Contains(screen, "dothat") ||
			!strings.Contains(screen, bare(a.Label))
	})
	if seen && time.Now().Before(patience) {
		// All that the record held when the next thing was shown is confirmed.
		s.confirmed, s.flying = taken(es), nil
	}
	return seen
}

// round starts the program, types for a while, kills it, and looks at what is left.
func (s *sitting) round(patience time.Duration) (killed, error) {
	var k killed
	args := []string{"open", "back.job.yaml"}
	t, err := start(s.binary, s.dir, args...)
	if err != nil {
		return k, err
	}
	s.until = time.Now().Add(patience)
	s.wait(func() bool { return strings.Contains(t.text(), "barometerback") })
	before := len(s.confirmed)
	for s.one(t) {
	}
	s.pause(time.Until(s.until))
	t.kill()
	k.shown = len(s.confirmed) - before
	if _, err := os.Stat(filepath.Join(s.dir, recordFile)); errors.Is(err, os.ErrNotExist) && len(s.confirmed) == 0 {
		return k, nil // killed before there was a record
	}
	st, es, rep, err := s.state()
	if err != nil {
		k.unopened = err.Error()
		return k, nil
	}
	k.torn, k.released = rep.Torn > 0, st.Released
	got := taken(es)
	k.kept = len(got)
	for i, c := range s.confirmed {
		if i >= len(got) || got[i] != c {
			k.lost = fmt.Sprintf("reading %d, %s, was shown as taken and is not in the record", i+1, c)
			return k, nil
		}
	}
	for _, extra := range got[len(s.confirmed):] {
		if slices.Contains(s.flying, extra) {
			continue // typed, written, and killed before it could be shown
		}
		k.invented = fmt.Sprintf("%s is in the record and was never typed; in flight were %q", extra, s.flying)
	}
	if len(st.Troubles) > 0 {
		k.unopened = st.Troubles[0].Error()
	}
	s.confirmed, s.flying = got, nil
	return k, nil
}

// prepare lays the built-in job into a fresh folder.
func prepare(dir string) error {
	texts, err := builtin.Texts("T")
	if err != nil {
		return err
	}
	// known job: fewer pages between one reading and the next
	texts[builtin.JobFile] = strings.Replace(texts[builtin.JobFile], "\nunit: mm\n", "\nunit: mm\npace: known job\n", 1)
	for name, text := range texts {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			return err
		}
	}
	return nil
}

// build makes the program that is to be killed.
func build(ctx context.Context, dir string) (string, error) {
	binary := filepath.Join(dir, "fliptrue")
	c := exec.CommandContext(ctx, "go", "build", "-o", binary, "fliptrue/cmd/fliptrue")
	if out, err := c.CombinedOutput(); err != nil {
		return "", fmt.Errorf("the program does not build: %w\n%s", err, out)
	}
	return binary, nil
}

// newSitting begins a record in a folder of its own.
func newSitting(binary, dir string, seed uint64) (*sitting, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, err
	}
	if err := prepare(dir); err != nil {
		return nil, err
	}
	j, fs := jobs.ReadJob(jobs.OS(), filepath.Join(dir, builtin.JobFile))
	if len(fs) > 0 {
		return nil, fs
	}
	_, programs, err := builtinJob("T")
	if err != nil {
		return nil, err
	}
	p, err := steps.NewPlan(j, "side2", programs)
	if err != nil {
		return nil, err
	}
	return &sitting{dir: dir, binary: binary, plan: p, bench: &bench.Practice{World: bench.NewWorld(p, seed, bench.Usual(p))},
		rng: rand.New(rand.NewPCG(seed, 0x6b1)), obeyed: map[string]bool{}}, nil
}
