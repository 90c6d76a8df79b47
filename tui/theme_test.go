package tui

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
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

// TestColourBlind brings the three verdicts that matter through the simulation of
// Machado, Oliveira and Fernandes 2009, severity 1.0 (matrices from memory; rows
// sum to 1), and asks for a distance that is plain to see: 15 in CIEDE2000, where
// about 1 is just noticeable.
func TestColourBlind(t *testing.T) {
	least := math.Inf(1)
	defer func() { t.Logf("least distance %.1f", least) }()
	kinds := map[string][3][3]float64{
		"normal":       {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
		"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
		"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	}
	for name, m := range kinds {
		for _, row := range m {
			if s := row[0] + row[1] + row[2]; math.Abs(s-1) > 2e-6 {
				t.Fatalf("%s: a row sums to %v", name, s)
			}
		}
		see := func(hex string) colorful.Color {
			c, _ := colorful.Hex(hex)
			r, g, b := c.LinearRgb()
			return colorful.LinearRgb(m[0][0]*r+m[0][1]*g+m[0][2]*b, m[1][0]*r+m[1][1]*g+m[1][2]*b, m[2][0]*r+m[2][1]*g+m[2][2]*b).Clamped()
		}
		for _, pair := range [][2]Role{{Pass, Fail}, {Pass, NotProven}, {Fail, NotProven}, {Hit, Suspect}} {
			a, b := palette[pair[0]], palette[pair[1]]
			for _, p := range [][2]string{{a.dark, b.dark}, {a.light, b.light}} {
				d := 100 * see(p[0]).DistanceCIEDE2000(see(p[1]))
				least = min(least, d)
				if d < 15 {

					t.Errorf("%s: roles %v, %v differ by %.1f", name, pair, p, d)
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
