package tui

import (
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

func TestValuesOfALine(t *testing.T) {
	for _, c := range []struct {
		line string
		want []string // nil: not to be guessed at
	}{
		{"1.25", []string{"1.25"}},
		{"1.25 -3", []string{"1.25", "-3"}},
		{"X1.0 Y-2,5", []string{"X1.0", "Y-2,5"}},
		{"x=1.0 Y 2.5 z = -3", []string{"X1.0", "Y2.5", "Z-3"}},
		{"X1.0 Y", nil},
		{"XY1.0", nil},
		{"X Y1.0", nil},
		{"hit X1.0 mm Y2.0 mm", []string{"X1.0 mm", "Y2.0 mm"}}, // a unit goes with its number
		{"0.5in 0.25in", []string{"0.5in", "0.25in"}},
		{"1.25 mm", []string{"1.25 mm"}},
		{"10:42 1.25", nil},
		{"1.0,2.0", nil},
		{"1 1/8in", []string{"1 1/8in"}}, // one number
		{"G1 X1", nil},
		{"none", nil},
	} {
		vs, ok := values(c.line)
		var got []string
		for _, v := range vs {
			got = append(got, strings.ToUpper(v.axis)+v.text)
		}
		if !ok {
			got = nil
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.line, got, c.want)
		}
	}
}

// A number pasted on a page of two fields stands in the one that has the focus; two stand
// in both. Nothing counts before its Enter.
func TestPasteFillsTheFields(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, first, second string }{
		{"-26.5", "-26.5", ""},
		{"-26.5 -160.1\n", "-26.5", "-160.1"},
		{"-26.5\n-160.1\n", "-26.5", "-160.1"},
		{"X-26.5\tY-160.1", "-26.5", "-160.1"},
		{"Y-160.1 X-26.5", "-26.5", "-160.1"},
		{"Y-160.1\nX-26.5", "-26.5", "-160.1"},
		{"y = -160.1 x = -26.5", "-26.5", "-160.1"},
		{"X-26.5", "-26.5", ""},
	} {
		s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
		n := len(s.saved)
		s.Paste(c.text).Sees("pasted", "not taken yet", "Enter takes")
		if len(s.saved) != n {
			t.Fatalf("%q was taken", c.text)
		}
		x, y := s.m.entries["side2/bore/1/hit1.x"].Text(), s.m.entries["side2/bore/1/hit1.y"].Text()
		if x != c.first || y != c.second {
			t.Errorf("%q: fields %q and %q", c.text, x, y)
		}
		if c.second == "" {
			continue
		}
		s.Sees("hit 1 at ", "X", c.first, c.second)
		s.Enter()
		if s.m.top().(*walkPage).far != nil {
			s.Press("2").Plus()
		}
		s.Enter()
		if s.m.top().(*walkPage).far != nil {
			s.Press("2").Plus()
		}
		es := s.saved[n:]
		if len(es) != 2 || es[0].Value != c.first || es[1].Value != c.second || es[0].By != "pasted" || es[1].By != "pasted" {
			t.Errorf("%q: saved %+v", c.text, es)
		}
	}
}

// A number with an axis letter goes into the field of that axis, of the point that is asked;
// one that has no such field there is refused, and nothing of the paste is filled in.
func TestPasteGoesByItsLetters(t *testing.T) {
	t.Parallel()
	const x, y = "side2/bore/1/hit1.x", "side2/bore/1/hit1.y"
	at := func(field string) *screen { return practice(t, lid(t, "T"), 80, 24).at("bore", field) }
	s := at("hit1.x").Paste("Y-160.1")
	if s.m.entries[x].Text() != "" || s.m.entries[y].Text() != "-160.1" {
		t.Errorf("X holds %q, Y %q", s.m.entries[x].Text(), s.m.entries[y].Text())
	}
	for _, c := range []struct{ field, text, why string }{
		{"hit1.x", "Z-50", "Z-50 does not fit"},
		{"hit1.x", "X-26.5 Y-160.1\nZ-50", "Z-50 does not fit"},
		{"hit1.x", "1 2 3 4\n5 6 7 8", "4 numbers in a row"},
		{"hit1.x", "X-26.5 -160.1", "-160.1 has none"},
		{"hit1.x", "X-26.5 X-160.1", "X-160.1 does not fit"},
		{"hit1.y", "Y-160.1 X-26.5", "X-26.5 does not fit"}, // X of this hit was taken
		{"hit1.y", "X-26.5", "X-26.5 does not fit"},
		{"hit1.x", "X-26.5 Y-160.1 Y-160.2 Y-1", "Y-1 does not fit"},
	} {
		s := at(c.field)
		n := len(s.saved)
		s.Paste(c.text).Sees(c.why, "nothing is filled in")
		if s.m.entries[x].Text() != "" || s.m.entries[y].Text() != "" {
			t.Errorf("%q at %s: X holds %q, Y %q", c.text, c.field, s.m.entries[x].Text(), s.m.entries[y].Text())
		}
		if s.Plus(); len(s.saved) != n {
			t.Errorf("%q was taken", c.text)
		}
	}
	// An axis that is not read at a point is passed over, and shown.
	for _, c := range []struct {
		field, text string
		want        []string
	}{
		{"hit1.x", "X-26.5 Z-50", []string{"hit1.x -26.5"}},
		{"hit1.x", "Z-50 X-26.5 Y-160.1", []string{"hit1.x -26.5", "hit1.y -160.1"}},
		{"hit1.x", "X-26.5 Y-160.1 Z-50\nX-27.5 Y-161.1 Z-50", []string{"hit1.x -26.5", "hit1.y -160.1", "hit2.x -27.5", "hit2.y -161.1"}},
		{"hit1.x", "-26.5 -160.1 -50\n-27.5 -161.1 -50", []string{"hit1.x -26.5", "hit1.y -160.1", "hit2.x -27.5", "hit2.y -161.1"}},
		{"hit1.x", "[-26.5,-160.1,-50.0]\n[-27.5,-161.1,-50.0]", []string{"hit1.x -26.5", "hit1.y -160.1", "hit2.x -27.5", "hit2.y -161.1"}},
		{"hit5.x", "X-26.5 Y-160.1 Z-50\nX-27.5 Y-161.1 Z-50", []string{"hit5.x -26.5", "hit5.y -160.1", "hit6.x -27.5", "hit6.y -161.1"}},
	} {
		s := at(c.field)
		n := len(s.saved)
		s.Paste(c.text).Sees("A BLOCK OF READINGS", "not read here").Plus()
		var got []string
		for _, e := range s.saved[n:] {
			got = append(got, strings.TrimPrefix(e.Read, "side2/bore/1/")+" "+e.Value)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: saved %q, want %q", c.text, got, c.want)
		}
	}
	// Several points are shown together first, each number with the reading of its axis.
	s = at("hit1.x")
	n := len(s.saved)
	s.Paste("Y-160.1 X-26.5\nX-27.5 Y-161.1").Sees("A BLOCK OF READINGS", "4 numbers").Plus()
	var got []string
	for _, e := range s.saved[n:] {
		got = append(got, strings.TrimPrefix(e.Read, "side2/bore/1/")+" "+e.Value)
	}
	if want := []string{"hit1.y -160.1", "hit1.x -26.5", "hit2.x -27.5", "hit2.y -161.1"}; !slices.Equal(got, want) {
		t.Errorf("saved %q, want %q", got, want)
	}
	s = at("hit1.y") // the rest of a point, then the next one
	n = len(s.saved)
	if s.Paste("Y-160.1\nY-161.1 X-27.5").Sees("A BLOCK OF READINGS", "3 numbers").Plus(); len(s.saved) != n+3 || s.saved[n].Read != y || !strings.HasSuffix(s.saved[n+1].Read, "hit2.y") {
		t.Errorf("saved %+v", s.saved[n:])
	}
	// Typed or sent by a terminal that does not say what is pasted: the same.
	s = at("hit1.x")
	n = len(s.saved)
	if s.Type("Y-160.1").Enter().Sees("Y-160.1 does not fit"); len(s.saved) != n {
		t.Errorf("saved %+v", s.saved[n:])
	}
	s = at("hit1.x")
	n = len(s.saved)
	if s.Type("Y-160.1 X-268.3").Enter().Enter().Sees("A BLOCK OF READINGS").Plus(); len(s.saved) != n+2 || s.saved[n].Value != "-160.1" || !strings.HasSuffix(s.saved[n].Read, "hit1.y") {
		t.Errorf("saved %+v", s.saved[n:])
	}
}

// A block that is typed row by row takes pasted rows, too.
func TestPasteIntoTypedRows(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit4.x")
	n := len(s.saved)
	s.Type("1 2").Enter().Sees("A BLOCK OF READINGS", "2 numbers")
	s.Paste("3 4\n5 6").Sees("A BLOCK OF READINGS", "6 numbers")
	if len(s.saved) != n {
		t.Error("taken")
	}
}

// A paste far too long is refused once, in one frame; what comes before it is refused draws nothing and
// sets no timer but the first.
func TestALongPasteDrawsNothing(t *testing.T) {
	t.Parallel()
	s := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	n, frames, timers, before := len(s.saved), 0, 0, s.m.View()
	s.m.tick = func(time.Duration, tea.Msg) tea.Cmd { timers++; return nil }
	text := "\x1bO{" + strings.Repeat("X-123.456 Y22.5 Z1.25\r", pasteMost/10)
	for text != "" {
		m := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text[:1])}
		switch text[0] {
		case 0x1b:
			m = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text[1:3]), Alt: true}
			text = text[2:]
		case '\r':
			m = tea.KeyMsg{Type: tea.KeyEnter}
		}
		text = text[1:]
		s.m.Update(m)
		if v := s.m.View(); v != before {
			frames, before = frames+1, v
		}
		if !s.m.still && text != "" && frames == 0 && s.m.keys.pasting.text.Len() > 0 {
			t.Fatal("a frame is drawn for a key of a paste")
		}
	}
	if frames != 1 || timers > 1 || len(s.saved) != n || !strings.Contains(before, "is refused") {
		t.Errorf("%d frames, %d timers, %d events:\n%s", frames, timers, len(s.saved)-n, before)
	}
}
