package tui

import (
	"strings"

	"fliptrue/tui/canvas"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Colour says how much colour the terminal gets.
type Colour int

const (
	Full       Colour = iota // 24-bit, brought down by the renderer where the terminal has 256
	Sixteen                  // the 16 ANSI colours: Linux console, old terminals
	Attributes               // no colour, but bold, reverse and underline: NO_COLOR
	Off                      // no escape at all
)

// Look is what a Theme is made from: plain facts.
type Look struct {
	Light  bool   // a light background
	Colour Colour // how much colour
	ASCII  bool   // no character outside ASCII

	NoBraille bool // pictures are drawn with ASCII strokes, words as ever
}

// strokes says that pictures are drawn with ASCII strokes.
func (l Look) strokes() bool { return l.ASCII || l.NoBraille }

// Role is what a piece of text or a stroke is. It is also the Ink of a picture.
type Role = canvas.Ink

const (
	Text Role = iota
	Title
	Dim // needed less often, never less legible than 4.5:1
	Act
	Caution
	Banner // a standing warning
	Figure
	KeyName
	Predicted
	Typed
	Pass
	Fail
	NotProven
	Void
	Waived
	Waiting
	Current
	Rule
	Fixture
	Pocket
	Part
	Bore
	Edge
	Hit
	NextHit
	Suspect
	Conflict
	Hole
	Clamp
	Screw
	Feature
	Support
	Path
	Jaw
	Tap
	Later   // a reading to come
	KeyCap  // a key at the foot
	PassBar // the verdict across the page; that of a fail is Fail
	NotProvenBar
	WaivedBar
	VoidBar
	roles
)

// tone is a colour in both depths; attr the rest, that colour never replaces.
type tone struct {
	dark, light     string // 24-bit, on a dark and on a light background
	dark16, light16 string // ANSI number
	attr            attr
}

type attr int

const (
	bold attr = 1 << iota
	reverse
	underline
	strike
)

// Blue against orange, told apart by every common kind of colour vision; the
// words and shapes say the same without either. The four tones of verdicts lie 20 or more
// apart in CIEDE2000 for each of them (a test computes it); in 16 colours that leaves
// no other choice than these.
var (
	plainTone = tone{"", "", "", "", 0}
	passTone  = tone{"#a5e2ff", "#236ac3", "14", "12", 0}
	openTone  = tone{"#fff8dc", "#1b170a", "11", "0", 0}
	waiveTone = tone{"#b172ff", "#693557", "12", "8", 0}
	blue      = tone{"#7cc4ff", "#0b4f9e", "14", "4", 0}
	orange    = tone{"#ff9a2e", "#be3412", "9", "1", 0}
	sand      = tone{"#fff6d6", "#2e2a1a", "15", "0", 0}
	violet    = tone{"#d9b8ff", "#5f2f9c", "13", "5", 0}
	grey      = tone{"#b4b4b4", "#505050", "7", "0", 0}
	strong    = tone{"#ffffff", "#000000", "15", "0", bold}
)

func (t tone) with(a attr) tone { t.attr |= a; return t }

// palette is the one table of looks by role.
var palette = [roles]tone{
	Text: plainTone, Title: strong.with(reverse), Dim: grey, Act: strong, Caution: orange.with(bold), Banner: orange.with(bold | reverse),
	Figure: strong, KeyName: strong, Predicted: grey, Typed: strong.with(underline),
	Pass: passTone.with(bold), Fail: orange.with(bold | reverse), NotProven: openTone.with(bold | underline), Void: grey.with(strike),
	Waived: waiveTone.with(bold), Waiting: grey, Current: strong, Rule: grey,
	Fixture: grey, Pocket: violet, Part: strong, Bore: blue, Edge: blue, Hit: strong, NextHit: orange.with(bold), Suspect: orange.with(bold | reverse),
	Conflict: orange.with(bold | reverse), Jaw: grey.with(bold),
	Hole: sand, Clamp: orange, Screw: violet.with(bold), Feature: sand, Support: grey, Path: sand, Tap: orange.with(bold), Later: grey,
	KeyCap: grey.with(reverse), PassBar: passTone.with(bold | reverse), NotProvenBar: openTone.with(bold | reverse), WaivedBar: waiveTone.with(bold | reverse), VoidBar: grey.with(bold | reverse),
}

// pens is how strokes of a role look without colour.
var pens = map[Role]canvas.Pen{
	Fixture: {Ink: Fixture, On: 1, Off: 3}, Pocket: {Ink: Pocket, On: 2, Off: 2}, Support: {Ink: Support, On: 1, Off: 2},
	Rule: {Ink: Rule, On: 1, Off: 3}, Path: {Ink: Path, On: 3, Off: 2}, Jaw: {Ink: Jaw, On: 4, Off: 1}, Edge: {Ink: Edge, On: 6, Off: 1},
}

// Pen is the stroke of a role; solid where nothing else is said.
func Pen(r Role) canvas.Pen {
	if p, ok := pens[r]; ok {
		return p
	}
	return canvas.Pen{Ink: r}
}

// Marker is the glyph of a role's points, all of them ASCII and all different.
func Marker(r Role) rune {
	switch r {
	case Hit:
		return 'o'
	case NextHit:
		return '@'
	case Suspect:
		return 'X'
	case Conflict:
		return '%'
	case Hole:
		return 'O'
	case Screw:
		return '*'
	case Clamp:
		return '#'
	case Bore:
		return '+'
	case Feature:
		return 'F'
	case Pass:
		return '='
	case Fail:
		return '!'
	case NotProven:
		return '?'
	case Void:
		return '~'
	case Waived:
		return 'w'
	case Tap:
		return '^'
	case Path:
		return ':' // where it plunges
	}
	return '.'
}

// Theme gives text its look. It is made from one renderer and holds no global.
type Theme struct {
	Look  Look
	style *[roles]lipgloss.Style // a theme is copied often
	inks  canvas.Inks
}

// NewTheme settles the renderer's background and colour depth, so that it asks the
// terminal nothing, and makes a style for every role.
func NewTheme(r *lipgloss.Renderer, l Look) Theme {
	r.SetHasDarkBackground(!l.Light)
	switch l.Colour {
	case Off:
		r.SetColorProfile(termenv.Ascii)
	case Attributes, Sixteen:
		r.SetColorProfile(termenv.ANSI) // the plain ASCII profile would drop bold and reverse too
	default:
		if p := r.ColorProfile(); p == termenv.Ascii || p == termenv.ANSI {
			l.Colour = Sixteen
			r.SetColorProfile(termenv.ANSI)
		}
	}
	t := Theme{Look: l, style: new([roles]lipgloss.Style)}
	for i, tn := range palette {
		s := r.NewStyle()
		hex, ansi := tn.dark, tn.dark16
		if l.Light {
			hex, ansi = tn.light, tn.light16
		}
		switch {
		case l.Colour == Full && hex != "":
			s = s.Foreground(lipgloss.Color(hex))
			if tn.attr&reverse != 0 { // both colours are ours, so that the pair is known
				s = r.NewStyle().Background(lipgloss.Color(hex)).Foreground(lipgloss.Color(against(l.Light)))
			}
		case l.Colour == Sixteen && ansi != "":
			s = s.Foreground(lipgloss.Color(ansi))
		}
		if tn.attr&reverse != 0 && l.Colour != Full {
			s = s.Reverse(true)
		}
		if tn.attr&bold != 0 {
			s = s.Bold(true)
		}
		if tn.attr&underline != 0 {
			s = s.Underline(true)
		}
		if tn.attr&strike != 0 {
			s = s.Strikethrough(true)
		}
		t.style[i] = s
	}
	t.inks = canvas.Inks{Axis: Rule, Line: Edge, Data: Hit, Suspect: Suspect, Text: Dim}
	return t
}

// against is the text colour on a reversed patch.
func against(light bool) string {
	if light {
		return "#ffffff"
	}
	return "#000000"
}

// Paint gives a line of text the look of a role. A role that does not exist is
// plain text.
func (t Theme) Paint(r Role, s string) string {
	if r <= Text || r >= roles || s == "" || t.Look.Colour == Off {
		return s
	}
	return t.style[r].Render(s)
}

// Style is the look of a role, for parts that paint by themselves.
func (t Theme) Style(r Role) lipgloss.Style {
	if t.Look.Colour == Off {
		return lipgloss.Style{}
	}
	return t.style[r]
}

// Inks are the inks of the plots.
func (t Theme) Inks() canvas.Inks { return t.inks }

// Verdict is one verdict as shape and word, with its role. The key is the word of
// the record and of --json; an unknown one is shown as it is.
func Verdict(key string) (text string, r Role) {
	switch key {
	case "pass":
		return "(=) PASS", Pass
	case "fail":
		return "[!] FAIL", Fail
	case "not_proven":
		return "<?> NOT PROVEN", NotProven
	case "void":
		return "-/- VOID", Void
	case "waived":
		return "{w} WAIVED", Waived
	case "waiting":
		return " .  waiting", Waiting
	case "current":
		return " >  now", Current
	case "not_applicable":
		return " -  not applicable", Waiting
	}
	return key, Text
}

// Verdict paints a verdict: shape, word and colour.
func (t Theme) Verdict(key string) string {
	s, r := Verdict(key)
	return t.Paint(r, s)
}

var plainly = strings.NewReplacer("Ø", "dia ", "±", "+/-", "°", " deg", "µ", "u", "·", "|", "→", "->", "←", "<-", "↑", "^", "↓", "v",
	"│", "|", "─", "-", "═", "=", "…", "...", "≤", "<=", "≥", ">=", "×", "x", "²", "2", "−", "-", "–", "-", "—", "-", "✗", "x", "Δ", "d")

// Say brings text to the characters the terminal has: with ASCII set, dia for Ø,
// +/- for ±, deg for °; what has no such word becomes a question mark. Use it before text is
// measured.
func (t Theme) Say(s string) string {
	if !t.Look.ASCII {
		return s
	}
	s = plainly.Replace(s)
	return strings.Map(func(r rune) rune {
		if r > 126 {
			return '?'
		}
		return r
	}, s)
}
