package tui

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"time"
)

// wire is a terminal whose bytes come at given times, read through replies, with a clock of
// its own.
type wire struct {
	now    time.Time
	timers []struct {
		at time.Time
		do func()
	}
	typed  bytes.Buffer // what is given on, an Esc that was let go included
	lights []bool
	r      *replies
}

func newWire() *wire {
	w := &wire{now: noon}
	w.r = &replies{now: func() time.Time { return w.now },
		after: func(d time.Duration, f func()) {
			w.timers = append(w.timers, struct {
				at time.Time
				do func()
			}{w.now.Add(d), f})
		},
		got: func(light bool) { w.lights = append(w.lights, light) }, esc: func() { w.typed.WriteString("\x1b") }}
	return w
}

// wait lets time go by and the timers with it.
func (w *wire) wait(d time.Duration) {
	end := w.now.Add(d)
	for i := 0; i < len(w.timers); i++ {
		if t := w.timers[i]; !t.at.After(end) {
			w.now = t.at
			w.timers = slices.Delete(w.timers, i, i+1)
			i = -1
			t.do()
		}
	}
	w.now = end
}

// sends is one read.
func (w *wire) sends(s string) {
	b := make([]byte, 256)
	n, err := w.r.read(strings.NewReader(s), b)
	if err != nil && err != io.EOF {
		panic(err)
	}
	w.typed.Write(b[:n])
}

var answers = []struct {
	text  string
	light bool
}{
	{"\x1b]11;rgb:ffff/ffff/ffff\x1b\\\x1b[?62;22c", true},
	{"\x1b]11;rgb:0000/0000/0000\x07\x1b[?6c", false},
	{"\x1b]11;rgb:fd/f6/e3\x07", true},
	{"\x1b]11;rgba:0000/2b2b/3636/ffff\x1b\\", false},
}

var delays = []time.Duration{time.Millisecond, 20 * time.Millisecond, 150 * time.Millisecond, 400 * time.Millisecond, time.Second, 4 * time.Second, 10 * time.Second}

// An answer is no key, however late it comes and wherever it is torn. A tear right after its
// Esc that lasts longer than a person would wait for Esc lets that go as the key it may
// be; what follows is eaten all the same.
func TestAnAnswerIsNoKey(t *testing.T) {
	for _, a := range answers {
		for _, late := range delays {
			for cut := range len(a.text) {
				for _, gap := range delays {
					w := newWire()
					w.r.expect()
					w.wait(late)
					w.sends("1") // typed before, between and after
					if cut > 0 {
						w.sends(a.text[:cut])
						w.wait(gap)
					}
					w.sends(a.text[cut:])
					w.wait(time.Minute)
					w.sends("5")
					want := "15"
					if cut > 0 && a.text[cut-1] == '\x1b' && (cut == 1 || a.text[cut] == '[') && gap >= splitWait {
						want = "1\x1b5"
					}
					if got := w.typed.String(); got != want || !slices.Equal(w.lights, []bool{a.light}) {
						t.Fatalf("%q after %v, torn at %d for %v: typed %q, light %v", a.text, late, cut, gap, got, w.lights)
					}
				}
			}
			for _, gap := range []time.Duration{time.Millisecond, 20 * time.Millisecond, 400 * time.Millisecond} { // byte by byte
				w := newWire()
				w.r.expect()
				w.wait(late)
				for _, b := range []byte(a.text) {
					w.sends(string(rune(b)))
					w.wait(gap)
				}
				w.sends("5")
				if got := w.typed.String(); got != "5" || !slices.Equal(w.lights, []bool{a.light}) {
					t.Fatalf("%q after %v, every byte for %v: typed %q, light %v", a.text, late, gap, got, w.lights)
				}
			}
		}
	}
}

// Keys stay what they are, whether an answer is expected, has come, or its end was lost.
func TestKeysAreNoAnswer(t *testing.T) {
	for name, before := range map[string]string{"never asked": "", "answered": answers[0].text, "asked": "", "end lost": "\x1b]11;rgb:ff"} {
		for _, key := range []string{"\x1b", "\x1b[A", "\x1bOp", "\x1b[200~12.5\r\x1b[201~", "12.5\r", "\x1b[15~", "\x1b5", "\x1b]", "\x1bOM", "\x1b[?"} {
			w := newWire()
			if name != "never asked" {
				w.r.expect()
			}
			w.sends(before)
			w.wait(2 * time.Second)
			w.sends(key)
			w.wait(splitWait)
			if strings.HasPrefix("\x1b]11;", key) && len(key) > 1 || key == "\x1b[?" {
				key = "" // what no keyboard sends may be held back
			}
			want := strings.NewReplacer(pasteOn, "\x1bO{", pasteOff, "\x1bO}").Replace(key)
			if got := w.typed.String(); got != want {
				t.Errorf("%s: %q came as %q", name, key, got)
			}
		}
	}
}

// An Esc is held back only while an answer may come: at once after one, or long after the question, it is a key.
func TestEscIsHeldForAMomentOnly(t *testing.T) {
	w := newWire()
	w.r.expect()
	w.sends("\x1b")
	if w.typed.Len() != 0 {
		t.Error("an Esc that may begin an answer was given on at once")
	}
	w.wait(splitWait)
	w.sends("\x1b[?6c") // no colour will come
	w.sends("\x1b")
	if got := w.typed.String(); got != "\x1b\x1b" {
		t.Errorf("typed %q", got)
	}
	w = newWire()
	w.r.expect()
	w.wait(replyWait)
	if w.sends("\x1b"); w.typed.String() != "\x1b" {
		t.Error("long after the question Esc is still held")
	}
}

func TestIsLight(t *testing.T) {
	for _, c := range []struct {
		colour    string
		light, ok bool
	}{
		{"rgb:ffff/ffff/ffff", true, true}, {"rgb:0/0/0", false, true}, {"rgb:f/f/f", true, true}, {"rgb:1e1e/1e1e/2e2e", false, true},
		{"rgb:fdfd/f6f6/e3e3", true, true}, {"rgb:0000/ffff/0000", true, true}, {"rgb:0000/0000/ffff", false, true},
		{"white", false, false}, {"rgb:ffff/ffff", false, false}, {"rgb:fffff/0/0", false, false},
	} {
		if light, ok := isLight(c.colour); light != c.light || ok != c.ok {
			t.Errorf("%s: light %v, %v", c.colour, light, ok)
		}
	}
}

// The reader never gives more than its buffer holds, and nothing is lost of a full one.
func TestRepliesKeepWithinTheBuffer(t *testing.T) {
	w := newWire()
	w.r.expect()
	w.sends("\x1b")
	text := strings.Repeat("7", 254)
	w.sends(text)
	if got := w.typed.String(); got != "\x1b"+text {
		t.Errorf("%d bytes came of %d", len(got), len(text)+1)
	}
}

func ExampleBackground() {
	b := &Background{Keep: func(light bool) { fmt.Println("light:", light) }}
	d := newDesk(Look{}, func() time.Time { return noon })
	if cmd := b.answered(true, d); cmd != nil {
		cmd()
	}
	fmt.Println(d.t.Look.Light)
	// Output:
	// light: true
	// true
}

// The rest of an answer that comes late and in two reads is no key either.
func TestAnAnswerTornTwice(t *testing.T) {
	w := newWire()
	w.r.expect()
	w.sends("\x1b]11;rgb:ff")
	w.wait(4 * time.Second)
	w.sends("ff/ffff/")
	w.wait(time.Millisecond)
	w.sends("ffff\x07")
	if got := w.typed.String(); got != "" || !slices.Equal(w.lights, []bool{true}) {
		t.Errorf("typed %q, light %v", got, w.lights)
	}
}
