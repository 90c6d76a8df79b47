package fold_test

import (
	"testing"

	"fliptrue/steps/fold"
)

func TestWordsWithoutLetters(t *testing.T) {
	offset := fold.Ask{Kind: fold.Text, Want: "G54", What: fold.What{Of: "offset-word"}}
	id := fold.Ask{Kind: fold.Text, Want: "FX-3", What: fold.What{Dir: "id"}}
	for _, c := range []struct {
		a           fold.Ask
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
		{fold.Ask{Kind: fold.Text, Want: "FX-3-12"}, "3-12", "FX-3-12", true},
		{fold.Ask{Kind: fold.Text, Want: "FX-3-12"}, "312", "312", false},
		{fold.Ask{Kind: fold.Text}, "25", "25", false}, // nothing is wanted: as typed
	} {
		if got := toys().Meant(c.a, c.typed); got != c.want {
			t.Errorf("%q for %q was taken as %q, want %q", c.typed, c.a.Want, got, c.want)
		}
		if ok := toys().Wanted(c.a, c.typed).Verdict == fold.Pass; c.a.Want != "" && ok != c.pass {
			t.Errorf("%q for %q passes: %t", c.typed, c.a.Want, ok)
		}
	}
	if a := fold.Named(fold.Ask{Kind: fold.Text, Want: "LID"}); a.Kind != fold.Choice || len(a.Options) != 2 {
		t.Errorf("a name without figures can't be given on a keypad: %+v", a)
	}
}

// Letters that were not typed are asked about before they count: 3 on the plate may be FX-3 or FY-3.
func TestLettersNotTypedAreAskedAbout(t *testing.T) {
	id := fold.Ask{Kind: fold.Text, Want: "FX-3", What: fold.What{Dir: "id"}}
	for typed, want := range map[string]string{"3": "that is FX-3: letters as engraved?", "FX-3": "FX-3", "fx-3": "fx-3", "4": "4"} {
		if got := fold.Echoed(id, typed, toys().Meant(id, typed)); got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
	word := fold.Ask{Kind: fold.Text, Want: "G54", What: fold.What{Dir: "offset-word"}}
	if got := fold.Echoed(word, "54", toys().Meant(word, "54")); got != "G54" {
		t.Errorf("54: %q", got)
	}
}
