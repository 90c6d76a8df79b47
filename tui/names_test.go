package tui

import (
	"regexp"
	"strings"
	"testing"

	"fliptrue/steps/bench"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"

	"github.com/charmbracelet/x/ansi"
)

// inside are shapes of names that mean something to the program only: a.b of a limit or
// field, words_joined or wordsJoined of an identifier, kind/thing of a fact, a Go value.
var inside = regexp.MustCompile(`\b[a-z][a-z0-9-]*\.[a-z][a-z0-9.-]*|\b[a-z]+_[a-z]+|\b[a-z]+[A-Z][a-z]+|\b(length|tram|ball|program|part)/[a-z0-9]+|%!|map\[|&\{|<nil>`)

// outside are words of the trade, files of the job and keys that a person writes in it.
var outside = regexp.MustCompile(`\bcut\.regions\b|\.nc\b|\.yaml\b|\be\.g\.|\bcalliper|\bmN|\bkN|\bgN|\bN·m`)

// minusZero is a number that is none: what rounds to zero has no sign.
var minusZero = regexp.MustCompile(`(^|[^0-9.])-0(\.0+)?($|[^0-9.])`)

// named is the first inside name, or minus zero, in a text.
func named(text string) string {
	for _, f := range strings.Fields(text) {
		for _, n := range inside.FindAllString(f, -1) {
			if !outside.MatchString(f) {
				return n
			}
		}
	}
	return minusZero.FindString(text)
}

func TestNamedFindsNames(t *testing.T) {
	for _, s := range []string{"length.repeat 0.01", "hit4.x", "offset.register", "not_proven", "wantWhy", "length/3", "tram/column", "is -0.000 mm", "-0 deg", "turned -0.0000 deg"} {
		if named(s) == "" {
			t.Errorf("%q passes", s)
		}
	}
	for _, s := range []string{"see top.nc", "12.5 mm. Then on", "0.010 mm/100 mm", "X-0.012", "-0.05", "8/10", "58 mN·m", "G54 Z-0.5"} {
		if n := named(s); n != "" {
			t.Errorf("%q: %q", s, n)
		}
	}
}

// words are all that a screen says outside its picture, where letters lie among others.
func (s *screen) words() string {
	body, _ := s.m.text()
	ls := append([]string{s.m.head()}, s.m.banners()...)
	ls = append(append(ls, body...), s.m.foot()...)
	return ansi.Strip(strings.Join(append(ls, s.m.list(40, 100)...), " "))
}

// TestNoInsideNames walks the built-in job in every plan, sound and with each mistake of the
// bench, and reads every page, list and verdict on the way as a person would.
func TestNoInsideNames(t *testing.T) {
	t.Parallel()
	for _, hold := range []string{"T", "M", "S"} {
		t.Run(hold, func(t *testing.T) {
			t.Parallel()
			s := practice(t, lid(t, hold), 100, 48)
			s.quiet = true
			ids := map[string]bool{}
			bare := func(v string) string { // ids without a shape of their own, such as tool-pulled
				for _, w := range strings.FieldsFunc(v, func(r rune) bool { return strings.ContainsRune(" ,;:()", r) }) {
					if ids[w] {
						return w
					}
				}
				return ""
			}
			for _, h := range facts.Mishaps.Rows {
				ids[string(h.ID)] = true
			}
			read := func(where string) {
				t.Helper()
				v := s.words()
				if n := named(v) + bare(v); n != "" {
					t.Errorf("%s: %q is on the screen:\n%s", where, n, s.View())
				}
			}
			seen := map[string]bool{}
			for n := 0; n < 900 && !t.Failed() && !(s.state().Released && s.state().Cursor.Idle); n++ {
				for _, ss := range s.state().Steps { // limits and fields of all steps that are known by now
					for _, c := range ss.Outcome.Checks {
						if strings.Contains(c.Limit.ID, "-") {
							ids[c.Limit.ID] = true
						}
					}
				}
				key := s.kind()
				read(key)
				if f := s.m.focus(); !seen[key] && (!f.field() || f.empty()) {
					seen[key] = true
					over := [][]string{{"?"}, {"*"}, {"f4"}, {"f7"}, {"l", "enter"}, {"f2"}}
					if hold != "T" { // most steps are the same
						over = [][]string{{"f7"}}
					}
					for _, k := range over {
						s.Press(k...)
						read(key + " then " + strings.Join(k, " "))
						for len(s.m.over) > 0 {
							s.Press("esc")
						}
						s.m.view = Whole
					}
				}
				if s.state().Released && n > 400 {
					break
				}
				s.next()
			}
			if len(seen) < 20 {
				t.Fatalf("only %d kinds of page were seen", len(seen))
			}
			// All lost: the banner, the way back, the list.
			s = practice(t, lid(t, hold), 100, 48)
			s.until(func() bool {
				n := 0
				for _, ss := range s.state().Steps {
					if ss.Verdict == fold.Pass {
						n++
					}
				}
				return n >= 12
			})
			for _, h := range facts.Offered() {
				s.declare(h.ID)
				s.Sees("VOID")
				read("after " + string(h.ID))
				s.m.push(newWayPage(s.m))
				read("the way back after " + string(h.ID))
				s.m.home()
				s.Press("/")
				read("the steps after " + string(h.ID))
				s.Press("esc")
			}
			t.Logf("%d pages", len(seen))
		})
	}
}

// TestMistakesHaveWords does the same where a mistake of the bench is first in the way.
func TestMistakesHaveWords(t *testing.T) {
	t.Parallel()
	for _, k := range bench.Mistakes() {
		t.Run(k.Name, func(t *testing.T) {
			t.Parallel()
			s := practice(t, lid(t, "T"), 100, 48)
			if err := s.world.Make(k.Name, k.Size); err != nil {
				t.Skip(err)
			}
			for n := 0; n < 400 && !s.state().Released; n++ {
				w, ok := s.m.top().(*walkPage)
				if s.state().Cursor.Decide || ok && w.far != nil {
					for _, k := range []string{"", "f7", "f4"} {
						if k != "" {
							s.Press(k)
						}
						if n := named(s.words()); n != "" {
							t.Errorf("%q is on the screen:\n%s", n, s.View())
						}
						s.m.home()
					}
					if s.state().Cursor.Decide {
						return
					}
				}
				s.next()
			}
		})
	}
}

// An ask that nobody could answer is a mistake of the step, and said where it stands.
func TestUnanswerable(t *testing.T) {
	for _, c := range []struct {
		a    fold.Ask
		good bool
	}{
		{fold.Ask{Label: "the arrow points", Kind: fold.Choice, Options: []string{"left", "right"}}, true},
		{fold.Ask{Label: "the arrow points", Kind: fold.Choice}, false},
		{fold.Ask{Label: "the arrow points", Kind: fold.Choice, Options: make([]string, 10)}, false},
		{fold.Ask{Kind: fold.Reading}, false},
		{fold.Ask{Label: "hit 1, X", Kind: fold.Reading}, true},
	} {
		if got := unanswerable(c.a); (got == "") != c.good {
			t.Errorf("%+v: %q", c.a, got)
		}
	}
}
