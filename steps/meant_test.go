package steps

import "testing"

func TestWordsWithoutLetters(t *testing.T) {
	offset := Ask{Kind: Text, Want: "G54", What: What{Of: "offset-word"}}
	id := Ask{Kind: Text, Want: "FX-3", What: What{Dir: "id"}}
	for _, c := range []struct {
		a           Ask
		typed, want string
		pass        bool
	}{
		{offset, "54", "G54", true},
		{offset, "g54", "g54", true},
		{offset, "55", "G55", false},
		{offset, "59.1", "G59.1", false},
		{offset, "5", "5", false},
		{offset, "541", "541", false},
		{id, "3", "FX-3", true},
		{id, "03", "FX-3", true},
		{id, "-3", "FX-3", true},
		{id, "4", "4", false},
		{id, "33", "33", false},
		{id, "FY-3", "FY-3", false},
		{Ask{Kind: Text, Want: "FX-3-12"}, "3-12", "FX-3-12", true},
		{Ask{Kind: Text, Want: "FX-3-12"}, "312", "312", false},
		{Ask{Kind: Text}, "25", "25", false}, // nothing is wanted: as typed
	} {
		if got := meant(c.a, c.typed); got != c.want {
			t.Errorf("%q for %q was taken as %q, want %q", c.typed, c.a.Want, got, c.want)
		}
		if ok := wanted(c.a, c.typed).Verdict == Pass; c.a.Want != "" && ok != c.pass {
			t.Errorf("%q for %q passes: %t", c.typed, c.a.Want, ok)
		}
	}
	if a := Named(Ask{Kind: Text, Want: "LID"}); a.Kind != Choice || len(a.Options) != 2 {
		t.Errorf("a name without figures can't be given on a keypad: %+v", a)
	}
}

// Letters that were not typed are asked about before they count: 3 on the plate may be FX-3 or FY-3.
func TestLettersNotTypedAreAskedAbout(t *testing.T) {
	id := Ask{Kind: Text, Want: "FX-3", What: What{Dir: "id"}}
	for typed, want := range map[string]string{"3": "that is FX-3: letters as engraved?", "FX-3": "FX-3", "fx-3": "fx-3", "4": "4"} {
		if got := echoed(id, typed, meant(id, typed)); got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
	word := Ask{Kind: Text, Want: "G54", What: What{Dir: "offset-word"}}
	if got := echoed(word, "54", meant(word, "54")); got != "G54" {
		t.Errorf("54: %q", got)
	}
}
