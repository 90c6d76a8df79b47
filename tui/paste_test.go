package tui

import (
	"slices"
	"testing"
	"time"

	"fliptrue/jobs"
)

func TestValuesOfALine(t *testing.T) {
	for _, c := range []struct {
		line string
		want []string // nil: not to be guessed at
	}{
		{"1.25", []string{"1.25"}},
		{"1.25 -3", []string{"1.25", "-3"}},
		{"X1.0 Y-2,5", []string{"1.0", "-2,5"}},
		{"hit X1.0 mm Y2.0 mm", []string{"1.0 mm", "2.0 mm"}}, // a unit goes with its number
		{"0.5in 0.25in", []string{"0.5in", "0.25in"}},
		{"1.25 mm", []string{"1.25 mm"}},
		{"10:42 1.25", nil},
		{"1.0,2.0", nil},
		{"1 1/8in", []string{"1 1/8in"}}, // one number
		{"G1 X1", nil},
		{"none", nil},
	} {
		vs, ok := values(c.line)
		if !ok {
			vs = nil
		}
		if !slices.Equal(vs, c.want) {
			t.Errorf("%q: %q, want %q", c.line, vs, c.want)
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
			s.Plus()
		}
		s.Enter()
		if s.m.top().(*walkPage).far != nil {
			s.Plus()
		}
		es := s.saved[n:]
		if len(es) != 2 || es[0].Value != c.first || es[1].Value != c.second || es[0].By != "pasted" || es[1].By != "pasted" {
			t.Errorf("%q: saved %+v", c.text, es)
		}
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

// The program in a pseudo-terminal: the end of a paste is lost, and what is typed after it
// is not swallowed.
func TestPasteWithoutItsEnd(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("seconds of real time")
	}
	at := practice(t, lid(t, "T"), 80, 24).at("bore", "hit1.x")
	c := newConsole(t, 80, 24)
	o := at.o
	saved := make(chan jobs.Event, 16)
	o.Bench, o.Now = nil, time.Now
	o.Save = func(es []jobs.Event) error {
		for _, e := range es {
			saved <- e
		}
		return nil
	}
	done := make(chan error, 1)
	go func() { _, err := Run(o, Terminal{In: c.tty, Out: c.tty}); done <- err }()
	c.sees("What did the machine do meanwhile?")
	c.types("1")
	c.types("+")
	c.sees("Done?")
	c.types("+")
	c.sees("hit 1 at")
	c.master.WriteString("\x1b[200~-26.")
	c.sees("pasted into this field, not taken yet") // by itself
	c.types("5\r")
	select {
	case e := <-saved:
		if e.Value != "-26.5" || e.By != "pasted" || e.Read != "side2/bore/1/hit1.x" {
			t.Errorf("saved %+v", e)
		}
	case <-time.After(5 * time.Second):
		t.Fatalf("nothing was taken:\n%s", c.text())
	}
	c.types("\x03\x03")
	select {
	case <-done:
	case <-time.After(5 * time.Second):
		t.Fatalf("it does not end:\n%s", c.text())
	}
}
