package tui

import (
	"io"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/mattn/go-runewidth"
)

// burst is what one read of the terminal brings, at a time in milliseconds.
type burst struct {
	at    int
	bytes string
}

// terminal plays reads to a real program. Between two reads it sends a focus
// report, which the page below acknowledges: so every key of a read is handled at
// the time of that read, with no wall clock in the test.
type terminal struct {
	mu    sync.Mutex
	reads []burst
	probe bool
	now   time.Time
	seen  chan struct{}
}

var start = time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)

func (tm *terminal) at() time.Time { tm.mu.Lock(); defer tm.mu.Unlock(); return tm.now }

func (tm *terminal) Read(b []byte) (int, error) {
	if tm.probe {
		tm.probe = false
		return copy(b, "\x1b[I"), nil
	}
	if tm.reads == nil {
		return 0, io.EOF
	}
	<-tm.seen
	if len(tm.reads) == 0 {
		tm.reads = nil
		return copy(b, "\x1b[O"), nil // the end: the page quits
	}
	r := tm.reads[0]
	tm.reads = tm.reads[1:]
	tm.mu.Lock()
	tm.now = start.Add(time.Duration(r.at) * time.Millisecond)
	tm.mu.Unlock()
	tm.probe = true
	if r.bytes == "" {
		tm.probe = false
		return copy(b, "\x1b[I"), nil
	}
	return copy(b, r.bytes), nil
}

// page is the smallest page model there can be: a list of places, each left by
// taking or answering, and a log of what happened in words.
type keyPage struct {
	t      *terminal
	keys   Keys
	km     KeyMap
	places []Place
	n      int
	shown  time.Time
	entry  Entry
	log    []string
}

func (p *keyPage) focus() Focus {
	place := Lists
	if p.n < len(p.places) {
		place = p.places[p.n]
	}
	return Focus{Place: place, Text: p.entry.Text(), Shown: p.shown}
}

func (p *keyPage) Init() tea.Cmd { return nil }
func (p *keyPage) View() string  { return "" }
func (p *keyPage) say(s ...string) {
	p.log = append(p.log, strings.TrimSpace(strings.Join(s, " ")))
}

func (p *keyPage) Update(m tea.Msg) (tea.Model, tea.Cmd) {
	now := p.t.at()
	switch m := m.(type) {
	case tea.KeyMsg:
		ss, _ := p.keys.Feed(m, now, p.focus())
		p.strokes(ss)
	case tea.FocusMsg: // all keys of the read before are done
		p.strokes(p.keys.Flush(now, p.focus()))
		p.t.seen <- struct{}{}
	case tea.BlurMsg:
		return p, tea.Quit
	}
	return p, nil
}

func (p *keyPage) strokes(ss []Stroke) {
	for _, s := range ss {
		switch s.Kind {
		case Refused:
			p.entry = p.entry.Drop(s.Passed)
			p.say("refused", s.Text)
			continue
		case Pasted:
			if s.Rows {
				p.say("rows", strings.ReplaceAll(s.Text, "\n", "|"))
				continue
			}
			p.entry, _ = p.entry.Insert(s.Text)
			if s.Why != "" {
				p.say("first line only")
			}
			continue
		}
		in, why := p.km.Of(s, p.focus())
		switch in {
		case Take:
			if s.Hold != "" {
				p.say("held", p.entry.Text())
				continue
			}
			p.say("take", p.entry.Text(), string(s.Source))
			p.leave(s)
		case Answer:
			p.say("answer", p.entry.Text())
			p.leave(s)
		case None:
			if why != "" {
				p.say("no:", s.Name)
			}
		default:
			if e, ok := p.entry.Do(in, s.Rune); ok && p.focus().field() {
				p.entry = e
				continue
			}
			if in != Insert {
				p.say(string(in))
			}
		}
	}
}

func (p *keyPage) leave(s Stroke) { p.n++; p.entry = Entry{}; p.shown = s.At }

// play runs the reads through a Bubble Tea program and returns the log, the text
// left in the field last.
func play(t *testing.T, places []Place, reads ...burst) string {
	t.Helper()
	tm := &terminal{reads: reads, seen: make(chan struct{}, 1), now: start}
	tm.seen <- struct{}{}
	if tm.reads == nil {
		tm.reads = []burst{}
	}
	p := &keyPage{t: tm, km: DefaultKeys(), places: places, shown: start.Add(-time.Hour)}
	prog := tea.NewProgram(p, tea.WithInput(typedOn(tm, newReplies(func(bool) {}, func() {}))), tea.WithOutput(io.Discard), tea.WithoutSignalHandler())
	if _, err := prog.Run(); err != nil {
		t.Fatal(err)
	}
	if x := p.entry.Text(); x != "" {
		p.say("left", x)
	}
	return strings.Join(p.log, "; ")
}

// typed gives one read a character, step ms apart.
func typed(from, step int, s string) (out []burst) {
	for i, r := range s {
		out = append(out, burst{from + i*step, string(r)})
	}
	return out
}

func then(bs ...[]burst) (out []burst) {
	for _, b := range bs {
		out = append(out, b...)
	}
	return out
}

func one(at int, s string) []burst { return []burst{{at, s}} }

func TestBytesToIntents(t *testing.T) {
	reads, asks, count := []Place{Reads, Reads, Reads}, []Place{Asks, Asks, Asks}, []Place{Answers, Asks}
	quiet := func(at int) []burst { return []burst{{at, ""}} }
	for _, c := range []struct {
		name   string
		places []Place
		reads  []burst
		want   string
	}{
		// Typing and gauges into a reading.
		{"typed by hand", reads, typed(0, 120, "12.5\r"), "take 12.5 keyed"},
		{"two digits in one read", reads, then(one(0, "12"), one(300, "\r")), "take 12 keyed"},
		{"gauge, one read, CR", reads, one(0, "12.345\r"), "take 12.345 instrument"},
		{"gauge, LF", reads, one(0, "12.345\n"), "take 12.345 instrument"},
		{"gauge, CR LF", reads, one(0, "12.345\r\n"), "take 12.345 instrument"},
		{"gauge, CR and LF in two reads", reads, then(one(0, "12.345\r"), one(80, "\n")), "take 12.345 instrument"},
		{"gauge, Tab", reads, one(0, "12.345\t"), "take 12.345 instrument"},
		{"gauge, a read a character", reads, typed(0, 4, "+0012.345\r"), "take +0012.345 instrument"},
		{"gauge, unit and blanks", reads, one(0, "  +12,345 mm\r"), "take   +12,345 mm instrument"},
		{"gauge, three characters and its ending", reads, one(0, "0.1\r"), "take 0.1 instrument"},
		{"gauge without ending, Enter by hand", reads, then(one(0, "12.345"), one(900, "\r")), "take 12.345 instrument"},
		{"three quick keys are not a gauge", reads, then(one(0, "0.1"), one(500, "\r")), "take 0.1 keyed"},
		{"gauge value corrected by hand", reads, then(one(0, "12.345"), one(500, "\x7f"), one(700, "6"), one(900, "\r")), "take 12.346 keyed"},
		{"two gauge values 500 ms apart", reads, then(one(0, "1.250\r"), one(500, "1.251\r")), "take 1.250 instrument; take 1.251 instrument"},
		{"minus, inch fraction", reads, typed(0, 90, "-1/32in\r"), "take -1/32in keyed"},

		// A footswitch that bounces, and what follows it.
		{"bounce", reads, then(one(0, "1.250\r"), one(90, "1.250\r")), "take 1.250 instrument; held 1.250; left 1.250"},
		{"bounce, confirmed", reads, then(one(0, "1.250\r"), one(90, "1.251\r"), one(900, "\r")), "take 1.250 instrument; held 1.251; take 1.251 instrument"},
		{"bounce, CR LF", reads, one(0, "1.250\r\n1.250\r\n"), "take 1.250 instrument; held 1.250; left 1.250"},
		{"a third at once is not glued on", reads, one(0, "1.25\r-3\r7.5\r"), "take 1.25 instrument; held -3; refused 7; left -3"},
		{"gauge behind typed digits", reads, then(typed(0, 200, "12"), one(900, "12.345\r")), "held 1212.345; left 1212.345"},

		// Keypad in application mode, and sequences split by a slow link.
		{"application keypad", reads, then(one(0, "\x1bOq"), one(200, "\x1bOr"), one(400, "\x1bOn"), one(600, "\x1bOu"), one(800, "\x1bOM")), "take 12.5 keyed"},
		{"application keypad, one read", reads, one(0, "\x1bOm\x1bOs\x1bOl\x1bOp\x1bOM"), "take -3,0 instrument"},
		{"application keypad + answers", asks, then(one(0, "\x1bOk"), quiet(70)), "answer"},
		{"application keypad / and *", asks, then(one(0, "\x1bOo"), one(500, "\x1bOj")), "back; happened"},
		{"keypad key split after ESC O", reads, then(one(0, "\x1bO"), one(60, "p"), one(400, "\r")), "take 0 keyed"},
		{"keypad key split after ESC", reads, then(one(0, "\x1b"), one(60, "Op"), one(400, "\r")), "close; take 0 keyed"},
		{"arrow split after ESC", reads, then(typed(0, 100, "12"), one(300, "\x1b"), one(360, "[D"), one(600, "3\r")), "close; take 132 keyed"},
		{"arrow split in three", reads, then(one(0, "\x1b"), one(40, "["), one(80, "A")), "close; up"},
		{"function key split", asks, then(one(0, "\x1b"), one(40, "[13~")), "close; picture"},
		{"ESC and a quick digit", reads, then(one(0, "12"), one(300, "\x1b3"), one(600, "\r")), "close; take 123 keyed"},
		{"Esc discards nothing", reads, then(typed(0, 100, "12"), one(500, "\x1b"), one(1600, "\r")), "close; take 12 keyed"},
		{"NumLock off: navigation, no entry", reads, one(0, "\x1b[A\x1b[B"), "up; down"},

		// Paste.
		{"bracketed, one line", reads, then(one(0, "\x1b[200~ 1.25 \r\n\x1b[201~"), one(400, "\r")), "take 1.25 pasted"},
		{"bracketed, two lines of numbers", reads, one(0, "\x1b[200~1.25\r-3\x1b[201~"), "rows 1.25|-3"},
		{"bracketed, two numbers and a tab", reads, one(0, "\x1b[200~1.25\t-3\r\n\x1b[201~"), "rows 1.25 -3"},
		{"bracketed, a number and its unit", reads, then(one(0, "\x1b[200~1.25 mm\x1b[201~"), one(400, "\r")), "take 1.25 mm pasted"},
		{"bracketed, behind something typed", reads, then(one(0, "1"), one(300, "\x1b[200~.25\r-3\x1b[201~"), one(700, "\r")), "first line only; take 1.25 pasted"},
		{"bracketed, numbers and a time of day", reads, then(one(0, "\x1b[200~1.25\r10:42\x1b[201~"), one(400, "\r")), "first line only; take 1.25 pasted"},
		{"bracketed, rows", reads, one(0, "\x1b[200~1.0 2.0\n3.0 4.0\n\x1b[201~"), "rows 1.0 2.0|3.0 4.0"},
		{"bracketed, rows with axis letters", reads, one(0, "\x1b[200~X1.0 Y2.0\nX3.0 Y4.0\x1b[201~"), "rows X1.0 Y2.0|X3.0 Y4.0"},
		{"bracketed, split in two reads", reads, then(one(0, "\x1b[200~1.2"), one(30, "5\x1b[201~"), one(400, "\r")), "take 1.25 pasted"},
		{"bracketed, its end mark split", reads, then(one(0, "\x1b[200~1.25\x1b[2"), one(30, "01~"), one(400, "\r")), "take 1.25 pasted"},
		{"bracketed, its first mark split", reads, then(one(0, "\x1b["), one(30, "200~1.25\x1b[201~"), one(400, "\r")), "take 1.25 pasted"},
		{"end mark lost: over after a second", reads, then(one(0, "\x1b[200~1.25"), quiet(1100)), "refused"},
		{"end mark lost, Enter", reads, then(one(0, "\x1b[200~1.25"), one(1500, "\r")), "refused; nothing typed"},
		{"end mark lost, a key within the second", reads, then(one(0, "\x1b[200~1.2"), one(500, "5"), one(1700, "\r")), "refused; nothing typed"},
		{"end mark lost: what is typed stands alone", reads, then(one(0, "\x1b[200~1.2"), one(1500, "5"), one(1700, "\r")), "refused; take 5 keyed"},
		{"end mark lost, on a question", asks, then(one(0, "\x1b[200~+"), one(1500, "+"), quiet(1600)), "refused; answer"},
		{"end mark late", reads, then(one(0, "\x1b[200~1.25"), one(1500, "\x1b[201~"), one(1900, "\r")), "refused; nothing typed"},
		{"end mark alone", reads, then(one(0, "\x1b[201~"), typed(300, 100, "12\r")), "take 12 keyed"},
		{"a paste within a paste", reads, then(one(0, "\x1b[200~1.2\x1b[200~5\x1b[201~"), one(400, "\r")), "take 1.25 pasted"},
		{"the rest of a slow paste takes nothing", reads, then(one(0, "\x1b[200~1.25"), one(1500, "0\r-3.5\r\x1b[201~"), one(1900, "\r")), "refused; refused; nothing typed"},
		{"end mark lost, a number in two pieces", reads, then(one(0, "\x1b[200~1.25"), one(1500, "-"), one(1700, "26"), one(1800, ".5"), one(1900, "\r")), "refused; refused"},
		{"pasted with its ending behind", reads, one(0, "\x1b[200~1.25\x1b[201~\r"), "take 1.25 pasted"},
		{"bracketed on a question", asks, one(0, "\x1b[200~+\x1b[201~"), "refused +"},
		{"bracketed on a count", count, one(0, "\x1b[200~4\x1b[201~"), "refused 4"},
		{"plain paste of two lines", reads, one(0, "1.25\r-3\r"), "take 1.25 instrument; held -3; left -3"},
		{"plain paste of rows", reads, one(0, "1 2\r3 4\r"), "take 1 2 instrument; take 3 4 instrument"},

		// Questions: an instrument answers nothing.
		{"+ answers after it stood alone", asks, then(one(0, "+"), quiet(70)), "answer"},
		{"+ and nothing yet", asks, then(one(0, "+"), quiet(30)), ""},
		{"Enter answers nothing", asks, one(0, "\r"), "enter does not answer"},
		{"burst on a question", asks, one(0, "12.345\r"), "refused 12.345"},
		{"burst with leading + on a question", asks, then(one(0, "+12.345\r\n"), quiet(100)), "refused +12.345"},
		{"the same, a read a character", asks, then(typed(0, 4, "+12.345\r\n"), quiet(200)), "refused +1"},
		{"+ with CR at once", asks, then(one(0, "+\r"), quiet(100)), "refused +"},
		{"burst on a list", []Place{Lists}, one(0, "12.345\r"), "refused 12.345"},
		{"count by hand", count, then(typed(0, 120, "4"), one(400, "+"), quiet(470)), "answer 4"},
		{"count and + in one read", count, then(one(0, "4+"), quiet(70)), "answer 4"},
		{"+ in an empty number field is a sign", count, then(one(0, "+"), one(200, "4"), one(400, "+"), quiet(470)), "answer +4"},
		{"gauge on a count", count, one(0, "12.345\r"), "refused 12.345"},
		{"gauge with + on a count, a read a character", count, typed(0, 4, "+12.345\r"), "refused +12.345"},
		{"gauge with + behind a typed count", count, then(one(0, "4"), one(500, "+12.345\r"), quiet(900)), "refused +1; left 4"},
		{"read-back in one piece over a slow link", count, then(one(0, "-267.450+"), quiet(70)), "answer -267.450"},
		{"words", []Place{Words}, then(typed(0, 90, "FX-3"), one(700, "+"), quiet(770)), "answer FX-3"},
		{"gauge into words", []Place{Words}, one(0, "12.345\r"), "refused 12.345"},
		{"key held down answers nothing", asks, then(typed(0, 33, "++++++++++"), quiet(900)), ""},

		// The guard on + after a page change.
		{"second + too soon", asks, then(one(0, "+"), quiet(70), one(200, "+"), quiet(270)), "answer"},
		{"second + after the guard", asks, then(one(0, "+"), quiet(70), one(400, "+"), quiet(470)), "answer; answer"},
		{"the guard swallows nothing typed", []Place{Asks, Answers}, then(one(0, "+"), quiet(70), one(100, "4"), one(600, "+"), quiet(670)), "answer; answer 4"},
		{"the guard leaves a sign alone", []Place{Asks, Reads}, then(one(0, "+"), quiet(70), one(120, "+"), one(260, "1"), one(300, "\r")), "answer; take +1 keyed"},
		{"Enter in a filled field always counts", []Place{Asks, Reads}, then(one(0, "+"), quiet(70), one(100, "1"), one(130, "\r")), "answer; take 1 keyed"},

		// The empty field.
		{"Enter in an empty field", reads, one(0, "\r"), "nothing typed"},
		{"/ and * in an empty field", reads, then(one(0, "/"), one(300, "*")), "back; happened"},
		{"/ inside is a character", reads, typed(0, 100, "1/8in\r"), "take 1/8in keyed"},
		{"* inside is refused with a reason", reads, typed(0, 100, "1*"), "no: *; left 1"},
		{"a unit letter is no command", reads, typed(0, 100, "1u"), "left 1u"},
		{"a letter alone is a command", reads, one(0, "u"), "undo"},
		{"help anywhere", reads, typed(0, 100, "1?"), "help; left 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := play(t, c.places, c.reads...); got != c.want {
				t.Errorf("\n got %s\nwant %s", got, c.want)
			}
		})
	}
}

// TestPlusIsReleasedByTimer checks the one real timer: Feed asks for a wait, and
// Flush after it releases the answer.
func TestPlusIsReleasedByTimer(t *testing.T) {
	var k Keys
	f := Focus{Place: Asks}
	ss, wait := k.Feed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("+")}, start, f)
	if len(ss) != 0 || wait != plusHold {
		t.Fatalf("got %v, wait %v", ss, wait)
	}
	if ss := k.Flush(start.Add(wait-time.Millisecond), f); ss != nil {
		t.Fatalf("released early: %v", ss)
	}
	if ss := k.Flush(start.Add(wait), f); len(ss) != 1 || ss[0].Name != "+" {
		t.Fatalf("got %v", ss)
	}
	if ss := k.Flush(start.Add(time.Second), f); ss != nil {
		t.Fatalf("released twice: %v", ss)
	}
}

// FuzzNoInstrumentAnswers feeds what a gauge can send, any text without + at its
// end and with an ending, to a question: it must never be answered.
func FuzzNoInstrumentAnswers(f *testing.F) {
	for _, s := range []string{"+12.345", "++", "1+", "+", "01A+00012.345", "\x1bOk", "- 1 mm", "+\x000"} {
		f.Add(s, byte(0), byte(4))
		f.Add(s, byte(1), byte(0))
	}
	f.Fuzz(func(t *testing.T, s string, end, step byte) {
		ending := [][]tea.KeyType{{tea.KeyEnter}, {tea.KeyCtrlJ}, {tea.KeyTab}, {tea.KeyEnter, tea.KeyCtrlJ}}[end%4]
		gap := time.Duration(step%60) * time.Millisecond
		for _, place := range []Place{Asks, Answers, Words, Lists} {
			var k Keys
			km := DefaultKeys()
			at := start.Add(time.Minute)
			fo := Focus{Place: place, Text: "4", Shown: start}
			var all []Stroke
			feed := func(m tea.KeyMsg) {
				ss, _ := k.Feed(m, at, fo)
				all = append(all, ss...)
				at = at.Add(gap)
			}
			for _, r := range s {
				if unicode.IsControl(r) {
					continue // no key message holds one
				}
				feed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
			}
			for _, e := range ending {
				feed(tea.KeyMsg{Type: e})
			}
			all = append(all, k.Flush(at.Add(time.Second), Focus{Place: place})...)
			for _, st := range all {
				if st.Kind != Pressed {
					continue
				}
				if in, _ := km.Of(st, fo); in == Answer {
					t.Fatalf("%q answered in place %d", s, place)
				}
			}
		}
	})
}

// once is a pause point in a program with its real timer.
type once struct {
	keys     *Keys
	answered bool
}

func (o once) Init() tea.Cmd { return nil }
func (o once) View() string  { return "" }
func (o once) Update(m tea.Msg) (tea.Model, tea.Cmd) {
	f := Focus{Place: Asks, Shown: time.Now().Add(-time.Hour)}
	var ss []Stroke
	var wait time.Duration
	switch m := m.(type) {
	case tea.KeyMsg:
		ss, wait = o.keys.Feed(m, time.Now(), f)
	case HeldMsg:
		ss = o.keys.Flush(time.Now(), f)
	}
	for _, s := range ss {
		if in, _ := DefaultKeys().Of(s, f); in == Answer {
			o.answered = true
			return o, tea.Quit
		}
	}
	if wait <= 0 {
		return o, nil
	}
	return o, tea.Tick(wait, func(time.Time) tea.Msg { return HeldMsg{} })
}

func TestPlusAnswersWithTheRealTimer(t *testing.T) {
	r, w := io.Pipe()
	defer w.Close()
	go w.Write([]byte("+"))
	m, err := tea.NewProgram(once{keys: &Keys{}}, tea.WithInput(r), tea.WithOutput(io.Discard), tea.WithoutSignalHandler()).Run()
	if err != nil || !m.(once).answered {
		t.Fatalf("err %v, model %+v", err, m)
	}
}

func TestOneWidthTable(t *testing.T) {
	for _, s := range []string{"Ø6 ±0.02", "│─→…", "90°", "█▀▄▌", "⠿⡇"} {
		if a, b := Width(s), runewidth.StringWidth(s); a != b || a != utf8.RuneCountInString(s) {
			t.Errorf("%q: %d cells for the renderer, %d for the components", s, a, b)
		}
	}
}
