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
	Push    // where the hand pushes
	Sweep   // the way of a stylus about the spindle
	Move    // how far a place moved
	Bound   // what it is held against
	KeyCap  // a key at the foot
	PassBar // the verdict across the page; that of a fail is Fail
	NotProvenBar
	WaivedBar
	VoidBar
	roles
)

// Theme gives text its look. It is made from one renderer and holds no global.
type Theme struct {
	Look  Look
	style *[roles]lipgloss.Style // a theme is copied often
	marks *[roles]inkMarks
	inks  canvas.Inks
}

// inkMarks are what a style puts before and after a line without tabs; once is false where it does more.
type inkMarks struct {
	before, after string
	once          bool
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
	t := Theme{Look: l, style: new([roles]lipgloss.Style), marks: new([roles]inkMarks)}
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
		a := &t.marks[i]
		a.before, a.after, a.once = strings.Cut(s.Render("x y"), "x y")
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
	if a := &t.marks[r]; a.once && !strings.ContainsAny(s, "\t\r\n") { // what Render gives, many times as fast
		return a.before + s + a.after
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
