package tui

import (
	"slices"
	"strings"
	"testing"
)

func TestLeads(t *testing.T) {
	got := leads([]string{"Dial in the spindle, stylus on the edge: LEFT end. Come from one side.", "Zero it."})
	want := []lead{
		{"Dial in the spindle, stylus on the edge: LEFT end.", "Come from one side."},
		{"Dial in the spindle, stylus on the edge", "LEFT end. Come from one side."},
		{"Dial in the spindle", "Stylus on the edge: LEFT end. Come from one side."},
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	if got := leads([]string{"Jog to W Z+38.000"}); len(got) != 1 || got[0].head != "Jog to W Z+38.000" || got[0].rest != "" {
		t.Errorf("%q", got)
	}
	if leads(nil) != nil || leads([]string{""}) != nil {
		t.Error("a lead of nothing")
	}
}

// TestFarActsStandTall: from where the person stands, every act begins in tall letters, all
// of the rest is on the page, and nothing is cut.
func TestFarActsStandTall(t *testing.T) {
	t.Parallel()
	for _, hold := range []string{"T", "S"} {
		s := practice(t, lid(t, hold), 80, 24)
		s.quiet = true
		acts, titles := 0, 0
		seen := map[string]bool{}
		for n := 0; n < 700 && !s.state().Released; n++ {
			if w, ok := s.m.top().(*walkPage); ok && w.doing(s.m) && !seen[w.key(s.m)] {
				seen[w.key(s.m)] = true
				acts++
				s.m.view = FarView
				if err := broken(s.m, 80, 24); err != nil {
					t.Fatalf("%v:\n%s", err, s.View())
				}
				v := s.View()
				tall := 0
				for _, l := range strings.Split(v, "\n") {
					if strings.ContainsAny(l, "█▀▄") {
						tall++
					}
				}
				if tall < 3 || strings.Contains(v, "PgDn") || strings.Contains(v, "~") {
					t.Errorf("%s: %d tall lines, or something is out of sight:\n%s", hold, tall, v)
				}
				// What does not stand in tall letters stands in plain ones.
				said := sayWords(w.acts(s.m))
				missing := missingWords(v, strings.Join(said, " "))
				heads := []string{}
				for _, l := range leads(said) {
					heads = append(heads, strings.Join(missingWords("", l.head), " "))
				}
				if len(missing) == 0 {
					titles++
				} else if !slices.Contains(heads, strings.Join(missing, " ")) && !subset(missing, heads) {
					t.Errorf("%s: %q is missing:\n%s", hold, missing, v)
				}
				s.m.view = Whole
			}
			s.next()
		}
		if acts < 20 || titles*3 > acts {
			t.Errorf("%s: %d acts, of which %d have only the step's name in tall letters", hold, acts, titles)
		}
		t.Logf("%s: %d acts, %d of them under the step's name", hold, acts, titles)
	}
}

// missingWords are the words of a text that are not on a screen, in small letters.
func missingWords(v, text string) []string {
	var out []string
	v = strings.ToLower(joined(v))
	for _, w := range strings.Fields(strings.ToLower(text)) {
		if v == "" || !strings.Contains(v, strings.Trim(w, ".,:;")) {
			out = append(out, strings.Trim(w, ".,:;"))
		}
	}
	return out
}

// subset reports that all words belong to one of the heads: some of a head may be said again below it.
func subset(words, heads []string) bool {
	for _, h := range heads {
		in := strings.Fields(h)
		if !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(in, w) }) {
			return true
		}
	}
	return false
}

// TestCautionActAndQuestionTogether: on every page that says what to do, the caution, all of
// the act and the question are on the screen at once before anything is scrolled.
func TestCautionActAndQuestionTogether(t *testing.T) {
	t.Parallel()
	for _, hold := range []string{"T", "M", "S"} {
		s := practice(t, lid(t, hold), 80, 24)
		s.quiet = true
		seen := map[string]bool{}
		for n := 0; n < 700 && !s.state().Released; n++ {
			if w, ok := s.m.top().(*walkPage); ok && w.doing(s.m) && !seen[w.key(s.m)] {
				seen[w.key(s.m)] = true
				b := s.m.o.Bench
				for _, bench := range []Bench{b, nil} { // at a machine the question is shorter
					s.m.o.Bench = bench
					v := s.View()
					texts := append(sayWords(w.acts(s.m)), "Done?  +")
					if ss, _ := s.m.st.Step(s.m.st.Cursor.Step); w.cautions(s.m, ss, true) {
						texts = append(texts, s.m.pg.Caution)
					}
					for _, want := range texts {
						if miss := missingWords(v, want); len(miss) > 0 || strings.Contains(v, "PgUp") {
							t.Errorf("%s: %q is out of sight:\n%s", hold, miss, v)
						}
					}
				}
				s.m.o.Bench = b
			}
			s.next()
		}
		if len(seen) < 15 {
			t.Errorf("%s: only %d acts", hold, len(seen))
		}
	}
}
