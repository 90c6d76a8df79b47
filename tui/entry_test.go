package tui

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestAlignPoint(t *testing.T) {
	for _, c := range []struct{ pred, entry, want string }{
		{"-312.445", "-312.4", "    -312.445    \n    -312.4      "},
		{"-312.445", "-31.2445", "    -312.445    \n     -31.2445   "},
		{"-312.445", "", "    -312.445    \n                "},
		{"8.000", "8", "       8.000    \n       8        "},
		{"12.5", "12,48mm", "        12.5    \n        12,48mm "},
		{"12.5", "0.123456789", "    12.5        \n     0.123456789"},
	} {
		p, e := AlignPoint(c.pred, c.entry, 16)
		if got := p + "\n" + e; got != c.want {
			t.Errorf("%s over %s:\n%q\nwant\n%q", c.pred, c.entry, got, c.want)
		}
	}
}

// TestEntryIsAnEditor compares Entry with the plainest model of a text with a
// mark: a slice of runes cut in two.
func TestEntryIsAnEditor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var e Entry
		var l, r []rune
		for range rapid.IntRange(0, 120).Draw(t, "n") {
			before := e
			switch rapid.IntRange(0, 7).Draw(t, "op") {
			case 0, 1, 2:
				x := rapid.SampledFrom([]rune("0123456789.,+-/\"mµ")).Draw(t, "r")
				var ok bool
				e, ok = e.Insert(string(x))
				if full := len(l)+len(r) >= EntryMax; full == ok {
					t.Fatalf("full %v, taken %v", full, ok)
				} else if ok {
					l = append(l, x)
				}
			case 3:
				e = e.Backspace()
				if len(l) > 0 {
					l = l[:len(l)-1]
				}
			case 4:
				e = e.Delete()
				if len(r) > 0 {
					r = r[1:]
				}
			case 5:
				e = e.Move(-1)
				if n := len(l); n > 0 {
					r = append([]rune{l[n-1]}, r...)
					l = l[:n-1]
				}
			case 6:
				e = e.Move(1)
				if len(r) > 0 {
					l = append(l, r[0])
					r = r[1:]
				}
			case 7:
				n := rapid.IntRange(0, 5).Draw(t, "drop")
				e = e.Drop(n)
				l = l[:max(len(l)-n, 0)]
			}
			if want := string(l) + string(r); e.Text() != want || e.Cursor() != len(l) {
				t.Fatalf("%q at %d, want %q at %d (from %q)", e.Text(), e.Cursor(), want, len(l), before.Text())
			}
			if Width(e.Shown()) != len(l)+len(r)+1 {
				t.Fatalf("shown %q", e.Shown())
			}
		}
	})
}

func TestAlphabet(t *testing.T) {
	for _, r := range "0123456789.,+-/\" " {
		if !Accepts(Reads, r, true) {
			t.Errorf("%q refused", r)
		}
	}
	for _, r := range "*?[]\x1b\u00a0漢" {
		if Accepts(Reads, r, false) {
			t.Errorf("%q taken", r)
		}
	}
	if Accepts(Reads, 'm', true) || !Accepts(Reads, 'm', false) {
		t.Error("a unit stands behind a digit")
	}
	if !Accepts(Words, 'F', true) || !Accepts(Words, 'Ø', true) {
		t.Error("a text field takes what prints")
	}
}

func TestText(t *testing.T) {
	if got := Cut("compass", 4); got != "com~" {
		t.Errorf("%q", got)
	}
	if got := Pad("Ø8", 5); Width(got) != 5 {
		t.Errorf("%q", got)
	}
	if got := strings.Join(Wrap("tap the right end away from you", 12), "|"); got != "tap the|right end|away from|you" {
		t.Errorf("%q", got)
	}
	if got := strings.Join(WrapHung("2. ", "spindle stopped", 12), "|"); got != "2. spindle|   stopped" {
		t.Errorf("%q", got)
	}
	if got := strings.Join(Columns([][]string{{"x", "1.5"}, {"edge", "-12.5"}}, 2, func(c int) bool { return c == 1 }), "/"); got != "x       1.5/edge  -12.5" {
		t.Errorf("%q", got)
	}
}

func TestBigDigits(t *testing.T) {
	for _, c := range []struct {
		tall  int
		ascii bool
		want  string
	}{
		{3, false, `
    ▀▀█ █▀▀   ▀▀█
▀▀▀ █▀▀ ▀▀█    ▀█
    ▀▀▀ ▀▀▀ ▀ ▀▀▀`},
		{3, true, `
     _   _     _
 _   _| |_     _|
    |_   _| .  _|`},
		{5, true, `
       ###### ######    ######
           ## ##            ##
###### ###### ######      ####
       ##         ##        ##
       ###### ###### ## ######`},
	} {
		var got strings.Builder
		lines := Big("-25.3", c.tall, c.ascii)
		for _, l := range lines {
			got.WriteString("\n" + strings.TrimRight(l, " "))
			if Width(l) != Width(lines[0]) {
				t.Errorf("ragged: %q", l)
			}
		}
		if got.String() != c.want {
			t.Errorf("tall %d ascii %v%s", c.tall, c.ascii, got.String())
		}
	}
	// No two digits may look alike.
	for _, tall := range []int{3, 5} {
		for _, ascii := range []bool{false, true} {
			seen := map[string]rune{}
			for _, r := range "0123456789+-.,/" {
				g := strings.Join(Big(string(r), tall, ascii), "\n")
				if o, ok := seen[g]; ok {
					t.Errorf("%c and %c look alike", o, r)
				}
				seen[g] = r
			}
		}
	}
	if BigFits("-267.450", 30, 10) != 3 || BigFits("-267.450", 60, 10) != 5 || BigFits("-267.450", 60, 2) != 0 {
		t.Error("BigFits")
	}
}

// A second sign takes the place of the first; between digits it is a sign like any other.
func TestASignTakesTheSignsPlace(t *testing.T) {
	for keys, want := range map[string]string{"++": "+", "+-": "-", "--5": "-5", "+5-": "+5-"} {
		e := Entry{}
		for _, r := range keys {
			e, _ = e.Do(Insert, r)
		}
		if e.Text() != want {
			t.Errorf("%s: %q, want %q", keys, e.Text(), want)
		}
	}
}
