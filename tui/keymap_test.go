package tui

import (
	"slices"
	"strings"
	"testing"
)

func focuses() []Focus {
	var out []Focus
	for p := Lists; p <= Asks; p++ {
		out = append(out, Focus{Place: p})
		if (Focus{Place: p}).field() {
			out = append(out, Focus{Place: p, Text: "4"})
		}
	}
	return out
}

// TestOneOwnerPerKey: at no focus do two bindings claim the same key, so order in
// the map decides nothing. Tab in a filled reading field is the one exception:
// there it ends the entry, as a gauge means it.
func TestOneOwnerPerKey(t *testing.T) {
	km := DefaultKeys()
	for _, f := range focuses() {
		owner := map[string]Intent{}
		for _, b := range km {
			if !b.in(f) {
				continue
			}
			for _, k := range b.Keys() {
				if o, ok := owner[k]; ok && !(o == Take && b.Intent == Next) {
					t.Errorf("%+v: %q belongs to %q and %q", f, k, o, b.Intent)
				} else if !ok {
					owner[k] = b.Intent
				}
			}
		}
	}
}

// TestOnlyPlusAnswers and only an ending takes.
func TestOnlyPlusAnswers(t *testing.T) {
	for _, b := range DefaultKeys() {
		if b.Intent == Answer && !slices.Equal(b.Keys(), []string{"+"}) {
			t.Errorf("%v answers", b.Keys())
		}
		if b.Intent == Take && !slices.Equal(b.In, []Place{Reads}) {
			t.Errorf("takes in %v", b.In)
		}
	}
}

// TestKeypadDoesEverything: what the work needs is on the numeric keypad, the
// arrows, Enter and Esc.
func TestKeypadDoesEverything(t *testing.T) {
	pad := strings.Fields("0 1 2 3 4 5 6 7 8 9 . , + - * / enter esc up down left right home end pgup pgdown")
	for _, need := range []Intent{Take, Answer, Back, Happened, Open, Choose, Close, Up, Down} {
		ok := false
		for _, b := range DefaultKeys() {
			for _, k := range b.Keys() {
				ok = ok || b.Intent == need && slices.Contains(pad, k)
			}
		}
		if !ok {
			t.Errorf("%q is not on the keypad", need)
		}
	}
}

func TestFunctionKeysHaveALetter(t *testing.T) {
	for _, b := range DefaultKeys() {
		if b.When == filled || len(b.Keys()) == 0 {
			continue
		}
		for _, k := range b.Keys() {
			if len(k) > 1 && k[0] == 'f' && !slices.ContainsFunc(b.Keys(), func(o string) bool { return len(o) == 1 }) {
				t.Errorf("%s for %q has no letter", k, b.Intent)
			}
			if k == "ctrl+i" || k == "ctrl+m" || k == "ctrl+[" || k == "f13" || strings.HasPrefix(k, "alt+") {
				t.Errorf("%s cannot be told from another key", k)
			}
		}
	}
}

func TestDisabledKeySaysWhy(t *testing.T) {
	off := map[Intent]string{Waive: "no limit has failed"}
	found := false
	for _, h := range DefaultKeys().Help(Focus{Place: Asks}, off) {
		if h.Off != "" {
			found = h.Off == "no limit has failed" && h.Keys == "F7 or w"
		}
	}
	if !found {
		t.Error("the disabled key is not listed with its reason")
	}
}

func TestBottomLineFits(t *testing.T) {
	km := DefaultKeys()
	for _, f := range focuses() {
		var items []string
		for _, h := range km.Bottom(f, nil) {
			items = append(items, h.Keys+" "+h.Short)
		}
		if line := strings.Join(items, "  "); Width(line) > FullWidth {
			t.Errorf("%+v: %d cells: %q", f, Width(line), line)
		}
	}
}

func TestKeypadSheet(t *testing.T) {
	got := strings.Join(DefaultKeys().Keypad(), "\n")
	for _, want := range []string{"empty field: back", "pause point: answer", "something happened", "reading: take"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
	for _, l := range DefaultKeys().Keypad() {
		if Width(l) > FullWidth {
			t.Errorf("%q is too wide", l)
		}
	}
}

// TestSlashIsNoRubbish: in a number a / makes a fraction or is refused with what it does;
// pressed to go back it never ends up in the entry.
func TestSlashIsNoRubbish(t *testing.T) {
	km := DefaultKeys()
	for _, place := range []Place{Reads, Answers} {
		for text, want := range map[string]Intent{"": Back, "1": Insert, "-26": Insert, "1 3": Insert, "X1": Insert, "-": None, "-228.04": None,
			"12,5": None, "1/32": None, "3mm": None, "0.5 1/32": None} {
			in, why := km.Of(Stroke{Name: "/", Rune: '/'}, Focus{Place: place, Text: text})
			if in != want || want == None && !strings.Contains(why, "Backspace") {
				t.Errorf("%d %q: %q, %q", place, text, in, why)
			}
		}
	}
	if in, _ := km.Of(Stroke{Name: "/", Rune: '/'}, Focus{Place: Words, Text: "n/a"}); in != Insert {
		t.Errorf("in words: %q", in)
	}
}
