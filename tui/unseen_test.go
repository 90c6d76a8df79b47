package tui

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

func (s *screen) size(w, h int) *screen {
	s.t.Helper()
	s.w, s.h = w, h
	s.send(tea.WindowSizeMsg{Width: w, Height: h})
	return s
}

// TestKeysOfASmallWindowAreKeptForNobody: digits, Enter, +, a held + and a paste that begins in
// a window that shows nothing go nowhere, then and later, and the page says so.
func TestKeysOfASmallWindowAreKeptForNobody(t *testing.T) {
	t.Parallel()
	for _, keys := range [][]string{{"1", "2", ".", "5", "enter"}, {"+"}, {"enter"}, {"*"}, {"\x1b[200~12.5"}} {
		s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
		s.Type("-2")
		n := len(s.saved)
		s.size(50, 20)
		if strings.Contains(s.View(), "-2") {
			t.Fatal("the field is seen")
		}
		for _, k := range keys {
			if strings.HasPrefix(k, "\x1b") {
				s.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("O{"), Alt: true}) // as the mark of a paste comes in
				k = k[6:]
			}
			s.Press(k)
		}
		s.now = s.now.Add(10 * time.Millisecond) // a + that waits to stand alone would come now
		s.size(80, 24).Sees("came while the window was too small", "nothing was taken")
		s.send(HeldMsg{})
		s.now = s.now.Add(guardTime - 20*time.Millisecond)
		s.send(keyNamed["enter"]) // nobody has seen the field again
		s.Sees("that key was not taken")
		s.now = s.now.Add(2 * pasteWait)
		s.send(HeldMsg{})
		if got := s.m.focus().Text; got != "-2" || len(s.saved) != n || s.on() != "walkPage" {
			t.Errorf("%q: %q in the field, %d events, on %s:\n%s", keys, got, len(s.saved)-n, s.on(), s.View())
		}
		if s.Type("68.390"); s.m.focus().Text != "-268.390" {
			t.Errorf("%q: then typed %q", keys, s.m.focus().Text)
		}
	}
	// Ctrl-C leaves.
	s := practice(t, lid(t, "T"), 80, 24).size(59, 20).Press("ctrl+c")
	if !s.quit {
		t.Error("Ctrl-C does not leave")
	}
}

// TestTypedWhileWritingInASmallWindow is not typed ahead.
func TestTypedWhileWritingInASmallWindow(t *testing.T) {
	t.Parallel()
	s := begin(t, lid(t, "T"), 80, 24)
	s.m.writing = true
	s.size(40, 10)
	s.now = s.now.Add(time.Second)
	s.m.Update(keyNamed["enter"])
	s.m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("1")})
	if len(s.m.waiting) != 0 || s.m.blind != 2 {
		t.Errorf("%d keys wait, %d were counted", len(s.m.waiting), s.m.blind)
	}
}

// TestNothingIsTakenOutOfSight: behind a picture and scrolled away the first key only brings
// the field back.
func TestNothingIsTakenOutOfSight(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	n := len(s.saved)
	s.Type("-268.390").Press("f3")
	if s.m.view != PictureView {
		t.Fatal("no picture")
	}
	s.Enter().Sees("out of sight", "not taken")
	if len(s.saved) != n || s.m.view != Whole || s.m.focus().Text != "-268.390" {
		t.Fatalf("%d events, %q in the field", len(s.saved)-n, s.m.focus().Text)
	}
	s.Press("f3").Paste("77").Sees("out of sight")
	s.Press("f3", "esc") // keys that look on work on
	if s.m.view != Whole || s.m.focus().Text != "-268.390" {
		t.Fatalf("%q in the field", s.m.focus().Text)
	}
	if s.Enter(); s.m.top().(*walkPage).far == nil && len(s.saved) != n+1 {
		t.Error("seen again, and not taken")
	}
	s = practice(t, lid(t, "T"), 60, 20)
	s.m.pg.Caution = strings.Repeat("stand clear ", 100) // a page longer than the screen
	if s.Press("pgup", "pgup", "pgup", "pgup"); strings.Contains(s.View(), "> 1") {
		t.Fatalf("still seen:\n%s", s.View())
	}
	was := s.m.top()
	if s.Plus().Sees("out of sight", "> 1"); s.m.top() != was {
		t.Error("+ answered what is not on the screen")
	}
	if s.Plus(); s.m.notice != "" && strings.Contains(s.m.notice, "sight") {
		t.Error("seen again, and not answered")
	}
}

// TestALongPasteIsRefusedAtOnce: what would be kept of it never grows beyond the most, it is
// said once, and a key after its end is a key.
func TestALongPasteIsRefusedAtOnce(t *testing.T) {
	t.Parallel()
	var k Keys
	at, f := noon, Focus{Place: Reads}
	k.Feed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("O{"), Alt: true}, at, f)
	refused, first := 0, 0
	for i := 0; i < 1<<20; i += 250 {
		at = at.Add(time.Microsecond)
		out, _ := k.Feed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strings.Repeat("1", 250))}, at, f)
		for _, s := range out {
			if s.Kind != Refused || !strings.Contains(s.Why, "refused") {
				t.Fatalf("%+v", s)
			}
			refused, first = refused+1, i
		}
		if k.pasting.text.Cap() > 2*pasteMost {
			t.Fatalf("%d bytes are kept", k.pasting.text.Cap())
		}
	}
	if refused != 1 || first > pasteMost+250 {
		t.Errorf("refused %d times, at %d", refused, first)
	}
	k.Feed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("O}"), Alt: true}, at, f)
	if out, _ := k.Feed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("5")}, at.Add(time.Second), f); len(out) != 1 || out[0].Rune != '5' {
		t.Errorf("then %+v", out)
	}
	k = Keys{}
	if out, _ := k.Feed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(strings.Repeat("1 ", 1<<19)), Paste: true}, at, f); len(out) != 1 || out[0].Kind != Refused {
		t.Error("a long paste in one message is taken")
	}
}

// TestALongPasteIsCutWhereItIsRead: of a megabyte little more than the most comes on, and its end.
func TestALongPasteIsCutWhereItIsRead(t *testing.T) {
	t.Parallel()
	var l longPaste
	b := []byte("\x1bO{" + strings.Repeat("1\r", 1<<19) + "\x1bO}+")
	n := l.cut(b, noon)
	if n > pasteMost+512 || !strings.HasSuffix(string(b[:n]), "\x1bO}+") || l.on {
		t.Errorf("%d bytes, ends in %q", n, b[n-4:n])
	}
	b = []byte("\x1bO{12")
	if n := l.cut(b, noon); n != len(b) {
		t.Error("a short one is cut")
	}
	if b = []byte("5"); l.cut(b, noon.Add(2*pasteWait)) != 1 || l.on {
		t.Error("a lost end swallows what comes later")
	}
}
