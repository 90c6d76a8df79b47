package bench_test

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// mostWords is how many words a sentence may have, a number counting as one.
const mostWords = 18

// sentences of a text: they end in a full stop, a question or an exclamation mark.
func sentences(text string) []string {
	var out []string
	from := 0
	for i := 0; i < len(text); i++ {
		if strings.IndexByte(".?!", text[i]) >= 0 && (i+1 == len(text) || text[i+1] == ' ') {
			out = append(out, strings.TrimSpace(text[from:i+1]))
			from = i + 1
		}
	}
	if rest := strings.TrimSpace(text[from:]); rest != "" {
		out = append(out, rest)
	}
	return out
}

// spoken are the texts that words.golden has.
func (s *said) spoken() map[string]bool {
	out := map[string]bool{}
	for l := range s.lines {
		_, text, _ := strings.Cut(l, ": ")
		out[text] = true
	}
	return out
}

func (s *said) long() (out []string) {
	for text := range s.spoken() {
		for _, x := range sentences(text) {
			if len(words(x)) > mostWords {
				out = append(out, x)
			}
		}
	}
	return out
}

// unwanted are sentences with a word that has a better one, the word first.
func (s *said) unwanted(not []string) (out []string) {
	for text := range s.spoken() {
		for _, x := range sentences(text) {
			for _, w := range words(x) {
				for _, n := range not {
					if w == n || w == n+"s" {
						out = append(out, n+": "+x)
					}
				}
			}
		}
	}
	return out
}

// notWords is the column "not" of the table of words in DEVELOPERS.md.
func notWords(t *testing.T) (out []string) {
	t.Helper()
	b, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, table, ok := strings.Cut(string(b), "| word | means | not |")
	if !ok {
		t.Fatal("DEVELOPERS.md has no table | word | means | not |")
	}
	for _, row := range strings.Split(table, "\n")[2:] {
		cells := strings.Split(row, "|")
		if len(cells) < 5 {
			break
		}
		for _, w := range strings.Split(cells[3], ",") {
			out = append(out, strings.TrimSpace(w))
		}
	}
	if len(out) < 20 || !slices.Contains(out, "margin") {
		t.Fatalf("words not to be used: %v", out)
	}
	return out
}

func TestSentenceRules(t *testing.T) {
	for text, want := range map[string]string{
		"Move X -3.25 to 1/2in (T5).":         "Move X # to #in (T#).",
		"side 1 and side 3, 1,5 mm  on side2": "side 1 and side #, # mm on side2",
		"a-3 G54 +0.1":                        "a-# G# #",
	} {
		if got := numbersOut(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
	s := newSaid()
	s.say(setting{tag: "in", inch: true}, "k", "s", "act", "One two three. It is 3 mm. Too many attempts!", strings.Repeat("word ", 18)+"19.")
	if l := s.long(); len(l) != 1 {
		t.Errorf("long: %q", l)
	}
	if u := s.unwanted([]string{"attempt"}); len(u) != 1 || u[0] != "attempt: Too many attempts!" {
		t.Errorf("unwanted: %q", u)
	}
	if len(s.mm) != 1 {
		t.Errorf("mm: %v", s.mm)
	}
	s.say(setting{tag: "in", inch: true}, "k", "s", "act", "It looks like mm typed as inches: 3.", "It is 5 °C (9 °F) warmer.", "It is 5 °C.", "It bears 20 MPa.")
	if len(s.mm) != 3 {
		t.Errorf("mm: %v", s.mm)
	}
	s.say(setting{tag: "mm"}, "k", "s", "act", "Raise Z by 25.", "It is 3.")
	s.say(setting{tag: "in", inch: true}, "k", "s", "act", "Raise Z by 25.", "It is 4.")
	if f := s.fixed(); len(f) != 1 || f[0] != "Raise Z by #." {
		t.Errorf("fixed: %q", f)
	}
	for _, c := range []struct {
		literal string
		reached bool
	}{
		{"it is %.1f MM. too %s attempts", true}, {"is {0.005} mm. Too", true}, {"many attempts one two", false},
		{"Too %d three one", false}, {"One two four", false},
	} {
		if n := len(s.unreached([]string{c.literal})); (n == 0) != c.reached {
			t.Errorf("%q: reached %v, want %v", c.literal, n == 0, c.reached)
		}
	}
}
