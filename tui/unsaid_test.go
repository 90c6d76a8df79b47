package tui

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
)

func TestUnsaid(t *testing.T) {
	said := []string{"It moved.", "check ring and ball."}
	for text, want := range map[string]string{
		"It moved. Clamp it and sweep again.":          "Clamp it and sweep again.",
		"Wipe it, take it again: check ring and ball.": "Wipe it, take it again.",
		"It moved.": "",
		"It moved 0.1. It moved. Tap it by 0.2 mm, read.": "It moved 0.1. Tap it by 0.2 mm, read.",
	} {
		if got := unsaid(text, said); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// TestNothingIsSaidTwice on the page of a step that fails: the headline, the name of the check and what comes next
// were one sentence three times. Two limits of one name are told apart.
func TestNothingIsSaidTwice(t *testing.T) {
	for walk, wants := range map[string][]string{
		"T!clamp-left-on!unstrap": {"A clamp left in the path is thrown by the cutter.", "Take the last clamp off"},
		"tram!arm-slipped!tram":   {"NEXT Clamp it and sweep again.", "along X", "along Y"},
		"ball!loose-stylus!ball":  {"NEXT Wipe ring and ball, take the hits again."},
	} {
		what, mistake, _ := strings.Cut(walk, "!")
		mistake, step, _ := strings.Cut(mistake, "!")
		s := practice(t, walked(t, what), 80, 24)
		if err := s.world.Make(mistake, 0); err != nil {
			t.Fatal(err)
		}
		s.until(func() bool {
			v, ok := s.m.top().(*verdictPage)
			return ok && !v.passed && string(v.step) == step
		})
		s.Sees(wants...)
		var seen []string
		for _, line := range sentences(strings.Join(strings.Fields(ansi.Strip(s.m.wording())), " ")) {
			for _, said := range seen {
				if len(said) > 24 && strings.Contains(line, said) {
					t.Errorf("%s: %q is said twice:\n%s", walk, said, s.View())
				}
			}
			seen = append(seen, line)
		}
	}
}

// TestUrgentIsAnAct: in tall letters stands what to do, never the clause that says when.
func TestUrgentIsAnAct(t *testing.T) {
	for text, want := range map[string]string{
		"While cutting: E-STOP or feed hold. Wait.":           "While cutting: E-STOP or feed hold.|E-STOP or feed hold.|E-STOP",
		"Spindle stopped, its command off. Then hands go in.": "Spindle stopped, its command off.|Spindle stopped",
		"Hands off.": "Hands off.",
	} {
		if got := strings.Join(urgent(text), "|"); got != want {
			t.Errorf("%q: %s", text, got)
		}
	}
	p := lid(t, "T")
	for _, l := range []Look{{Colour: Off, ASCII: true}, {Colour: Off}} {
		for _, z := range [][2]int{{80, 24}, {60, 20}, {120, 36}} {
			s := practice(t, p, z[0], z[1]).at("bore", "hit2.x")
			s.m.t = theme(l)
			s.Press("*", "1", "enter")
			if l.ASCII && z[0] == 60 {
				continue // five-line letters leave the question no room
			}
			if rows := strings.Count(s.View(), "##") + strings.Count(s.View(), "██") + strings.Count(s.View(), "▀▀"); rows < 9 {
				t.Errorf("%v, ASCII %v: nothing tall:\n%s", z, l.ASCII, s.View())
			}
		}
	}
}
