package tui

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
	"github.com/muesli/termenv"
)

// luminance and contrast are the relative luminance and contrast ratio of WCAG
// 2.1 (W3C Recommendation 2018, definitions; from memory).
func luminance(hex string) float64 {
	c, err := colorful.Hex(hex)
	if err != nil {
		panic(err)
	}
	lin := func(v float64) float64 {
		if v <= 0.03928 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}

func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	// Black on white is 21:1 by definition; #767676 on white is the well-known
	// lightest grey that reaches 4.5 (4.54; common practice).
	if c := contrast("#000000", "#ffffff"); math.Abs(c-21) > 1e-9 {
		t.Errorf("black on white %v", c)
	}
	if c := contrast("#767676", "#ffffff"); math.Abs(c-4.54) > 0.005 {
		t.Errorf("#767676 on white %v", c)
	}
}

// TestContrast asserts 4.5:1 (WCAG 2.1, 1.4.3) for every colour on the darkest and
// a lighter dark background, and on white and an off-white one.
func TestContrast(t *testing.T) {
	worst := math.Inf(1)
	for r, tn := range palette {
		for _, c := range []struct{ fg, bg, rev string }{
			{tn.dark, "#000000", "#000000"}, {tn.dark, "#1e1e2e", "#000000"}, {tn.dark, "#2b2b2b", "#000000"},
			{tn.light, "#ffffff", "#ffffff"}, {tn.light, "#f2efe6", "#ffffff"},
		} {
			if c.fg == "" {
				continue // the terminal's own colour
			}
			bg := c.bg
			if tn.attr&reverse != 0 {
				bg = c.rev
			}
			k := contrast(c.fg, bg)
			worst = min(worst, k)
			if k < 4.5 {
				t.Errorf("role %d: %s on %s is %.2f:1", r, c.fg, bg, k)
			}
		}
	}
	t.Logf("lowest contrast %.2f:1", worst)
}

// colourVision are the simulations of Machado, Oliveira and Fernandes 2009, severity 1.0
// (matrices from memory; each row sums to 1).
var colourVision = map[string][3][3]float64{
	"normal":       {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

// seenAs is a colour as a kind of colour vision sees it.
func seenAs(hex, kind string) colorful.Color {
	c, err := colorful.Hex(hex)
	if err != nil {
		panic(err)
	}
	m := colourVision[kind]
	r, g, b := c.LinearRgb()
	return colorful.LinearRgb(m[0][0]*r+m[0][1]*g+m[0][2]*b, m[1][0]*r+m[1][1]*g+m[1][2]*b, m[2][0]*r+m[2][1]*g+m[2][2]*b).Clamped()
}

// sixteen are what terminals make of the 16 ANSI colours: xterm's defaults, the VGA palette
// that the Linux console has, and the Windows console's since 2017 (all from memory).
var sixteen = map[string][16]string{
	"xterm": {"#000000", "#cd0000", "#00cd00", "#cdcd00", "#0000ee", "#cd00cd", "#00cdcd", "#e5e5e5",
		"#7f7f7f", "#ff0000", "#00ff00", "#ffff00", "#5c5cff", "#ff00ff", "#00ffff", "#ffffff"},
	"vga": {"#000000", "#aa0000", "#00aa00", "#aa5500", "#0000aa", "#aa00aa", "#00aaaa", "#aaaaaa",
		"#555555", "#ff5555", "#55ff55", "#ffff55", "#5555ff", "#ff55ff", "#55ffff", "#ffffff"},
	"windows": {"#0c0c0c", "#c50f1f", "#13a10e", "#c19c00", "#0037da", "#881798", "#3a96dd", "#cccccc",
		"#767676", "#e74856", "#16c60c", "#f9f1a5", "#3b78ff", "#b4009e", "#61d6d6", "#f2f2f2"},
}

// depths are a tone's colour in each depth and background, as hex.
func depths(tn tone) map[string]string {
	out := map[string]string{"full dark": tn.dark, "full light": tn.light}
	for bg, hex := range map[string]string{"dark": tn.dark, "light": tn.light} {
		out["256 "+bg] = termenv.ConvertToRGB(termenv.ANSI256.Color(hex)).Hex()
	}
	for name, p := range sixteen {
		for bg, n := range map[string]string{"dark": tn.dark16, "light": tn.light16} {
			i, _ := strconv.Atoi(n)
			out[name+" "+bg] = p[i]
		}
	}
	return out
}

// TestColourBlind: PASS, WAIVED, NOT PROVEN and FAIL lie 20 apart in CIEDE2000, where about 1 is
// just noticeable, in every depth of colour and for every kind of colour vision; so do a
// hit and a suspected one.
func TestColourBlind(t *testing.T) {
	for name, m := range colourVision {
		for _, row := range m {
			if s := row[0] + row[1] + row[2]; math.Abs(s-1) > 2e-6 {
				t.Fatalf("%s: a row sums to %v", name, s)
			}
		}
	}
	names := map[Role]string{Pass: "PASS", Fail: "FAIL", NotProven: "NOT PROVEN", Waived: "WAIVED", Hit: "hit", Suspect: "suspect"}
	table := map[string]float64{} // the least over colour vision
	for _, pair := range [][2]Role{{Pass, Fail}, {Pass, NotProven}, {Pass, Waived}, {Fail, NotProven}, {Fail, Waived}, {NotProven, Waived}, {Hit, Suspect}} {
		b := depths(palette[pair[1]])
		for depth, hex := range depths(palette[pair[0]]) {
			for kind := range colourVision {
				d := 100 * seenAs(hex, kind).DistanceCIEDE2000(seenAs(b[depth], kind))
				row := fmt.Sprintf("%-13s %-10s %s", depth, names[pair[0]], names[pair[1]])
				if was, ok := table[row]; !ok || d < was {
					table[row] = d
				}
				if d < 20 {
					t.Errorf("%s, %s: %s and %s differ by %.1f", depth, kind, names[pair[0]], names[pair[1]], d)
				}
			}
		}
	}
	for _, row := range slices.Sorted(maps.Keys(table)) {
		t.Logf("%s %.0f", row, table[row])
	}
}

// TestColourDistance holds the formula against two rows of the data that its authors
// published (Sharma, Wu and Dalal 2005, table 1, pairs 1 and 17; from memory).
func TestColourDistance(t *testing.T) {
	for _, c := range [][7]float64{{50, 2.6772, -79.7751, 50, 0, -82.7485, 2.0425}, {50, 2.5, 0, 50, 0, -2.5, 4.3065}} {
		a, b := colorful.Lab(c[0]/100, c[1]/100, c[2]/100), colorful.Lab(c[3]/100, c[4]/100, c[5]/100)
		if d := 100 * a.DistanceCIEDE2000(b); math.Abs(d-c[6]) > 5e-4 {
			t.Errorf("%v: %.4f", c, d)
		}
	}
}

// TestContrastInSixteenColours: no text falls below 4.5:1 on the terminal's own black or on
// white but PASS and WAIVED: no four of the sixteen lie 20 apart at that contrast. They keep
// 3.9, are bold, and have word and shape; WCAG 2.1 asks 3 of bold letters of 14 points.
func TestContrastInSixteenColours(t *testing.T) {
	for name, p := range sixteen {
		for _, bg := range []string{"dark", "light"} {
			paper := p[0]
			if bg == "light" {
				paper = "#ffffff"
			}
			for r, tn := range palette {
				n, need := map[string]string{"dark": tn.dark16, "light": tn.light16}[bg], 4.5
				if n == "" {
					continue
				}
				switch {
				case slices.Contains([]Role{Waived, Pass, WaivedBar, PassBar}, Role(r)):
					need = 3.9
				case Role(r) >= Fixture && Role(r) < KeyCap: // strokes and marks: WCAG 2.1, 1.4.11 asks 3
					need = 3
				}
				i, _ := strconv.Atoi(n)
				if k := contrast(p[i], paper); k < need {
					t.Errorf("%s %s: role %d is %.2f:1", name, bg, r, k)
				}
			}
		}
	}
}

// TestEveryVerdictReadsWithoutColour: word and shape differ for all, in plain
// ASCII, whatever the theme.
func TestEveryVerdictReadsWithoutColour(t *testing.T) {
	th := theme(Look{Colour: Off, ASCII: true})
	seen := map[string]bool{}
	for _, k := range []string{"pass", "fail", "not_proven", "void", "waived", "waiting", "current", "not_applicable"} {
		s := th.Verdict(k)
		shape, word := s[:3], strings.TrimSpace(s[3:])
		if seen[shape] || seen[word] || word == "" || th.Say(s) != s {
			t.Errorf("%s reads %q", k, s)
		}
		seen[shape], seen[word] = true, true
	}
}

func TestFailIsReversed(t *testing.T) {
	for _, l := range []Look{{Colour: Sixteen}, {Colour: Attributes}} {
		if s := theme(l).Verdict("fail"); !strings.Contains(s, ";7") && !strings.Contains(s, "[7") {
			t.Errorf("%+v: %q", l, s)
		}
	}
}

func TestThemeEscapes(t *testing.T) {
	for _, c := range []struct {
		l    Look
		none string // must not occur
	}{{Look{Colour: Off}, "\x1b"}, {Look{Colour: Attributes}, "[3"}, {Look{Colour: Sixteen}, "38;"}} {
		th := theme(c.l)
		for r := range roles {
			if s := th.Paint(r, "text"); strings.Contains(s, c.none) || Width(s) != 4 {
				t.Errorf("%+v role %d: %q", c.l, r, s)
			}
		}
	}
	for r := Role(-3); r < roles+3; r++ { // any ink is painted somehow
		_ = theme(Look{}).Paint(r, "x")
	}
}

func TestSay(t *testing.T) {
	th := theme(Look{ASCII: true})
	if got := th.Say("Ø8 ±0.02 90° µm 漢"); got != "dia 8 +/-0.02 90 deg um ?" {
		t.Errorf("got %q", got)
	}
	if got := theme(Look{}).Say("Ø8 ±0.02"); got != "Ø8 ±0.02" {
		t.Errorf("got %q", got)
	}
}

func TestMarkersDiffer(t *testing.T) {
	seen := map[rune]Role{}
	for _, r := range []Role{Hit, NextHit, Suspect, Conflict, Hole, Screw, Clamp, Bore, Feature, Pass, Fail, NotProven, Void, Waived} {
		m := Marker(r)
		if o, ok := seen[m]; ok || m > 126 {
			t.Errorf("roles %d and %d share %q", o, r, m)
		}
		seen[m] = r
	}
}

func ExampleTheme_Verdict() {
	fmt.Println(theme(Look{Colour: Off}).Verdict("not_proven"))
	// Output: <?> NOT PROVEN
}

// TestPaintIsWhatItsStyleRenders, in every look, role and shape of text.
func TestPaintIsWhatItsStyleRenders(t *testing.T) {
	for _, l := range []Look{{}, {Light: true}, {Colour: Sixteen}, {Colour: Attributes}, {Colour: Sixteen, Light: true}} {
		th := theme(l)
		for r := Text + 1; r < roles; r++ {
			for _, s := range []string{"x", "bore  12.500 mm", " ", "Ø 3 ±µm", "a\tb", "a\nb", "a\r\nb", "\x1b[1mbold\x1b[0m on"} {
				if got, want := th.Paint(r, s), th.Style(r).Render(s); got != want {
					t.Errorf("%+v role %d: %q, the style renders %q", l, r, got, want)
				}
			}
		}
	}
}
