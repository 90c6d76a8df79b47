package tui

import (
	"fliptrue/tui/canvas"
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
	Fixture: grey, Pocket: violet, Part: strong, Bore: blue, Edge: blue, Hit: strong, NextHit: orange.with(bold),
	Suspect:  orange.with(bold | reverse),
	Conflict: orange.with(bold | reverse), Jaw: grey.with(bold),
	Hole: sand, Clamp: orange, Screw: violet.with(bold), Feature: sand, Support: grey, Path: sand, Tap: orange.with(bold), Later: grey,
	Push: orange.with(bold), Sweep: blue, Move: orange.with(bold), Bound: grey,
	KeyCap: grey.with(reverse), PassBar: passTone.with(bold | reverse), NotProvenBar: openTone.with(bold | reverse), WaivedBar: waiveTone.with(
		bold | reverse), VoidBar: grey.with(bold | reverse),
}

// pens is how strokes of a role look without colour.
var pens = map[Role]canvas.Pen{
	Fixture: {Ink: Fixture, On: 1, Off: 1}, Pocket: {Ink: Pocket, On: 4, Off: 2}, Support: {Ink: Support, On: 1, Off: 2},
	Rule: {Ink: Rule, On: 1, Off: 3}, Path: {Ink: Path, On: 3, Off: 2}, Jaw: {Ink: Jaw, On: 4, Off: 1}, Edge: {Ink: Edge, On: 6, Off: 1}, Bound: {Ink: Bound, On: 1, Off: 2}, Sweep: {Ink: Sweep, On: 2, Off: 1},
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
	case Tap, Push, Move:
		return '^'
	case Path:
		return ':' // where it plunges
	}
	return '.'
}
